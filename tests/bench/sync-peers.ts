import type { create, Message } from 'timesync';
import type { Surroundings, TriedClock } from '../faults/profile-run.ts';

/** Other ways for a page to know the server's clock, with as many messages as ours. */

type Create = typeof create;

const EVERY_MS = 2000;
const WITHIN_MS = 3000;

/** The server sends its time and the page takes it as it comes. */
export function plainClock({ time, device, pool, link }: Surroundings): TriedClock {
  const wire = link<never, number>();
  let offsetMs = 0;
  let callOff = (): void => {};
  wire.back.onArrival((poolMs) => {
    offsetMs = poolMs - device.pageNow();
  });
  const send = (): void => {
    wire.back.send(pool.now());
    callOff = time.later(EVERY_MS, send);
  };
  return {
    connect: () => {
      wire.mend();
      send();
    },
    disconnect: () => {
      wire.cut();
      callOff();
    },
    errorMs: () => device.pageNow() + offsetMs - pool.now(),
  };
}

/** timesync takes its timers from the globals; these are those of the simulated device, until the next clock is made. */
function standInForTimers({ device }: Surroundings): void {
  const setTimeout = (call: () => void, delayMs: number): void => void device.later(delayMs, call);
  const setInterval = (call: () => void, everyMs: number): void =>
    setTimeout(() => {
      call();
      setInterval(call, everyMs);
    }, everyMs);
  Object.assign(globalThis, { setTimeout, setInterval });
}

/** Five exchanges two seconds apart, every ten seconds. */
const TIMESYNC = { peers: 'server', interval: 5 * EVERY_MS, delay: EVERY_MS, repeat: 5, timeout: WITHIN_MS };

/**
 * The clock of the package timesync, on a transport and a page clock of ours.
 * Replaces the process's timers: for a process that does nothing else.
 */
export function timesyncClock(create: Create, surroundings: Surroundings): TriedClock {
  standInForTimers(surroundings);
  const { device, pool, link } = surroundings;
  const wire = link<Message, Message>();
  const answered = new Map<number, () => void>();
  const sync = create({ ...TIMESYNC, now: () => device.pageNow() });
  sync.send = (_to, message, timeoutMs) =>
    new Promise((resolve, reject) => {
      const callOff = device.later(timeoutMs, () => {
        answered.delete(message.id);
        reject(new Error('no answer'));
      });
      answered.set(message.id, () => {
        callOff();
        resolve();
      });
      wire.there.send(message);
    });
  wire.there.onArrival(({ id }) => wire.back.send({ id, result: pool.now() }));
  wire.back.onArrival((message) => {
    answered.get(message.id)?.();
    if (answered.delete(message.id)) sync.receive('server', message);
  });
  let wasCut = false;
  return {
    connect: () => {
      wire.mend();
      if (wasCut) void sync.sync();
    },
    disconnect: () => {
      wire.cut();
      wasCut = true;
    },
    errorMs: () => sync.now() - pool.now(),
  };
}

import { openLink } from '../../client/common/link.ts';
import type { LinkParts } from '../../client/common/link-parts.ts';
import type { Link } from '../../client/common/live.ts';
import type { CommandId, DeviceId } from '../../shared-types/brand.ts';
import type { Role } from '../../shared-types/wire/protocol.ts';
import type { KeptStorage } from './kept-storage.ts';
import { silenceMs } from './simulated-connection.ts';
import type { SimulatedDevice } from './simulated-device.ts';
import type { SimulatedNetwork } from './simulated-network.ts';
import type { SimulatedServer } from './simulated-server.ts';
import { SimulatedSocket } from './simulated-socket.ts';

/** A link gives an HTTP question up after so long, as link-parts.ts has it, ms. */
const FETCH_WITHIN_MS = 10_000;
/** Nobody answers at the address, or somebody else does: that takes so long at most, ms. */
const FAILS_WITHIN_MS = 2000;

/** What a page asked on its socket, and what it was answered; null when it heard nothing. */
export type OnAnswer = (event: string, payload: unknown, answer: unknown) => void;

export interface ScreenParts {
  readonly role: Role;
  readonly id: DeviceId;
  readonly device: SimulatedDevice;
  readonly network: SimulatedNetwork;
  readonly server: SimulatedServer;
  readonly storage: KeptStorage;
  newCommandId(): CommandId;
  readonly onAnswer: OnAnswer;
}

/** A page with its real link, until it is closed. */
export class SimulatedPage {
  readonly link: Link;
  readonly #parts: ScreenParts;
  readonly #socket: SimulatedSocket;
  #isOpen = true;

  constructor(parts: ScreenParts) {
    this.#parts = parts;
    const { role, id, device, network, server, storage, newCommandId } = parts;
    const ofPage = {
      later: (delayMs: number, call: () => void) => device.later(delayMs, this.#whileOpen(call)),
      whenAwake: (call: () => void) => device.whenAwake(this.#whileOpen(call)),
    };
    this.#socket = new SimulatedSocket(ofPage, network, server);
    const given: LinkParts = {
      device: id,
      timezone: 'UTC',
      socket: this.#recorded(),
      newCommandId,
      marksKeptIn: storage,
      pageNow: () => device.pageNow(),
      wallNow: () => device.wallNow(),
      later: ofPage.later,
      fetchJson: (path) => this.#fetch(path, ofPage),
    };
    this.link = openLink({ role, parts: given });
  }

  /** The pool's instant as this page would date a press now. */
  pressedAt() {
    return this.link.clock.at(this.#parts.device.pageNow());
  }

  close(): void {
    this.#isOpen = false;
    this.#socket.abandon();
  }

  breaks(): void {
    this.#socket.breaks();
  }

  #whileOpen(call: () => void): () => void {
    return () => {
      if (this.#isOpen) call();
    };
  }

  #recorded(): LinkParts['socket'] {
    const socket = this.#socket;
    return {
      open: () => socket.open(),
      close: () => socket.close(),
      onOpen: (heard) => socket.onOpen(heard),
      onLost: (heard) => socket.onLost(heard),
      on: (event, heard) => socket.on(event, heard),
      ask: async (event, payload, withinMs) => {
        const answer = socket.ask(event, payload, withinMs);
        if (event === 'command' || event === 'mark') {
          this.#parts.onAnswer(event, payload, await answer.catch(() => null));
        }
        return answer;
      },
    };
  }

  #fetch(path: string, { later, whenAwake }: Pick<SimulatedDevice, 'later' | 'whenAwake'>): Promise<unknown> {
    const { network, server } = this.#parts;
    const { time } = network;
    return new Promise((resolve, reject) => {
      const fail = (): void => {
        callOff();
        reject(new Error(`no answer to ${path}`));
      };
      const callOff = later(FETCH_WITHIN_MS, fail);
      const failSoon = (): void => void time.later(network.upTo(FAILS_WITHIN_MS), () => whenAwake(fail));
      // What is on its way while the line is down hangs until it is given up.
      time.later(network.delayMs(), () => {
        if (network.state !== 'up') return;
        if (!server.isUp || network.random() < network.traits.failingShare) return failSoon();
        const answer = server.get(path);
        time.later(network.delayMs(), () => {
          if (network.state !== 'up') return;
          whenAwake(() => {
            callOff();
            resolve(answer);
          });
        });
      });
    });
  }
}

/** A screen by the pool: a device, its network, and the page that is open on it. */
export class SimulatedScreen {
  readonly parts: ScreenParts;
  #page: SimulatedPage;
  #isAsleep = false;

  constructor(parts: ScreenParts) {
    this.parts = parts;
    this.#page = new SimulatedPage(parts);
  }

  get role(): Role {
    return this.parts.role;
  }

  get network(): SimulatedNetwork {
    return this.parts.network;
  }

  get page(): SimulatedPage {
    return this.#page;
  }

  get link(): Link {
    return this.#page.link;
  }

  get isAsleep(): boolean {
    return this.#isAsleep;
  }

  reload(): void {
    this.#page.close();
    this.#page = new SimulatedPage(this.parts);
  }

  /** @param monotonicStands whether the device's monotonic clock stands still meanwhile */
  sleep(monotonicStands: boolean): void {
    const { device, network } = this.parts;
    const page = this.#page;
    this.#isAsleep = true;
    device.sleep(monotonicStands);
    // Its answers to the server's pings stay away.
    network.time.later(silenceMs(network), () => {
      if (this.#isAsleep && page === this.#page) page.breaks();
    });
  }

  wake(): void {
    if (!this.#isAsleep) return;
    this.#isAsleep = false;
    this.parts.device.wake();
  }
}

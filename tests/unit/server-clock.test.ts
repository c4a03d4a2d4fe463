import { expect, test } from 'vitest';
import { poolClock } from '../../server/clock.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, withRun } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

test("the pool's clock does not move when the machine's clock is set", () => {
  const machine = new HandMachineClock({ wallMs: 1_000_000 });
  const clock = poolClock(machine, null);
  machine.pass(250);
  machine.step(-3_600_000);
  machine.pass(250);
  expect(clock.now()).toBe(1_000_500);
});

test('a server started again in the same boot counts on from the anchor of the practice under way', () => {
  const machine = new HandMachineClock({ wallMs: 1_000_000 });
  const { anchor } = poolClock(machine, null);
  machine.step(90_000);
  machine.pass(4_000);
  expect(poolClock(machine, anchor).now()).toBe(1_004_000);
});

test('after a boot the machine is asked for the time anew', () => {
  const { anchor } = poolClock(new HandMachineClock({ boot: 'before' }), null);
  const machine = new HandMachineClock({ boot: 'after', wallMs: 2_000_000, monotonicMs: 3 });
  expect(poolClock(machine, anchor).now()).toBe(2_000_000);
});

test('where the machine does not say when it booted, every start asks anew', () => {
  const { anchor } = poolClock(new HandMachineClock({ boot: null }), null);
  expect(poolClock(new HandMachineClock({ boot: null, wallMs: 2_000_000 }), anchor).now()).toBe(2_000_000);
});

test('[FLT2] pages are told when the clock is taken anew, and not when a practice under way goes on with it', async () => {
  const machine = new HandMachineClock();
  const folder = temporaryFolder();
  const next = async (): Promise<RunningServer> => {
    const server = await runServer({ folder, machine });
    machine.pass(1000);
    return server;
  };
  const bootOf = async (server: RunningServer): Promise<string> => {
    const hello = await server.screen('wall').hello();
    return hello.ok ? hello.boot : hello.message;
  };
  const first = await next();
  const run = await withRun(first);
  const ready = await bootOf(first);
  await first.farwall.close();

  const second = await next();
  const taken = await bootOf(second);
  expect(taken).not.toBe(ready);
  const deck = second.screen('deck');
  await deck.hello();
  await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, run, second.farwall.clock.now()));
  await second.farwall.close();
  expect(await bootOf(await next())).toBe(taken);
});

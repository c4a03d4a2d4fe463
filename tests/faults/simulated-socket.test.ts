import { expect, test } from 'vitest';
import { syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { countedIds, threeLanes } from '../fixtures/planning.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';
import { SimulatedDevice } from './simulated-device.ts';
import { SimulatedNetwork } from './simulated-network.ts';
import { SimulatedServer } from './simulated-server.ts';
import { SimulatedSocket } from './simulated-socket.ts';
import { SimulatedTime } from './simulated-time.ts';

/** A page's socket to a server 5 ms away, opened, and what became of it. */
async function opened() {
  const time = new SimulatedTime();
  const server = new SimulatedServer(time.machine, temporaryFolder(), countedIds());
  const network = new SimulatedNetwork(time, { delayMs: 5, jitterMs: 0, failingShare: 0 }, () => 0.9);
  const socket = new SimulatedSocket(new SimulatedDevice(time), network, server);
  const happened: string[] = [];
  socket.onOpen(() => void happened.push('open'));
  socket.onLost(() => void happened.push('lost'));
  socket.open();
  await time.pass(20);
  const ask = (): Promise<unknown> => {
    const answer = socket.ask('sync', { askedAt: 0 }, 3000);
    answer.catch(() => happened.push('no answer'));
    return answer;
  };
  return { time, server, network, socket, happened, ask };
}

test('a question is answered a way there and back later', async () => {
  const { time, server, happened, ask } = await opened();
  const askedAt = server.clock.now();
  const answer = ask();
  await time.pass(10);
  expect(syncAnswerSchema.parse(await answer).receivedAt).toBeCloseTo(askedAt + 5, 2);
  expect(happened).toEqual(['open']);
});

test('a cut takes the answer, the page notices within 7 s and comes back by itself', async () => {
  const { time, network, happened, ask } = await opened();
  void ask().catch(() => undefined);
  await time.pass(7);
  network.cut();
  network.mend();
  await time.pass(2000);
  expect(happened).toEqual(['open']);
  await time.pass(8000);
  expect(happened).toEqual(['open', 'no answer', 'lost', 'open']);
});

test('what stalls for less than 4 s is late, and nothing is lost', async () => {
  const { time, network, happened, ask } = await opened();
  const answer = ask();
  network.stall();
  await time.pass(2500);
  network.mend();
  await time.pass(10);
  expect(syncAnswerSchema.safeParse(await answer).success).toBe(true);
  expect(happened).toEqual(['open']);
});

test('closed it says so, fails what was asked, and stays closed', async () => {
  const { time, socket, happened, ask } = await opened();
  void ask().catch(() => undefined);
  socket.close();
  await time.pass(20_000);
  expect(happened).toEqual(['open', 'lost', 'no answer']);
});

test('a killed server refuses until it is started again, with what was on its disk', async () => {
  const { time, server, happened, ask } = await opened();
  const run = server.putOnWall('A practice', 'Main set\n4 x 50 free @ 1:00\n', threeLanes);
  server.kill();
  await time.pass(10_000);
  expect(happened.slice(0, 2)).toEqual(['open', 'lost']);
  server.start();
  await time.pass(10_000);
  expect(happened.at(-1)).toBe('open');
  const answer = ask();
  await time.pass(10);
  expect(syncAnswerSchema.safeParse(await answer).success).toBe(true);
  expect(server.keeper.run?.id).toBe(run);
});

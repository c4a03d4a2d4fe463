import { expect, test } from 'vitest';
import { FrameLoop } from '../../client/wall/frame-loop.ts';
import { SimulatedTime } from '../faults/simulated-time.ts';

/** When a wall asks for its frames, on a screen that shows one every 10 ms. */

const REFRESH_MS = 10;

/** The times of a wall's frames that changes at these moments, and takes so long to draw what has changed. */
async function framesOf(changesMs: readonly number[], drawingMs: number, untilMs: number): Promise<number[]> {
  const time = new SimulatedTime();
  const openedMs = time.nowMs;
  const frames: number[] = [];
  const now = (): number => time.nowMs - openedMs;
  const loop = new FrameLoop(
    (frameMs) => {
      const before = frames.at(-1) ?? Number.NEGATIVE_INFINITY;
      frames.push(frameMs);
      if (changesMs.some((at) => at > before && at <= frameMs)) time.machine.pass(drawingMs);
      return Math.min(...changesMs.map((at) => at - frameMs).filter((inMs) => inMs > 0), 100_000);
    },
    {
      now,
      requestFrame: (callback) => {
        const next = (Math.floor(now() / REFRESH_MS) + 1) * REFRESH_MS;
        time.later(next - now(), () => callback(next));
      },
      later: (delayMs, call) => time.later(delayMs, call),
    },
  );
  loop.wake();
  await time.pass(untilMs);
  return frames;
}

test('a wall draws in the first frame after a change, and sleeps between', async () => {
  const frames = await framesOf([500, 815], 0, 2000);
  for (const first of [500, 820]) expect(frames).toContain(first);
  expect(frames.length).toBeLessThan(8);
});

test('what a picture takes to be drawn does not make the next one late', async () => {
  const frames = await framesOf([500, 530], 25, 2000);
  for (const first of [500, 530]) expect(frames).toContain(first);
});

import { describe, expect, it } from 'vitest';
import { openLink } from '../../client/common/link.ts';
import type { Link } from '../../client/common/live.ts';
import { LinkWorld } from './link-world.ts';

const LOOK_EVERY_MS = 100;

/** Answers about the pool's clock that all took so long to be asked for, and no time to come back. */
const askedSlowly = (world: LinkWorld, delayMs: number) => () =>
  new Promise((resolve) => {
    world.parts.later(delayMs, () => resolve({ receivedAt: world.poolMs, answeredAt: world.poolMs }));
  });

/** By how much the shown clock went off its steady pace, look by look, ms. */
async function offPace(world: LinkWorld, link: Link, forMs: number): Promise<number[]> {
  const off: number[] = [];
  for (let passedMs = 0; passedMs < forMs; passedMs += LOOK_EVERY_MS) {
    const before = link.clock.now();
    await world.pass(LOOK_EVERY_MS);
    off.push(link.clock.now() - before - LOOK_EVERY_MS);
  }
  return off;
}

/** A page that has been in step for ten seconds, then half a minute without its server. */
async function aloneFor30Seconds(): Promise<{ world: LinkWorld; link: Link }> {
  const world = new LinkWorld();
  const link = openLink({ role: 'deck', parts: world.parts });
  await world.pass(10_000);
  world.lose();
  await world.pass(30_000);
  return { world, link };
}

describe('a page whose server has started again', () => {
  it('[FLT2] shows no jump when the clock went on, though the first answers are slow: what it knew still holds', async () => {
    const { world, link } = await aloneFor30Seconds();
    world.answers.set('sync', askedSlowly(world, 80));
    world.connect();
    const off = await offPace(world, link, 5000);
    // Nor is it slewed: 80 ms each way leave far more open than 30 s at 50 ppm.
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(1e-3);
    expect(Math.abs(link.clock.now() - world.poolMs)).toBeLessThan(1);
    expect(link.state.value).toBe('live');
  });

  it('[SYN3] forgets what it knew of a clock that was taken anew, though nothing contradicts it', async () => {
    const { world, link } = await aloneFor30Seconds();
    world.poolAheadMs -= 30;
    world.answers.set('hello', () => ({ ...world.helloAnswer(0), boot: 'second' }));
    // Each answer leaves 80 ms open, so that none contradicts what was known.
    world.answers.set('sync', askedSlowly(world, 80));
    world.connect();
    for (let times = 0; times < 50; times += 1) {
      await world.pass(LOOK_EVERY_MS);
      const error = Math.abs(link.clock.at(world.pageMs) - world.poolMs);
      expect(error).toBeLessThanOrEqual(link.clock.boundMs() ?? Number.POSITIVE_INFINITY);
    }
    expect(link.clock.boundMs()).toBeLessThan(50);
  });

  it.each([3000, -3000])('[SYN3] follows a clock taken anew that is %i ms off', async (stepMs) => {
    const { world, link } = await aloneFor30Seconds();
    const shownBefore = link.clock.now();
    world.poolAheadMs += stepMs;
    world.answers.set('hello', () => ({ ...world.helloAnswer(0), boot: 'second' }));
    world.answers.set('sync', askedSlowly(world, 8));
    world.connect();
    await world.pass(1000);
    const error = link.clock.at(world.pageMs) - world.poolMs;
    expect(Math.abs(error)).toBeLessThanOrEqual(link.clock.boundMs() ?? 0);
    expect(link.clock.now()).toBeGreaterThanOrEqual(shownBefore);
    await world.pass(3000);
    expect(Math.abs(link.clock.now() - world.poolMs)).toBeLessThan(5);
  });
});

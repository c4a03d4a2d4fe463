import { expect, test } from 'vitest';
import { ContextLosses } from '../../client/wall/context-loss.ts';
import { onCanvas } from '../../client/wall/renderer-choice.ts';
import { SimulatedTime } from '../faults/simulated-time.ts';

/** A wall's graphics context is lost and restored, in time moved by hand. */

/** A page that notes when it would be loaded again, and a server that answers or does not. */
class LosingPage {
  readonly time = new SimulatedTime();
  readonly losses: ContextLosses;
  /** Seconds since it was opened. */
  readonly startedAgainAt: number[] = [];
  serverAnswers = true;
  questions = 0;
  readonly #openedMs = this.time.nowMs;

  constructor() {
    this.losses = new ContextLosses({
      now: () => this.time.nowMs,
      later: (delayMs, call) => this.time.later(delayMs, call),
      serverAnswers: async () => {
        this.questions += 1;
        return this.serverAnswers;
      },
      startAgain: () => void this.startedAgainAt.push((this.time.nowMs - this.#openedMs) / 1000),
    });
  }

  pass(seconds: number): Promise<void> {
    return this.time.pass(seconds * 1000);
  }

  /** Lost, and restored after so many seconds. */
  async losesFor(seconds: number): Promise<void> {
    this.losses.lost();
    await this.pass(seconds);
    this.losses.restored();
  }
}

test('a context that is lost once and restored needs nothing', async () => {
  const page = new LosingPage();
  await page.losesFor(4.9);
  await page.pass(3600);
  expect(page.startedAgainAt).toEqual([]);
  expect(page.questions).toBe(0);
});

test('lost a second time within ten minutes, the page is loaded again at once', async () => {
  const page = new LosingPage();
  await page.losesFor(1);
  await page.pass(598);
  await page.losesFor(0.5);
  expect(page.startedAgainAt).toEqual([599]);
});

test('losses ten minutes apart are borne, however many', async () => {
  const page = new LosingPage();
  for (let loss = 0; loss < 20; loss += 1) {
    await page.losesFor(1);
    await page.pass(599);
  }
  expect(page.startedAgainAt).toEqual([]);
});

test('a context that has not come back in five seconds: the page is loaded again', async () => {
  const page = new LosingPage();
  page.losses.lost();
  await page.pass(4.9);
  expect(page.startedAgainAt).toEqual([]);
  await page.pass(0.2);
  expect(page.startedAgainAt).toEqual([5]);
});

test('while the server does not answer the wall goes on, and is loaded again once it does', async () => {
  const page = new LosingPage();
  page.serverAnswers = false;
  await page.losesFor(1);
  await page.losesFor(1);
  await page.pass(120);
  expect(page.startedAgainAt).toEqual([]);
  page.serverAnswers = true;
  await page.pass(5);
  expect(page.startedAgainAt).toHaveLength(1);
});

test('a context that comes back after all, before the server does, is drawn on', async () => {
  const page = new LosingPage();
  page.serverAnswers = false;
  await page.losesFor(30);
  const asked = page.questions;
  page.serverAnswers = true;
  await page.pass(3600);
  expect(page.startedAgainAt).toEqual([]);
  expect(page.questions).toBe(asked);
});

test('a second loss while the server is still being asked about the first loads the page once', async () => {
  const page = new LosingPage();
  page.serverAnswers = false;
  await page.losesFor(7);
  await page.losesFor(1);
  page.serverAnswers = true;
  await page.pass(60);
  expect(page.startedAgainAt).toHaveLength(1);
});

test('the page that is loaded again has no context to lose, and is otherwise the same', () => {
  expect(onCanvas('http://pool.test:4050/wall')).toBe('http://pool.test:4050/wall?renderer=canvas');
  expect(onCanvas('http://pool.test:4050/wall?renderer=webgl&diagonal=55&distance=8')).toBe(
    'http://pool.test:4050/wall?renderer=canvas&diagonal=55&distance=8',
  );
});

import { expect, test } from 'vitest';
import { useChromium } from './chrome.ts';
import { HeardWall } from './heard-sound.ts';
import { OtherDeck, PoolProcess } from './pool-process.ts';
import { originOf } from './true-time.ts';

/** The sound of real walls on plain http: what they hand to the browser, and for when. */

const browser = useChromium('--autoplay-policy=document-user-activation-required');
const kiosk = useChromium('--autoplay-policy=no-user-gesture-required');

const EVERY_MS = 8000;
const PRACTICE = 'Main set: aerobic\n20 x 25 free @ :08\n';
/** A start on the next :05 leaves 3 s at least. Pressed just then, its first tone could not be handed over in time. */
const leavesTime = (): boolean => Math.abs((Date.now() % 5000) - 2000) > 500;
/** Besides the bound of the clock's error. */
const WITHIN_MS = 5;
const SOON = { timeout: 15_000, interval: 50 };

test('[FLT2] tones wait for one press, are set for the true send-offs, taken back on a hold, and go on without the server', async () => {
  const pool = await PoolProcess.withPractice(PRACTICE);
  const coach = new OtherDeck(pool);
  const address = `http://pool.test:${pool.port}/wall`;
  const [silent, free, wall] = await Promise.all([
    HeardWall.on(browser(), address),
    HeardWall.on(kiosk(), `${address}?sound=on`),
    HeardWall.on(browser(), `${address}?sound=on`, { hasTouch: true }),
  ]);
  await expect.poll(() => [wall.asksForPress, free.state], SOON).toEqual([true, 'running']);
  expect([free.opened, free.asksForPress]).toEqual([1, false]);
  await free.page.close();
  expect(wall.state).toBe('suspended');
  await wall.page.touchscreen.tap(320, 180);
  await expect.poll(() => [wall.state, wall.asksForPress], SOON).toEqual(['running', false]);

  const bounds = [await wall.boundMs()];
  await expect.poll(leavesTime, SOON).toBe(true);
  await coach.press({ kind: 'start', when: 'grid' });
  const [first] = (await pool.live()).run.motions;
  // After the four of its first send-off: then one of the next has been handed over.
  await expect.poll(() => wall.tones.length, SOON).toBeGreaterThan(4);
  await coach.press({ kind: 'hold' });
  await expect.poll(() => wall.tones.length, SOON).toBe(4);
  expect(wall.takenBack).toBeGreaterThan(0);

  await coach.press({ kind: 'resume', when: 'now' });
  const [second] = (await pool.live()).run.motions;
  bounds.push(await wall.boundMs());
  await pool.kill();
  await expect.poll(() => wall.tones.length, SOON).toBe(8);
  expect(await wall.page.getAttribute('[data-board]', 'data-link')).toBe('alone');

  const origin = await originOf(wall.page);
  const truth = pool.clockOnDisk();
  const set = wall.tones.map(({ kind, heardAt }) => ({ kind, at: truth.at(heardAt + origin.ms) }));
  const sendOffs = [first?.at ?? Number.NaN, (second?.at ?? Number.NaN) + EVERY_MS - (second?.position ?? Number.NaN)];
  const meant = sendOffs.flatMap((at) => [at - 3000, at - 2000, at - 1000, at]);
  expect(set.map(({ kind }) => kind)).toEqual(sendOffs.flatMap(() => ['short', 'short', 'short', 'long']));
  const misses = set.map(({ at }, place) => at - (meant[place] ?? Number.NaN));
  const allowedMs = Math.max(...bounds) + origin.doubtMs + WITHIN_MS;
  expect(misses.filter((miss) => !(Math.abs(miss) <= allowedMs))).toEqual([]);

  await silent.page.mouse.click(320, 180);
  await silent.page.waitForSelector('[data-board][data-phase="running"]', { state: 'attached' });
  expect([silent.opened, silent.asksForPress]).toEqual([0, false]);
});

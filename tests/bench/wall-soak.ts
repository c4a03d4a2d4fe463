import type { Browser } from 'playwright-core';
import { TOP } from '../fixtures/coach.ts';
import { type InspectedPage, metricOf, type Size, withPage } from './bench-browser.ts';
import { bundlePage } from './bundle-page.ts';
import { putProbe, readProbe, resetProbe } from './page-probe.ts';
import { SAMPLES, type Sample } from './soak-growth.ts';
import { SoakPractices, TURN_SECONDS, TURNS_OF_ALL } from './soak-practices.ts';
import { withWallPool } from './wall-pool.ts';

/** A wall that goes on for long, and what it holds meanwhile. */

export type Renderer = 'webgl' | 'canvas';

/** Small: the processor draws. What is laid out is the same. */
const SCREEN: Size = { width: 640, height: 360 };

const FRAMES_A_SECOND = 10;
const FRAMES_A_TURN = TURN_SECONDS * FRAMES_A_SECOND;
/** Everything once, and then a turn for each sample. */
export const LEAST_FRAMES = (TURNS_OF_ALL + SAMPLES) * FRAMES_A_TURN;

/** Is given every sample as soon as it is there. */
type Told = (sample: Sample) => void;

async function sampleOf(inspected: InspectedPage, atMs: number): Promise<Sample> {
  const { page, devtools } = inspected;
  const { draws, textures } = await readProbe(page);
  // The probe's own notes are not the wall's.
  await resetProbe(page);
  // Twice: what finalizers let go of is garbage only then.
  for (const _ of [1, 2]) await devtools.send('HeapProfiler.collectGarbage');
  const { nodes, jsEventListeners: listeners } = await devtools.send('Memory.getDOMCounters');
  const heapBytes = await metricOf(inspected, 'JSHeapUsedSize');
  return { atMs, draws, heapBytes, textures, nodes, listeners };
}

const SITE = 'http://soak.test';
const HTML = '<!doctype html><div id="page"></div><script type="module" src="/soak.js"></script>';

/**
 * The real wall in time moved by hand, ten frames a second of it.
 * @param frames at least {@link LEAST_FRAMES}
 */
export async function soakFrames(
  browser: Browser,
  renderer: Renderer,
  { frames, seed }: { readonly frames: number; readonly seed: number },
  told: Told,
): Promise<void> {
  const script = await bundlePage('soak-wall');
  const practices = new SoakPractices(seed);
  await withPage(browser, SCREEN, async (inspected) => {
    const { page } = inspected;
    await putProbe(page);
    await page.route(`${SITE}/**`, (route) => route.fulfill({ contentType: 'text/html', body: HTML }));
    await page.route(`${SITE}/soak.js`, (route) => route.fulfill({ contentType: 'text/javascript', body: script }));
    await page.goto(`${SITE}/?renderer=${renderer}&from=${TOP}`);
    await page.waitForSelector(`[data-renderer="${renderer}"]`, { state: 'attached' });
    const turns = Math.ceil(frames / FRAMES_A_TURN);
    // Until everything has been shown once, more is held because more is there.
    const turnsASample = (turns - TURNS_OF_ALL) / SAMPLES;
    let samples = 0;
    for (let turn = 1; turn <= turns; turn += 1) {
      await page.evaluate(`farwallSoak.show(${JSON.stringify(practices.next())})`);
      await page.evaluate(`farwallSoak.advance(${FRAMES_A_TURN})`);
      if (turn < TURNS_OF_ALL + (samples + 1) * turnsASample) continue;
      samples += 1;
      told(await sampleOf(inspected, turn * TURN_SECONDS * 1000));
    }
  });
}

/** The page as it is served, in real time, with a real server; at every sample the practice is put on the wall anew. */
export function soakMinutes(browser: Browser, renderer: Renderer, minutes: number, told: Told): Promise<void> {
  return withWallPool((pool) =>
    withPage(browser, SCREEN, async (inspected) => {
      const { page } = inspected;
      await putProbe(page);
      await pool.startAt(1);
      await page.goto(`${pool.url}/wall?renderer=${renderer}`);
      await page.waitForSelector(`[data-board][data-renderer="${renderer}"]`, { state: 'attached' });
      const from = performance.now();
      for (let samples = 1; samples <= SAMPLES; samples += 1) {
        const due = from + (samples / SAMPLES) * minutes * 60_000;
        await page.waitForTimeout(Math.max(0, due - performance.now()));
        told(await sampleOf(inspected, performance.now() - from));
        await pool.startAt(samples);
      }
    }),
  );
}

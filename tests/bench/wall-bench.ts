import { gzipSync } from 'node:zlib';
import type { Browser, Page, Route } from 'playwright-core';
import { median } from 'simple-statistics';
import { buildPages, pagesAreBuilt } from '../../server/pages.ts';
import { type InspectedPage, metricOf, type Size, withBrowser, withPage } from './bench-browser.ts';
import { bundlePage } from './bundle-page.ts';
import type { BenchOptions } from './compile-bench.ts';
import { type Entry, figure, quantile } from './measure.ts';
import { putProbe, readProbe, resetProbe } from './page-probe.ts';
import { seeded, shuffled } from './seeded.ts';
import { measureInstants } from './wall-instants.ts';
import { type WallPool, withWallPool } from './wall-pool.ts';

/**
 * What a wall's own script takes for a frame, and how soon it shows the right picture: drawn with WebGL, on a canvas, and
 * beside them by a page of plain elements that shows the same fields. WebGL is drawn by the processor here, which
 * manages about one frame a second and says nothing of a wall with a GPU. So its canvas is not shown while frames are
 * timed, and one pixel of it is filled: the script does all it does on a real wall, sixty times a second.
 */

/** What was promised. Times in ms, of the median frame; the first picture on a canvas with a processor slowed down 4×. */
const TARGETS = { webgl: 1, webglAt6: 4, canvas: 5, firstPicture: 1500, scriptKb: 250 } as const;

const HD: Size = { width: 1920, height: 1080 };
const UHD: Size = { width: 3840, height: 2160 };

type Way = 'webgl' | 'canvas' | 'elements';
const WAY_NAMES: Readonly<Record<Way, string>> = { webgl: 'WebGL', canvas: 'canvas', elements: 'plain elements' };

interface Window {
  readonly leastMs: number;
  /** It ends as soon as there are as many frames as wanted, or when it has lasted so long. */
  readonly mostMs: number;
  readonly frames: number;
}

interface Extent {
  readonly sizes: readonly Size[];
  /** By how much the processor is slowed down. */
  readonly slowDowns: readonly number[];
  readonly still: Window;
  readonly moving: Window;
  readonly loads: number;
}

/** All windows of a page fit into the two minutes of rest and the one in which all markers move. */
const FULL: Extent = {
  sizes: [HD, UHD],
  slowDowns: [1, 4, 6],
  still: { leastMs: 10_000, mostMs: 10_000, frames: 0 },
  moving: { leastMs: 5000, mostMs: 20_000, frames: 150 },
  loads: 3,
};
const QUICK: Extent = {
  sizes: [{ width: 640, height: 360 }],
  slowDowns: [4],
  still: { leastMs: 1500, mostMs: 1500, frames: 0 },
  moving: { leastMs: 500, mostMs: 5000, frames: 3 },
  loads: 1,
};

const rateName = (rate: number): string => (rate === 1 ? 'full speed' : `${rate}× slower`);
const sizeName = ({ width, height }: Size): string => `${width}×${height}`;

/** What the measuring needs of the machine. */
interface Stage {
  readonly browser: Browser;
  readonly pool: WallPool;
  /** The script of the page of plain elements. */
  readonly elements: string;
  readonly extent: Extent;
  readonly random: () => number;
}

/** A page that may not share anything with others gets a clock of 5 µs instead of 100. */
const ISOLATED = { 'cross-origin-opener-policy': 'same-origin', 'cross-origin-embedder-policy': 'require-corp' };

const javascript = (script: string) => (route: Route) =>
  route.fulfill({ contentType: 'text/javascript', body: script, headers: ISOLATED });

/**
 * Runs in the page before anything else: every call of WebGL is made and carried out, but fills one pixel only. Without
 * it the processor would be filling millions of them while the script is timed.
 */
function fillOnePixel(): void {
  HTMLCanvasElement.prototype.getContext = new Proxy(HTMLCanvasElement.prototype.getContext, {
    apply: (getContext, canvas, asked) => {
      const context: unknown = Reflect.apply(getContext, canvas, asked);
      if (context instanceof WebGLRenderingContext || context instanceof WebGL2RenderingContext) {
        context.enable(context.SCISSOR_TEST);
        context.scissor(0, 0, 1, 1);
      }
      return context;
    },
  });
}

/** Opens the wall, or in its place the page of plain elements, with a fine clock. */
async function openWay(page: Page, { pool, elements }: Stage, way: Way): Promise<void> {
  await page.route('**/wall?*', async (route) => {
    const answer = await route.fetch();
    const html = await answer.text();
    const own = html.replace(/<script[\s\S]*<\/script>/, '<script type="module" src="/elements.js"></script>');
    await route.fulfill({ contentType: 'text/html', headers: ISOLATED, body: way === 'elements' ? own : html });
  });
  await page.route('**/elements.js', javascript(elements));
  if (way === 'webgl') await page.addInitScript(fillOnePixel);
  await page.goto(`${pool.url}/wall?renderer=${way}`);
  await page.waitForSelector(`[data-board][data-renderer="${way}"][data-phase="running"]`, { state: 'attached' });
  // Shown, every frame would come in another second than the last and write all the figures anew.
  if (way === 'webgl') await page.addStyleTag({ content: 'canvas { display: none !important }' });
}

const slowDown = ({ devtools }: InspectedPage, rate: number): Promise<unknown> =>
  devtools.send('Emulation.setCPUThrottlingRate', { rate });

/** What was seen of a page in a window. */
interface Seen {
  /** What frames took that drew something, ms, ascending. */
  readonly frames: readonly number[];
  readonly drawsPerSecond: number;
  /** What the page's main thread computed in all, for each such frame, ms; waiting does not count. */
  readonly threadMs: number;
}

async function watch(inspected: InspectedPage, { leastMs, mostMs, frames: wanted }: Window): Promise<Seen> {
  const { page } = inspected;
  await resetProbe(page);
  const [from, busyFrom] = [performance.now(), await metricOf(inspected, 'TaskDuration')];
  const soFar = (): number => performance.now() - from;
  await page.waitForTimeout(leastMs);
  while ((await readProbe(page)).frames.length < wanted && soFar() < mostMs) await page.waitForTimeout(250);
  const { frames, draws } = await readProbe(page);
  const [lastedMs, busy] = [soFar(), (await metricOf(inspected, 'TaskDuration')) - busyFrom];
  const sorted = frames.toSorted((one, other) => one - other);
  return { frames: sorted, drawsPerSecond: (draws / lastedMs) * 1000, threadMs: (busy * 1000) / frames.length };
}

function targetOf(way: Way, size: Size, rate: number): number | undefined {
  if (way === 'canvas' && size === HD && rate === 1) return TARGETS.canvas;
  if (way !== 'webgl' || size !== UHD) return undefined;
  return { 1: TARGETS.webgl, 6: TARGETS.webglAt6 }[rate];
}

/** @param named begins the names of the entries */
function frameEntries(named: string, { frames, threadMs }: Seen, target: number | undefined): Entry[] {
  if (frames.length === 0) return [{ kind: 'missing', name: `${named} · frame`, why: 'no frame came in time' }];
  return [
    figure(`${named} · script of a frame: p50`, quantile(frames, 0.5), 'ms', target),
    figure(`${named} · script of a frame: p99`, quantile(frames, 0.99), 'ms'),
    figure(`${named} · main thread for a frame: mean`, threadMs, 'ms'),
  ];
}

/** One page: at first only countdowns move, then the markers of all lanes. */
async function measureFrames(stage: Stage, size: Size, way: Way): Promise<Entry[]> {
  const { browser, pool, extent } = stage;
  const named = `${sizeName(size)} · ${WAY_NAMES[way]}`;
  await pool.startAnew();
  return withPage(browser, size, async (inspected) => {
    await putProbe(inspected.page);
    await openWay(inspected.page, stage, way);
    // So that nothing of the loading is in the figures.
    await inspected.page.waitForTimeout(1000);
    const still = await watch(inspected, extent.still);
    const entries: Entry[] = [figure(`${named} · draws while only countdowns move`, still.drawsPerSecond, '/s')];
    await pool.press('next');
    for (const rate of extent.slowDowns) {
      await slowDown(inspected, rate);
      const moving = await watch(inspected, extent.moving);
      if (rate === 1) entries.push(figure(`${named} · draws while markers move`, moving.drawsPerSecond, '/s'));
      entries.push(...frameEntries(`${named} · ${rateName(rate)}`, moving, targetOf(way, size, rate)));
    }
    return entries;
  });
}

/** A wall that takes longer will never be right. */
const RIGHT_WITHIN_MS = 60_000;

/** Opens the wall as it is served on a device that has nothing of it yet. @returns ms since navigation */
function loadOnce({ browser, pool }: Stage, size: Size, way: Way, rate: number, rep: number): Promise<number> {
  return withPage(browser, size, async (inspected) => {
    const { page } = inspected;
    await slowDown(inspected, rate);
    await putProbe(page, String(rep));
    await page.goto(`${pool.url}/wall?renderer=${way}`, { waitUntil: 'commit' });
    const until = performance.now() + RIGHT_WITHIN_MS;
    while (performance.now() < until) {
      const { firstRightMs } = await readProbe(page);
      if (firstRightMs !== null) return firstRightMs;
      await page.waitForTimeout(250);
    }
    throw new Error(`the wall did not show rep ${rep} in ${RIGHT_WITHIN_MS / 1000} s`);
  });
}

/** Reps that walls are opened in. */
const REPS = 5;

async function measureFirstPicture(stage: Stage, size: Size, way: Way): Promise<Entry[]> {
  const { pool, extent, random } = stage;
  const entries: Entry[] = [];
  for (const rate of extent.slowDowns) {
    const rep = 1 + Math.floor(random() * REPS);
    await pool.startAt(rep);
    const times: number[] = [];
    while (times.length < extent.loads) times.push(await loadOnce(stage, size, way, rate, rep));
    const name = `${sizeName(size)} · ${WAY_NAMES[way]} · ${rateName(rate)} · first right picture`;
    // WebGL is set up and drawn by the processor here, in another process: that is no wall with a GPU.
    const isPromised = way === 'canvas' && size === HD && rate === 4;
    entries.push(figure(name, median(times), 'ms', isPromised ? TARGETS.firstPicture : undefined));
  }
  return entries;
}

/** All scripts the wall has loaded once it shows its board, each gzipped. */
async function measureScript({ browser, pool }: Stage): Promise<Entry> {
  return withPage(browser, HD, async ({ page }) => {
    const scripts: Promise<Buffer>[] = [];
    page.on('response', (response) => {
      if (response.request().resourceType() === 'script') scripts.push(response.body());
    });
    await page.goto(`${pool.url}/wall`);
    await page.waitForSelector('[data-board][data-renderer]', { state: 'attached' });
    const bytes = (await Promise.all(scripts)).reduce((sum, script) => sum + gzipSync(script).length, 0);
    return figure('script that the wall loads, gzipped', bytes / 1000, 'kB', TARGETS.scriptKb);
  });
}

/** Whether this browser draws the wall in this way when it is asked to. */
function draws({ browser, pool }: Stage, way: Way): Promise<boolean> {
  return withPage(browser, HD, async ({ page }) => {
    await page.goto(`${pool.url}/wall?renderer=${way}`);
    const board = await page.waitForSelector('[data-board][data-renderer]', { state: 'attached' });
    return (await board.getAttribute('data-renderer')) === way;
  });
}

/** What WebGL has left to do to the process that draws would hold up the next page of the same browser. */
const inOwnBrowser = (stage: Stage, measure: (stage: Stage) => Promise<Entry[]>): Promise<Entry[]> =>
  withBrowser((browser) => measure({ ...stage, browser }));

async function measureScreen(stage: Stage, size: Size, ways: readonly Way[]): Promise<Entry[]> {
  const entries: Entry[] = [];
  for (const way of shuffled([...ways, 'elements' as const], stage.random)) {
    entries.push(...(await inOwnBrowser(stage, (own) => measureFrames(own, size, way))));
  }
  for (const way of ways) {
    entries.push(...(await inOwnBrowser(stage, (own) => measureFirstPicture(own, size, way))));
  }
  return entries;
}

/**
 * The wall page in a Chromium without a screen.
 * @throws CommandError when there is no Chromium
 */
export function wallBench({ seed, quick }: BenchOptions): Promise<Entry[]> {
  return withBrowser(async (browser) => {
    if (!quick || !pagesAreBuilt()) await buildPages();
    const elements = await bundlePage('dom-wall');
    return withWallPool(async (pool) => {
      const stage: Stage = { browser, pool, elements, extent: quick ? QUICK : FULL, random: seeded(seed) };
      const entries = [await measureScript(stage)];
      const ways: Way[] = [];
      for (const way of ['webgl', 'canvas'] as const) {
        if (await draws(stage, way)) ways.push(way);
        else entries.push({ kind: 'missing', name: WAY_NAMES[way], why: 'this Chromium does not draw with it' });
      }
      for (const size of stage.extent.sizes) entries.push(...(await measureScreen(stage, size, ways)));
      entries.push(...(await inOwnBrowser(stage, (own) => measureInstants(own.browser, pool, quick))));
      return entries;
    });
  });
}

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { build, type PreviewServer, preview } from 'vite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FACES, WEIGHT, wordsWidth } from '../../client/wall/type-metrics.ts';
import { complaintsOf, useChromium } from './chrome.ts';
import { loseContext } from './lost-context.ts';
import { differenceBetween, differenceFrom } from './pictures.ts';
import { boardOfPlan } from './scene-boards.ts';
import { WALL_SCENES, type WallScene } from './wall-scenes.ts';

/** The wall's own code draws each scene in a real Chromium; without a server and without a clock nothing moves. */

/** Longer side of the kept pictures, pixels. */
const LONGEST = 576;
/** Share of pixels that may differ: less than one figure of a lane. */
const SAME = 0.0003;

/** Words in place of a picture: on these screens, of six and ten lanes of four. */
const SCREENS = [
  [1280, 720],
  [1920, 1080],
  [1080, 1920],
] as const;
const SWUM = 'Main set: race pace\n8 x 50 free @ 1:00/1:10/1:20 at 200 pace\n';
/** The least type of a figure, as a share of what a lane has of the screen's shorter side. */
const LARGE = 0.25;

const browser = useChromium();
const alone = WALL_SCENES.filter(({ only }) => only);
const drawn = alone.length > 0 ? alone : WALL_SCENES;

/** What is seen of the lanes' words; runs in the page. */
function largeWords() {
  const lanes = [...document.querySelectorAll<HTMLElement>('[data-lane]')];
  const parts = lanes.flatMap((lane) => [...lane.querySelectorAll<HTMLElement>('span, b')]);
  const boxes = parts.map((part) => ({ text: part.textContent, box: part.getBoundingClientRect() }));
  const cut = boxes.filter(({ box }) => {
    return box.left < 0 || box.top < 0 || box.right > innerWidth || box.bottom > innerHeight;
  });
  const bands = lanes.map((lane) => lane.getBoundingClientRect());
  return {
    texts: lanes.map(({ textContent }) => textContent ?? ''),
    cut: cut.map(({ text }) => text),
    overlapping: bands.flatMap(({ top }, place) => (top < (bands[place - 1]?.bottom ?? 0) - 1 ? [place] : [])),
    figures: parts.flatMap((part) =>
      part.tagName === 'B' ? [Number.parseFloat(getComputedStyle(part).fontSize)] : [],
    ),
  };
}

describe('scenes of the wall', () => {
  const folder = mkdtempSync(join(tmpdir(), 'farwall-scenes-'));
  let server: PreviewServer;
  const complaints: string[][] = [];
  /** One for each renderer: a page has one of them for its life. */
  const pages = new Map<string, Page>();

  beforeAll(async () => {
    const root = fileURLToPath(new URL('scene-page/', import.meta.url));
    const built = { outDir: folder, emptyOutDir: true, target: 'chrome87' } as const;
    const options = { root, configFile: false, logLevel: 'warn', build: built } as const;
    await build(options);
    server = await preview({ ...options, preview: { host: '127.0.0.1', port: 0 } });
  });
  afterAll(async () => {
    await server.close();
    rmSync(folder, { recursive: true, force: true });
  });

  async function pageOf(renderer: string): Promise<Page> {
    const known = pages.get(renderer);
    if (known) return known;
    const context = await browser().newContext({ viewport: { width: LONGEST, height: (LONGEST * 9) / 16 } });
    const page = await context.newPage();
    complaints.push(complaintsOf(page));
    pages.set(renderer, page);
    await page.goto(server.resolvedUrls?.local[0] ?? '');
    await page.waitForFunction(() => typeof window.drawScene === 'function');
    return page;
  }

  async function pictureOf({ board, screen, notice = '', renderer = 'canvas' }: WallScene): Promise<Buffer> {
    const page = await pageOf(renderer);
    const picture = { board, screen, notice };
    if (renderer === 'plain') {
      await page.evaluate((one) => window.showPlain(one), picture);
      return page.screenshot();
    }
    const asked = [picture, renderer, LONGEST] as const;
    const png = await page.evaluate(([one, name, longest]) => window.drawScene(one, name, longest), asked);
    return Buffer.from(png, 'base64');
  }

  test('none is drawn alone, and each has a name of its own', () => {
    expect(alone.map(({ name }) => name)).toEqual([]);
    expect(new Set(WALL_SCENES.map(({ name }) => name)).size).toBe(WALL_SCENES.length);
    expect(WALL_SCENES.length).toBeGreaterThanOrEqual(40);
  });

  test.each(drawn.map((scene) => [scene.name, scene] as const))('%s', async (name, scene) => {
    expect(differenceFrom(`scene-${name}`, await pictureOf(scene), { allowed: SAME, still: true })).toBeLessThan(SAME);
    expect(complaints.flat()).toEqual([]);
  });

  test('no character is wider than the layout takes it to be', async () => {
    const page = await pageOf('canvas');
    const characters = [
      ...Array.from({ length: 95 }, (_, place) => String.fromCharCode(32 + place)),
      ...'×·–—…éüøñØÆæß',
    ];
    const font = `${WEIGHT} 1000px ${FACES}`;
    const measured = await page.evaluate(
      async ([face, texts]) => {
        await document.fonts.load(face);
        const pen = document.createElement('canvas').getContext('2d');
        if (!pen) throw new Error('this browser draws no canvas');
        pen.font = face;
        return texts.map((text) => pen.measureText(text).width / 1000);
      },
      [font, characters] as const,
    );
    const narrow = characters.filter((character, place) => wordsWidth(character) < (measured[place] ?? 0) - 1e-6);
    expect(narrow).toEqual([]);
    // It is the face that was measured, and closely.
    expect(measured[characters.indexOf('W')]).toBeCloseTo(wordsWidth('W'), 1);
  });

  test('the words that stand where nothing can be drawn are all on the screen, lane, wait and target the largest', async () => {
    const page = await pageOf('plain at any size');
    for (const [width, height] of SCREENS) {
      await page.setViewportSize({ width, height });
      for (const lanes of [6, 10]) {
        const board = boardOfPlan({ text: SWUM, lanes, swimmers: 4, at: 20 });
        const picture = { board, screen: { width, height }, notice: 'no connection: going on alone' };
        await page.evaluate((one) => window.showPlain(one), picture);
        const seen = await page.evaluate(largeWords);
        const said = `${lanes} lanes at ${width} × ${height}`;
        expect(seen.texts, said).toHaveLength(lanes);
        expect(seen.texts[0], said).toMatch(/^Lane 1: swim; next in 45 at :05; rep 1\/8; Ines 29\.0, Marek 29\.2, /);
        expect(seen.cut, said).toEqual([]);
        expect(seen.overlapping, said).toEqual([]);
        // Lane, wait, send-off, rep and four targets at least.
        expect(seen.figures.length, said).toBeGreaterThanOrEqual(lanes * 8);
        expect(Math.min(...seen.figures), said).toBeGreaterThanOrEqual((Math.min(width, height) / lanes) * LARGE);
      }
    }
  });

  test('a context that is lost and restored twice draws the same pictures as before', async () => {
    for (const name of ['webgl-swimming', 'webgl-leaving']) {
      const scene = WALL_SCENES.find((one) => one.name === name);
      if (!scene) throw new Error(`there is no scene ${name}`);
      const before = await pictureOf(scene);
      const canvas = await (await pageOf('webgl')).evaluateHandle(() => window.drawnOn());
      const restoreContext = await loseContext(canvas);
      await restoreContext();
      const after = await pictureOf(scene);
      expect(differenceBetween(before, after)).toBe(0);
      expect(differenceFrom(`scene-${name}`, after, { allowed: SAME, still: true })).toBeLessThan(SAME);
    }
    expect(complaints.flat()).toEqual([]);
  });
});

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { build, type PreviewServer, preview } from 'vite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { complaintsOf, useChromium } from './chrome.ts';
import { loseContext } from './lost-context.ts';
import { differenceBetween, differenceFrom } from './pictures.ts';
import { WALL_SCENES, type WallScene } from './wall-scenes.ts';

/** The wall's own code draws each scene in a real Chromium; without a server and without a clock nothing moves. */

/** Longer side of the kept pictures, pixels. */
const LONGEST = 576;
/** Share of pixels that may differ: less than one figure of a lane. */
const SAME = 0.0003;

const browser = useChromium();
const alone = WALL_SCENES.filter(({ only }) => only);
const drawn = alone.length > 0 ? alone : WALL_SCENES;

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

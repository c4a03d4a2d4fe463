import type { BrowserContext, Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal } from '../../server/rehearsal/rehearsal.ts';
import { asName } from '../../shared-types/plain-name.ts';
import { squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { HOSTILE_TEXTS, PLAIN_NAMES, quoted } from '../fixtures/hostile-texts.ts';
import { paired } from '../fixtures/paired.ts';
import { pairAs } from '../fixtures/pairing.ts';
import { pool25 } from '../fixtures/planning.ts';
import { type RunningServer, runServerOn, TestScreen } from '../fixtures/running-server.ts';
import { useChromium } from './chrome.ts';
import { printed } from './printed.ts';

/** Stored texts that would like to be more than text, through every page and on paper. */

const browser = useChromium();

const NAMES = [...HOSTILE_TEXTS, ...PLAIN_NAMES];
const SHOWN = NAMES.map(asName);
const [MARKUP = ''] = HOSTILE_TEXTS;

const squadOf = (names: readonly string[]): string =>
  [
    'swimmer,lane,event,course,time',
    ...names.map((name, nth) => `${quoted(name)},${(nth % 6) + 1},200 free,SCM,2:${String(nth + 10)}.00`),
  ].join('\n');

const notes = HOSTILE_TEXTS.map((text) => `1 x 50 choice easy -- ${text.replace(/[\r\n]/g, ' ')}`).join('\n');
const PRACTICE = `# ${MARKUP}

Pace: race pace
4 x 50 free @ 1:00 at 200 pace

Down
${notes}
`;

/** What the browser holds against our pages, whatever they were given. */
interface Watched {
  readonly context: BrowserContext;
  readonly wrongs: string[];
}

async function watched(url: string): Promise<Watched> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 900 } });
  onTestFinished(() => context.close());
  const wrongs: string[] = [];
  context.on('page', (page) => {
    page.on('dialog', (dialog) => {
      wrongs.push(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    page.on('pageerror', ({ message }) => wrongs.push(`error: ${message}`));
    page.on('console', (said) => said.type() === 'error' && wrongs.push(`console: ${said.text()}`));
    page.on('request', (request) => {
      if (!request.url().startsWith(url) && !/^(blob|data):/.test(request.url()))
        wrongs.push(`asked: ${request.url()}`);
    });
  });
  return { context, wrongs };
}

/** No script of a text ran on the page, and nothing of a text became an element. */
async function expectInert(page: Page): Promise<void> {
  expect(await page.evaluate(() => Reflect.get(window, 'pwned'))).toBeUndefined();
  expect(await page.locator('img[src="x"], script:not([src]), [onerror]').count()).toBe(0);
}

/** A season of one practice, swum by all of them, with a wall and a device that are named so. */
async function stored(
  names: readonly string[],
): Promise<{ server: RunningServer<SteppedClock>; squad: { id: string; name: string }[] }> {
  const clock = new SteppedClock(Date.UTC(2027, 0, 15, 12));
  const server = await runServerOn(clock, { pages: async () => PAGES_FOLDER });
  const wall = new TestScreen(server.url, 'wall');
  await wall.hello();
  const settings = { name: MARKUP.slice(0, 30), place: 'far', lanes: null, order: 'first-on-top', diagonalInches: 55 };
  const sound = { on: false, offsetMs: 0 };
  const body = { ...settings, distanceM: 12, sound };
  expect((await server.ask('PUT', `/api/walls/${wall.device}`, { body })).status).toBe(200);
  await pairAs(server, 'screen', MARKUP);
  const swum = { practiceText: PRACTICE, squadCsv: squadOf(names), pool: pool25 };
  await (await Rehearsal.prepared({ server: paired(server.url), clock, newId: randomId, seed: 3 }, swum)).run();
  const { swimmers } = squadAnswerSchema.parse((await server.ask('GET', '/api/squad')).body);
  return { server, squad: swimmers };
}

const AREAS = ['practice', 'plan', 'squad', 'today', 'results', 'results/season', 'results/weeks'];

test('hostile names and texts are text on every page of the desk, and on paper', { timeout: 180_000 }, async () => {
  const { server, squad } = await stored(NAMES);
  expect(squad.map(({ name }) => name).sort()).toEqual(SHOWN.toSorted());
  const { context, wrongs } = await watched(server.url);
  const page = await context.newPage();
  await page.addInitScript('window.print = () => {}');
  for (const area of AREAS) {
    await page.goto(`${server.url}/desk#${area}`);
    await page.waitForSelector('[data-desk] [data-link="live"]');
    await page.waitForLoadState('networkidle');
    await expectInert(page);
  }
  await page.goto(`${server.url}/desk#squad`);
  await page.waitForSelector('.squad-lane');
  const words = (await page.locator('.squad-lane').allTextContents()).join(' ');
  for (const name of SHOWN) expect(words).toContain(name);
  for (const { id, name } of squad.slice(0, 4)) {
    await page.goto(`${server.url}/desk#squad/${id}`);
    await page.getByRole('heading', { name }).first().waitFor();
    await expectInert(page);
  }
  await page.goto(`${server.url}/desk#today`);
  await page.waitForSelector('.devices-card');
  expect(await page.locator('.devices-card').textContent()).toContain(MARKUP);
  await page.goto(`${server.url}/desk#results`);
  await page.waitForSelector('[data-chart="drawn"]');
  const paper = (await printed(page, 'A4')).map(({ text }) => text).join(' ');
  expect(paper).toContain('DROP TABLE');
  await expectInert(page);
  expect(wrongs).toEqual([]);
});

test('hostile names are text on deck and wall, too', { timeout: 120_000 }, async () => {
  // Whoever leads a lane is called on the wall: those of other scripts, and a stack of marks.
  const { server } = await stored(NAMES.toReversed());
  const practice = { text: PRACTICE, baseVersion: 0 };
  const id = randomId();
  await server.ask('PUT', `/api/practices/${id}`, { body: practice });
  await server.ask('POST', '/api/runs', { body: { practice: id, version: 1, replace: true } });
  const { context, wrongs } = await watched(server.url);
  const deck = await context.newPage();
  await deck.goto(`${server.url}/deck`);
  await deck.waitForSelector('[data-deck][data-link="live"]');
  await expectInert(deck);
  const wall = await context.newPage();
  await wall.setViewportSize({ width: 1920, height: 1080 });
  await wall.goto(`${server.url}/wall?renderer=canvas`);
  await wall.waitForSelector('[data-board][data-link="live"] [data-lane]', { state: 'attached' });
  await expectInert(wall);
  expect(wrongs).toEqual([]);
});

import { beforeEach, describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { putOnWall } from '../../server/rehearsal/put-on-wall.ts';
import { shortLabels } from '../../server/running/labels.ts';
import { asName } from '../../shared-types/plain-name.ts';
import { LONGEST_NAME, type Swimmer } from '../../shared-types/squad.ts';
import { practiceSummarySchema } from '../../shared-types/wire/desk.ts';
import { HOSTILE_TEXTS, squadCalled } from '../fixtures/hostile-texts.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { paired } from '../fixtures/paired.ts';
import { pairAs } from '../fixtures/pairing.ts';
import { pool25 } from '../fixtures/planning.ts';
import { type RunningServer, runServerOn } from '../fixtures/running-server.ts';
import { useChromium } from './chrome.ts';
import { InertPage } from './inert-page.ts';

const LANES = 6;
const WALL_NAME = '<img src=x onerror=pwned=1>';
const DEVICE_NAME = '"><script>window.pwned=1</script>';
const NAMES = HOSTILE_TEXTS.map(({ text }) => text);
const TITLE = '<script>window.pwned=1</script> نص 12';

const PRACTICE = `# ${TITLE}

Main set: race pace
${NAMES.map((text) => `1 x 50 free @ 1:00 at 200 pace -- ${text}`).join('\n')}
`;

/** A half has no place in UTF-8: what is stored or sent of a text has a sign in its place. */
const asStored = (text: string): string => text.toWellFormed();

const browser = useChromium();

interface Hostile {
  readonly server: RunningServer;
  readonly swimmers: readonly Swimmer[];
}

const titlesOf = async ({ ask }: RunningServer): Promise<string[]> =>
  practiceSummarySchema
    .array()
    .parse((await ask('GET', '/api/practices')).body)
    .map(({ title }) => title);

/** Everything that can be called something is called something hostile. */
async function hostileServer(): Promise<Hostile> {
  const server = await runServerOn(new RunningClock(Date.UTC(2027, 0, 15, 18)), { pages: async () => PAGES_FOLDER });
  const squadCsv = squadCalled(NAMES, LANES);
  const swum = { practiceText: PRACTICE, squadCsv, pool: { ...pool25, lanes: LANES } };
  const swimmers = await putOnWall(paired(server.url), swum, randomId);
  for (const text of NAMES) {
    const body = { text: `# ${text}\n\n4 x 50 free @ 1:00\n`, baseVersion: 0 };
    expect((await server.ask('PUT', `/api/practices/${randomId()}`, { body })).status).toBe(200);
  }
  await server.ask('PUT', '/api/squad/privacy', { body: { names: 'full', keepMonths: null } });
  await pairAs(server, 'owner', DEVICE_NAME);
  return { server, swimmers };
}

const onDesk = ({ server }: Hostile, area: string): Promise<InertPage> =>
  InertPage.on(browser(), `${server.url}/desk#${area}`);

const namesOf = ({ swimmers }: Hostile): string[] => swimmers.map(({ name }) => name);

const namesInLane = ({ swimmers }: Hostile, lane: number): string[] =>
  swimmers.flatMap((one) => (one.lane === lane ? [one.name] : []));

/** The deck and a wall on a pool that goes by itself; one time is taken. */
async function swum({ server }: Hostile): Promise<{ deck: InertPage; wall: InertPage }> {
  const wall = await InertPage.on(browser(), `${server.url}/wall?renderer=canvas`, { width: 960, height: 540 });
  const deck = await InertPage.on(browser(), `${server.url}/deck`, { width: 1024, height: 768, hasTouch: true });
  await deck.page.locator('[data-press="start"][data-when="now"]:enabled').tap();
  await deck.page.locator('[data-lane="1"] [data-press="time"]:enabled').tap();
  await deck.page.waitForSelector('[data-lane="1"] [data-last-time]:not(:empty)', { state: 'attached' });
  return { deck, wall };
}

describe('hostile names and texts', () => {
  let hostile: Hostile;
  beforeEach(async () => {
    hostile = await hostileServer();
  });

  test('are stored as names; longer ones are refused', async () => {
    const { server } = hostile;
    expect(NAMES.every((name) => name.length <= LONGEST_NAME)).toBe(true);
    expect(namesOf(hostile).sort()).toEqual(NAMES.map(asName).sort());
    const body = { csv: squadCalled(['國'.repeat(LONGEST_NAME + 1)], 1), fileName: 'squad.csv' };
    expect((await server.ask('PUT', '/api/squad', { body })).status).toBe(422);
  });

  test('do nothing in the squad, its lanes, and what a file would change', async () => {
    const desk = await onDesk(hostile, 'squad');
    await desk.page.waitForSelector('.squad-lane');
    await desk.tells(namesOf(hostile), '.squad-lane');
    await desk.page.fill('[name="event"]', '200 free');
    await desk.page.click('[data-action="propose-lanes"]');
    await desk.tells(namesOf(hostile), '[data-proposed-lane]');
    await desk.page.click('[data-action="leave-proposal"]');

    const others = NAMES.filter((_, place) => place % 2 === 0).map((name) => `${[...name].slice(0, -1).join('')}~`);
    const file = { name: '<img src=x onerror=pwned=1>.csv', mimeType: 'text/csv' };
    const buffer = Buffer.from(squadCalled(others, LANES));
    await desk.page.setInputFiles('.squad-file input[type="file"]', { ...file, buffer });
    await desk.page.click('[data-action="preview-squad"]:enabled');
    await desk.tells([file.name], 'dialog[open]');
    await desk.tells(others.map(asName), 'dialog[open]');
    await desk.tells(namesOf(hostile), 'dialog[open]');
  });

  test('do nothing on a swimmer’s own page', async () => {
    const desk = await onDesk(hostile, 'squad');
    for (const { id, name } of hostile.swimmers) {
      await desk.page.goto(`${hostile.server.url}/desk#squad/${id}`);
      await desk.page.waitForSelector(`[data-swimmer-page="${id}"]`);
      await desk.tells([name], 'h2');
      await desk.tells([name], '[data-action="remove-swimmer"]');
    }
  });

  test('do nothing in the library, a practice, its versions and its plan', async () => {
    const desk = await onDesk(hostile, 'practice');
    const titles = await titlesOf(hostile.server);
    await desk.tells(titles, '.library');
    await desk.page.locator('.library li button').filter({ hasText: TITLE }).first().click();
    await desk.tells([TITLE], 'h2');
    await desk.page.waitForSelector('.lane-table, [data-lane-table], .sheet table');
    await desk.page.click('.more-actions summary');
    await desk.page.click('[data-action="versions"]');
    await desk.page.click('[data-version="1"]');
    await desk.tells([TITLE], 'dialog[open]');
    await desk.page.keyboard.press('Escape');
    await desk.page.click('[data-area="plan"]');
    await desk.page.waitForSelector('[data-add]');
    await desk.tells(titles, '[data-add]');
  });

  test('do nothing on the wall, the deck and its panels', async () => {
    const { deck, wall } = await swum(hostile);
    const called = shortLabels(hostile.swimmers);
    const inLane = hostile.swimmers.flatMap(({ id, lane }) => (lane === 1 ? [called[id] ?? ''] : []));
    await wall.tells(namesOf(hostile), '.mirror [data-lane]');
    const { page } = deck;
    // However long a name is, what is held and what was swum stands beside it whole.
    const beyond = await page.$$eval('.pad-target, .pad-taken > strong', (all) =>
      all.flatMap((one) => {
        const pad = one.closest('.pad')?.getBoundingClientRect();
        const { right, bottom } = one.getBoundingClientRect();
        return pad && right <= pad.right && bottom <= pad.bottom ? [] : [one.textContent];
      }),
    );
    expect(beyond).toEqual([]);
    for (const panel of ['times', 'results', 'keypad', 'who']) {
      await page.locator('[data-lane="1"] [data-press="lane"]').tap();
      await page.locator(`[data-panel] [data-press="${panel}"]`).tap();
      await page.waitForSelector('[data-panel]');
      // In the tables of times stands who has left.
      await deck.tells(panel === 'who' ? inLane : inLane.slice(0, 1), '[data-panel]');
      await page.locator('[data-press="close"]').tap();
    }
    await page.locator('[data-press="change"]').tap();
    await deck.isInert();
    await wall.isInert();
  });

  test('do nothing where the practice is run from, in what is set up and in who is paired', async () => {
    const { server } = hostile;
    const { wall } = await swum(hostile);
    const desk = await onDesk(hostile, 'today');
    await desk.page.click('[data-wall="1"] [data-action="set-wall"]');
    await desk.page.fill('[name="name"]', WALL_NAME);
    await desk.page.click('[data-action="save-wall"]');
    await desk.tells([WALL_NAME], '[data-wall="1"]');
    await desk.tells([DEVICE_NAME], '.devices-card');
    await desk.tells([TITLE], '[data-live-title]');
    await desk.tells(namesOf(hostile), '.today');
    await desk.page.click('[data-wall="1"] [data-action="identify"]');
    await wall.tells([WALL_NAME], '.mirror .name');
    expect(server.farwall.keeper.run).not.toBeNull();
  });

  test('do nothing in results, over the season and the weeks', async () => {
    await swum(hostile);
    const desk = await onDesk(hostile, 'results');
    await desk.tells([TITLE], '.runs');
    await desk.page.waitForSelector('[data-set]');
    const [first = ''] = namesInLane(hostile, 1);
    await desk.tells([first], '[data-set]');
    for (const page of ['season', 'weeks']) {
      await desk.page.goto(`${hostile.server.url}/desk#results/${page}`);
      await desk.page.waitForSelector(page === 'season' ? '[aria-label="The set over the season"]' : '[data-week-of]');
      await desk.isInert();
    }
    await desk.tells(namesOf(hostile), '[data-week-of]');
  });

  test('are printed as they are', async () => {
    await swum(hostile);
    const [first = ''] = namesInLane(hostile, 1);
    const desk = await onDesk(hostile, 'results');
    await desk.page.waitForSelector('[data-set]');
    await desk.page.click('[data-action="print"]');
    await desk.prints([TITLE, first]);
    await desk.page.click('[data-action="print-one"]');
    await desk.page.locator('[data-print-for]').filter({ hasText: first }).click();
    await desk.prints([TITLE, first]);

    await desk.page.click('[data-area="practice"]');
    await desk.page.locator('.library li button').filter({ hasText: TITLE }).first().click();
    await desk.page.waitForSelector('[data-action="put-on-wall"]:not([disabled])');
    await desk.page.click('.more-actions summary');
    await desk.page.click('[data-action="print-practice"]');
    await desk.prints([TITLE, ...NAMES.map(asStored)]);
    await desk.page.click('.more-actions summary');
    await desk.page.click('[data-action="print-cards"]');
    await desk.prints(namesOf(hostile));
  });

  test('with a tower of marks stand in the rows of nobody else', async () => {
    const at = hostile.swimmers.findIndex(({ name }) => name.startsWith('Zalg'));
    const tower = hostile.swimmers[at];
    const above = hostile.swimmers.slice(0, at).findLast(({ lane }) => lane === tower?.lane);
    const desk = await onDesk(hostile, 'squad');
    await desk.page.waitForSelector('.squad-lane');
    await desk.staysClearOfMarks(`.squad-lane [data-swimmer="${above?.id}"]`);

    const { deck } = await swum(hostile);
    await deck.page.locator(`[data-lane="${tower?.lane}"] [data-press="lane"]`).tap();
    await deck.page.locator('[data-panel] [data-press="who"]').tap();
    // A moment after a press buttons take no other.
    await deck.page.waitForSelector('[data-panel] [data-swimmer] button:enabled');
    await deck.staysClearOfMarks(`[data-panel] [data-swimmer="${above?.id}"]`);
  });
});

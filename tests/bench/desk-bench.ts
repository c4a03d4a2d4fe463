import { randomId } from '../../server/ids.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { titleOf } from '../../server/title.ts';
import { ms, type PracticeId, practiceIdSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import { parseEvent, type Reference, type Swimmer } from '../../shared-types/squad.ts';
import { squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { setKindsAnswerSchema } from '../../shared-types/wire/history.ts';
import { weekPlanSchema } from '../../shared-types/wire/plan.ts';
import { runsAnswerSchema } from '../../shared-types/wire/results.ts';
import { answerOf, textOf, timeOf, withServer } from './asked.ts';
import type { BenchOptions } from './compile-bench.ts';
import { type Entry, figure, judged, quantile } from './measure.ts';
import { withFolder } from './own-folder.ts';
import { seeded, shuffled } from './seeded.ts';
import { StoredSeason } from './stored-season.ts';
import { practiceOf, TWO_HOURS } from './workloads.ts';

/** How long the server takes for what each page of the desk asks when it opens, with years of use behind it. */

interface Extent {
  readonly swimmers: number;
  readonly practices: number;
  /** Practices that were swum and timed. */
  readonly swum: number;
  readonly rounds: number;
}

/** Five seasons of 44 weeks with three practices each. */
const FULL: Extent = { swimmers: 500, practices: 2000, swum: 660, rounds: 40 };
const QUICK: Extent = { swimmers: 60, practices: 40, swum: 2, rounds: 2 };

/** What 95 of 100 openings of a page may take, ms of the server. */
const PAGE_MS = 300;
/** What 95 of 100 searches may take, ms. */
const SEARCH_MS = 50;
/** Every tenth practice has so many versions. */
const VERSIONS = 3;

const EVENTS = ['50 free', '100 free', '200 free', '400 free', '100 back', '200 IM', '100 fly'];
const SECTIONS = [
  [
    'Main: race pace',
    ['16 x 25 free @ :40 at 200 pace', '10 x 50 fly @ 1:15 at 200 pace', '12 x 50 back @ 1:20 at 200 pace'],
  ],
  ['Average: best average', ['8 x 100 free @ 2:20 max', '6 x 150 free @ 3:00 max', '20 x 50 free @ 1:10 max']],
  ['Blocks: stand-up', ['4 x 50 free from a dive max @ 5:00', '3 x 100 IM from a dive max @ 7:00']],
  ['Aerobic', ['10 x 200 free @ 3:10', '3 x 800 free rest :45', '20 x 100 free @ 1:40']],
  ['Legs', ['12 x 50 kick @ 1:20', '8 x 100 kick with board @ 2:30']],
] as const;

type Random = () => number;

const oneOf = <T>(things: readonly T[], random: Random): T => {
  const thing = things[Math.floor(random() * things.length)];
  if (thing === undefined) throw new Error('there is nothing to choose from');
  return thing;
};

function practiceText(number: number, random: Random): string {
  const sections = shuffled(SECTIONS, random).slice(0, 2 + Math.floor(random() * 3));
  const sets = sections.map(([name, lines]) => `${name}\n${oneOf(lines, random)}\n`);
  return `# Practice ${number}, week ${1 + (number % 44)}\n\nWarm-up\n400 choice easy\n\n${sets.join('\n')}`;
}

function swimmerAt(number: number, random: Random): Swimmer {
  const references = EVENTS.flatMap((text): Reference[] => {
    const event = parseEvent(text);
    const timeMs = ms(Math.round(((event?.distance ?? 100) * (560 + 240 * random())) / 10) * 10);
    return event ? [{ event, course: 'SCM', timeMs, kind: 'best', date: '2026-10-12' }] : [];
  });
  return { id: swimmerIdSchema.parse(randomId()), name: `Swimmer no. ${number}`, references };
}

function savePractices(store: Store, count: number, random: Random): PracticeId[] {
  const day = 86_400_000;
  return Array.from({ length: count }, (_, number) => {
    const id = practiceIdSchema.parse(randomId());
    for (let version = 0; version < (number % 10 === 0 ? VERSIONS : 1); version += 1) {
      const text = practiceText(number, random);
      const savedAt = Date.now() - (count - number) * (day / 2) + version * 1000;
      store.practices.save({ id, text, title: titleOf(text), baseVersion: version, savedAt, demo: false });
    }
    return id;
  });
}

/** Years of use in a folder. @returns a practice with versions */
function storeYears(folder: string, { swimmers, practices, swum }: Extent, random: Random): PracticeId {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  const { store } = opened;
  try {
    const season = new StoredSeason(store, swum, random);
    while (season.practices < swum) season.upTo(season.marks + 1);
    const own = store.squad.squad().swimmers;
    const others = Array.from({ length: swimmers - own.length }, (_, number) => swimmerAt(number, random));
    const ids = store.inTransaction(() => {
      store.squad.replace({ swimmers: [...own, ...others] }, false);
      return savePractices(store, practices, random);
    });
    const today = new Date().toISOString().slice(0, 10);
    store.plan.replace(today, ids.slice(0, 2));
    const [first] = ids;
    if (!first) throw new Error('no practice was saved');
    return first;
  } finally {
    store.close();
  }
}

/** What is asked of the server; another one each time where there are several. */
type Question = () => { readonly path: string; readonly init?: RequestInit };

const get =
  (path: string): Question =>
  () => ({ path });

const postJson =
  (path: string, body: object): Question =>
  () => ({
    path,
    init: { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) },
  });

/** What each page asks when it opens. */
async function pagesOf(url: string, versioned: PracticeId, random: Random): Promise<Map<string, readonly Question[]>> {
  const { runs } = runsAnswerSchema.parse(await answerOf(`${url}/api/runs?limit=50`));
  const { kinds } = setKindsAnswerSchema.parse(await answerOf(`${url}/api/history/sets`));
  const { days } = weekPlanSchema.parse(await answerOf(`${url}/api/plan`));
  const swimmers = (await squadOf(url)).slice(0, 30);
  const [most] = kinds.toSorted((a, b) => b.occurrences - a.occurrences);
  if (days.length === 0 || !most) throw new Error('nothing was swum or planned');
  const squad = ['/api/squad', '/api/pool', '/api/squad/before', '/api/squad/absences', '/api/demo'].map(get);
  return new Map([
    [
      'practice',
      [
        get('/api/practices'),
        ...squad,
        get(`/api/practices/${versioned}`),
        postJson('/api/preview', { text: practiceOf(TWO_HOURS.reps) }),
      ],
    ],
    ['week', [get('/api/plan'), get('/api/practices')]],
    ['squad', squad],
    ['swimmer', [() => ({ path: `/api/squad/swimmers/${oneOf(swimmers, random)}?limit=25` })]],
    ['today', [...squad, get('/api/plan')]],
    ['results', [get('/api/runs?limit=50'), () => ({ path: `/api/runs/${oneOf(runs, random).id}/results?role=desk` })]],
    ['season', [get('/api/history/sets'), get(`/api/history/set?signature=${encodeURIComponent(most.signature)}`)]],
    ['weeks', [get('/api/history/weeks?weeks=12')]],
    ['versions', [get(`/api/practices/${versioned}/versions`), get(`/api/practices/${versioned}?version=1`)]],
  ]);
}

async function squadOf(url: string): Promise<string[]> {
  const { swimmers } = squadAnswerSchema.parse(await answerOf(`${url}/api/squad`));
  return swimmers.map(({ id }) => id);
}

const SEARCHES: readonly (readonly [string, string])[] = [
  ['text', 'text=back%20pace'],
  ['style', 'style=stand-up'],
  ['distance', 'least=2000&most=3000'],
  ['date', 'from=2026-01-01&to=2026-06-30'],
  ['all of them', 'text=free&style=race%20pace&least=1000&most=4000&from=2025-01-01&to=2026-12-31'],
];

const searchesOf = (): Map<string, readonly Question[]> =>
  new Map(SEARCHES.map(([name, query]) => [name, [get(`/api/practices/search?${query}`)]]));

const askAll = async (url: string, questions: readonly Question[]): Promise<void> => {
  for (const question of questions) {
    const { path, init } = question();
    await textOf(`${url}${path}`, init);
  }
};

/** By turns, so that whatever else the machine does meanwhile hits all alike. @returns ascending, ms */
async function timesOf(
  url: string,
  asked: ReadonlyMap<string, readonly Question[]>,
  rounds: number,
  random: Random,
): Promise<Map<string, number[]>> {
  const taken = new Map([...asked.keys()].map((name): [string, number[]] => [name, []]));
  for (let round = -1; round < rounds; round += 1) {
    for (const [name, questions] of shuffled([...asked], random)) {
      const tookMs = await timeOf(() => askAll(url, questions));
      if (round >= 0) taken.get(name)?.push(tookMs);
    }
  }
  for (const times of taken.values()) times.sort((a, b) => a - b);
  return taken;
}

const entriesOf = (what: string, times: ReadonlyMap<string, readonly number[]>, target: number): Entry[] =>
  [...times].flatMap(([name, sorted]): Entry[] => {
    const [median, p95] = [quantile(sorted, 0.5), quantile(sorted, 0.95)];
    const entry = { name: `${what} · ${name}`, median, p95, samples: sorted.length };
    return [{ kind: 'time', unit: 'ms', ...entry, ...judged(p95, target) }];
  });

async function sizesOf(url: string): Promise<Entry[]> {
  const lists = [
    ['practices of the library', '/api/practices'],
    ['practices found', '/api/practices/search?text=free'],
    ['squad', '/api/squad'],
    ['runs', '/api/runs?limit=50'],
    ['kinds of sets', '/api/history/sets'],
  ] as const;
  const sized = lists.map(async ([name, path]) =>
    figure(`answer · ${name}`, (await textOf(`${url}${path}`)).length / 1024, 'KB'),
  );
  return Promise.all(sized);
}

/** @throws Error when a question is not answered */
export function deskBench({ seed, quick }: BenchOptions): Promise<Entry[]> {
  const extent = quick ? QUICK : FULL;
  const random = seeded(seed);
  return withFolder((folder) => {
    const versioned = storeYears(folder, extent, random);
    return withServer(folder, async (url) => {
      const pages = await pagesOf(url, versioned, random);
      const opened = await timesOf(url, pages, extent.rounds, random);
      const found = await timesOf(url, searchesOf(), extent.rounds, random);
      return [...entriesOf('page', opened, PAGE_MS), ...entriesOf('search', found, SEARCH_MS), ...(await sizesOf(url))];
    });
  });
}

import type { LivePractice, Marking, Press } from '../../client/common/live.ts';
import { type Instant, instant, laneNumber, ms } from '../../shared-types/brand.ts';
import type { Change, Scope } from '../../shared-types/changes.ts';
import { type CommandKind, type When, whenSchema } from '../../shared-types/commands.ts';
import type { Expected } from '../../shared-types/expected.ts';
import { nextGateOf, placeAt } from '../../shared-types/motion.ts';
import { everybodyIn, type Sheet } from '../../shared-types/sheet.ts';
import { SQUAD } from './fuzz-practices.ts';

type Random = () => number;

export function oneOf<T>(all: readonly T[], random: Random): T {
  const one = all[Math.floor(random() * all.length)];
  if (one === undefined) throw new RangeError('nothing to choose from');
  return one;
}

/** One of these, each as likely as its weight. */
export function weighted<T>(choices: readonly (readonly [weight: number, choice: T])[], random: Random): T {
  const whole = choices.reduce((sum, [weight]) => sum + weight, 0);
  let left = whole * random();
  for (const [weight, choice] of choices) {
    left -= weight;
    if (left < 0) return choice;
  }
  throw new RangeError('nothing to choose from');
}

/** What somebody would press in each state, and now and then what makes no sense in it. */
const LIKELY: Readonly<Record<LivePractice['run']['state'], readonly (readonly [number, CommandKind])[]>> = {
  ready: [
    [5, 'start'],
    [2, 'change'],
    [1, 'go'],
    [1, 'next'],
    [1, 'undo'],
    [0.3, 'finish'],
  ],
  running: [
    [6, 'hold'],
    [9, 'go'],
    [8, 'next'],
    [1.5, 'nextSet'],
    [3, 'back'],
    [5, 'shift'],
    [2, 'realign'],
    [3, 'recall'],
    [4, 'undo'],
    [7, 'change'],
    [1, 'resume'],
    [0.5, 'start'],
    [0.6, 'finish'],
  ],
  held: [
    [14, 'resume'],
    [2, 'undo'],
    [2, 'change'],
    [1, 'recall'],
    [1, 'next'],
    [0.15, 'finish'],
  ],
  finished: [
    [2, 'undo'],
    [1, 'next'],
  ],
};

const drawnWhen = (random: Random): When =>
  random() < 0.5 ? 'grid' : random() < 0.6 ? 'now' : oneOf(whenSchema.options, random);

/** A gate that lanes will come to, or stand at; now and then another. */
function drawnGate({ sheet, run }: LivePractice, random: Random): number {
  const next = run.motions.flatMap((motion) => nextGateOf(sheet, motion) ?? []);
  if (next.length > 0 && random() < 0.95) return random() < 0.7 ? Math.min(...next) : oneOf(next, random);
  return Math.floor(random() * Math.max(1, sheet.joins.length));
}

/** Coaches do not look at the walls for nothing: where lanes wait there is a go, and after a go a false start. */
function drawnKind({ sheet, run }: LivePractice, at: Instant, random: Random): CommandKind {
  const waits = sheet.lanes.some((lane) => placeAt(sheet, run.motions, lane, at).state === 'at gate');
  if (run.state === 'running' && waits && random() < 0.4) return 'go';
  if (run.wentAt !== undefined && random() < 0.15) return 'recall';
  return weighted(LIKELY[run.state], random);
}

export function drawnPress(practice: LivePractice, pressedAt: Instant, random: Random): Press {
  const kind = drawnKind(practice, pressedAt, random);
  const lane = oneOf(practice.sheet.lanes, random).lane;
  switch (kind) {
    case 'start':
    case 'resume':
    case 'next':
    case 'nextSet':
    case 'back':
      return { kind, when: drawnWhen(random), pressedAt };
    case 'go':
      return { kind, when: drawnWhen(random), gate: drawnGate(practice, random), pressedAt };
    case 'shift':
      return { kind, lane, byMs: oneOf([-5000, 5000, 5000, 10_000], random), pressedAt };
    case 'realign':
      return { kind, lane, pressedAt };
    case 'change':
      return { kind, change: drawnChange(practice.sheet, random), pressedAt };
    case 'hold':
    case 'recall':
    case 'undo':
    case 'finish':
      return { kind, pressedAt };
  }
}

function drawnScope(sheet: Sheet, random: Random): Scope {
  const { lane, group } = oneOf(sheet.lanes, random);
  const lanes: Scope[] = [{ kind: 'all' }, { kind: 'lane', lane }];
  return oneOf(/^[A-Z]$/.test(group) ? [...lanes, { kind: 'group', group }] : lanes, random);
}

function drawnChange(sheet: Sheet, random: Random): Change {
  const swimmer =
    random() < 0.9
      ? oneOf(SQUAD.swimmers, random).id
      : (sheet.lanes.flatMap(everybodyIn)[0] ?? oneOf(SQUAD.swimmers, random).id);
  const lane = random() < 0.9 ? oneOf(sheet.lanes, random).lane : laneNumber(1 + Math.floor(random() * 8));
  const set = oneOf(sheet.sets, random).key ?? '1';
  switch (
    oneOf(
      ['adjust', 'adjust', 'adjust', 'skip', 'repeat', 'move', 'join', 'sitOut', 'sitOut', 'rejoin'] as const,
      random,
    )
  ) {
    case 'adjust': {
      const scope = drawnScope(sheet, random);
      const intervalMs = ms(5000 * Math.floor(4 + 20 * random()));
      return weighted<Change>(
        [
          [3, { kind: 'adjust', set, scope, intervalMs }],
          [2, { kind: 'adjust', set, scope, count: 1 + Math.floor(6 * random()) }],
          [1, { kind: 'adjust', set, scope, apartMs: ms(5000 * Math.floor(1 + 3 * random())) }],
        ],
        random,
      );
    }
    case 'skip':
      return { kind: 'skip', set };
    case 'repeat':
      return { kind: 'repeat', set, after: oneOf(['0.0', '0.1', '0.2', '1.1', '1.0'], random) };
    case 'move':
      return { kind: 'move', swimmer, lane, ...(random() < 0.5 ? { order: 1 + Math.floor(3 * random()) } : {}) };
    case 'join':
      return { kind: 'join', swimmer, lane };
    case 'sitOut':
      return { kind: 'sitOut', swimmer };
    case 'rejoin':
      return { kind: 'rejoin', swimmer };
  }
}

/** For a lane that swims nothing, as when all its sets were skipped. */
const NO_SUCH_REP = { id: '99.1.1.1', distance: 50 };

/** The time of one who is expected (or that there is none), or of anybody on any rep. */
export function drawnMark(
  { sheet }: LivePractice,
  expected: readonly Expected[],
  pressedAt: Instant,
  random: Random,
): Marking {
  if (expected.length > 0 && random() < 0.85) {
    const { swimmer, step, pass, distance } = oneOf(expected, random);
    const kind = random() < 0.1 ? 'miss' : 'mark';
    return { kind, swimmer, step, pass, distance, pressedAt };
  }
  const { swimmers, steps } = oneOf(sheet.lanes, random);
  const reps = steps.flatMap((each) => (each.kind === 'rep' ? [each] : []));
  const { id: step, distance = 50 } = reps.length > 0 ? oneOf(reps, random) : NO_SUCH_REP;
  const swimmer = swimmers.length > 0 ? oneOf(swimmers, random) : oneOf(SQUAD.swimmers, random).id;
  const earlierMs = random() < 0.2 ? 60_000 * random() : 0;
  return {
    kind: 'mark',
    swimmer,
    step,
    pass: 1 + Math.floor(2 * random()),
    distance,
    pressedAt: instant(pressedAt - earlierMs),
  };
}

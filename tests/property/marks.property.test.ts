import fc from 'fast-check';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { RunDepartures } from '../../server/running/departure-log.ts';
import { MarkKeeper } from '../../server/running/mark-keeper.ts';
import { canonicalJson, sheetHash } from '../../server/running/sheet-hash.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import {
  commandIdSchema,
  deviceIdSchema,
  instant,
  type PracticeId,
  practiceIdSchema,
  type RunId,
  runIdSchema,
} from '../../shared-types/brand.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import { isGo } from '../../shared-types/fold.ts';
import { foldMarks, type MarkCommand, markCommandSchema, marksOf, NO_MARKS } from '../../shared-types/marks.ts';
import { nextGateOf, placeAt } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { Coach, type Press, TOP } from '../fixtures/coach.ts';
import { anyPresses, type RandomPractice, randomPractice } from '../fixtures/random-sheets.ts';
import { swimmerId, writeSheet } from '../fixtures/sheets.ts';
import { type Seen, SlowDepartures, TICK_MS } from '../fixtures/slow-departures.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

interface Timed {
  readonly press: Press;
  readonly afterTicks: number;
}

/** What is pressed on a practice. Lanes that stand at a gate are let go now and then; a go with `recallAfter` is taken back so many ticks later, if it was given. */
interface Script {
  readonly practice: RandomPractice;
  readonly presses: readonly Timed[];
  /** For one go after the other, over and over; 0: it is left as it is. */
  readonly recallAfter: readonly number[];
  /** How often the coach looks for lanes at gates, ticks. */
  readonly looksEvery: number;
}

const randomScript: fc.Arbitrary<Script> = fc.record({
  practice: randomPractice,
  presses: anyPresses,
  recallAfter: fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 3 }),
  looksEvery: fc.integer({ min: 20, max: 80 }),
});

const START: Timed = { press: { kind: 'start', when: 'now' }, afterTicks: 0 };
const LAST: Timed = { press: { kind: 'finish' }, afterTicks: 200 };

/** A gate that a lane stands at. */
function gateStoodAt({ sheet, run: { motions } }: Coach, t: number): number | null {
  const lane = sheet.lanes.find((each) => placeAt(sheet, motions, each, instant(t)).state === 'at gate');
  const motion = motions.find((each) => each.lane === lane?.lane);
  return motion ? nextGateOf(sheet, motion) : null;
}

/** Presses everything while somebody looks on, who is returned; `see` at every tick, and at every event. */
function watch(
  { practice: { form, lines }, presses, recallAfter, looksEvery }: Script,
  see: (slow: SlowDepartures, event: RunEvent | null, back: readonly Seen[]) => void,
): SlowDepartures {
  const coach = new Coach(writeSheet(form, lines).sheet);
  const slow = new SlowDepartures(coach.sheet);
  let gos = 0;
  const press = ({ press: pressed, afterTicks }: Timed): void => {
    for (let tick = 0; tick < afterTicks; tick += 1) {
      slow.tick();
      see(slow, null, []);
      const gate = (slow.t - TOP) % (looksEvery * TICK_MS) === 0 ? gateStoodAt(coach, slow.t) : null;
      if (gate !== null) press({ press: { kind: 'go', gate, when: 'now' }, afterTicks: 0 });
    }
    const answer = coach.press(pressed, (slow.t - TOP) / 1000);
    const event = answer.ok ? coach.events[coach.events.length - 1] : undefined;
    if (!event) return;
    see(slow, event, slow.press(event));
    const recall = isGo(event) ? recallAfter[gos++ % recallAfter.length] : 0;
    if (recall) press({ press: { kind: 'recall' }, afterTicks: recall });
  };
  for (const each of [START, ...presses, LAST]) press(each);
  return slow;
}

const words = (all: readonly Pick<Seen, 'swimmer' | 'step' | 'at'>[]): string[] =>
  all.map(({ swimmer, step, at }) => `${swimmer} ${step} ${at}`).sort();

describe('[RUN3] who left when', () => {
  test('[RUN3] is what somebody saw who looked all the time, whenever it is asked', () => {
    fc.assert(
      fc.property(randomScript, fc.integer({ min: 1, max: 60 }), (script, every) => {
        const { sheet } = writeSheet(script.practice.form, script.practice.lines);
        const log = new RunDepartures(sheet, instant(TOP));
        let ticks = 0;
        watch(script, (slow, event) => {
          if (event) log.happened(event, sheet);
          else ticks += 1;
          if (ticks % every === 0) expect(words(log.upTo(instant(slow.t)))).toEqual(words(slow.seen));
        });
      }),
      { numRuns: 150, endOnFailure: true },
    );
  });
});

/** A mark made at a tick, sent some ticks later, more than once. */
interface Sent {
  /** Of those who left last the how-many-th is marked; null: whatever is said below, be it nonsense. */
  readonly recent: number | null;
  readonly lane: number;
  readonly order: number;
  readonly step: number;
  readonly pass: number;
  readonly atTick: number;
  readonly lateTicks: number;
  readonly times: number;
}

const randomMarks: fc.Arbitrary<Sent[]> = fc.array(
  fc.record({
    recent: fc.option(fc.nat({ max: 5 }), { freq: 4 }),
    lane: fc.integer({ min: 1, max: 4 }),
    order: fc.integer({ min: 1, max: 3 }),
    step: fc.nat({ max: 5 }),
    pass: fc.constantFrom(1, 1, 1, 2, 3),
    atTick: fc.nat({ max: 600 }),
    lateTicks: fc.constantFrom(0, 0, 1, 8, 300),
    times: fc.integer({ min: 1, max: 3 }),
  }),
  { minLength: 20, maxLength: 80 },
);

/** Of who left last, at once. */
const ON_GO: Sent = { recent: 0, lane: 1, order: 1, step: 0, pass: 1, atTick: 0, lateTicks: 0, times: 1 };

/** A store for every example, with one practice in it. */
function storeWithPractice(): { store: Store; practice: PracticeId } {
  const opened = openStore(temporaryFolder());
  if (!opened.ok) throw new Error(opened.message);
  const { store } = opened;
  onTestFinished(() => store.close());
  const practice = practiceIdSchema.parse(randomId());
  store.practices.save({ id: practice, title: '', text: '', demo: false, savedAt: 1, baseVersion: 0 });
  return { store, practice };
}

/** Puts the sheet on the wall as a new run. */
function putOn(store: Store, practice: PracticeId, sheet: Sheet): RunId {
  const id = runIdSchema.parse(randomId());
  const text = canonicalJson(sheet);
  const settings = store.pool.runSettings();
  const pinned = { shortLabels: {}, fullLabels: {}, settings };
  const run = { id, hash: sheetHash(text), practice, practiceVersion: 1, loadedAt: instant(TOP), pinned };
  store.runs.putOnWall({ ...run, rehearsed: false }, text);
  return id;
}

/** The marks as they should be stored. */
class Expectation {
  readonly marks = new Map<string, { leftAt: number | null; isVoid: boolean; readonly command: MarkCommand }>();

  store(command: MarkCommand, slow: SlowDepartures): void {
    if (command.kind !== 'mark' || this.marks.has(command.id)) return;
    const left = slow.leftAt(command.swimmer, command.step, command.pass);
    this.marks.set(command.id, {
      command,
      leftAt: left !== null && left <= command.pressedAt ? left : null,
      isVoid: false,
    });
  }

  recall(back: readonly Seen[]): void {
    for (const mark of this.marks.values()) {
      const { command, leftAt } = mark;
      const isBack = ({ swimmer, step, at }: Seen): boolean =>
        command.kind === 'mark' && command.swimmer === swimmer && command.step === step && leftAt === at;
      if (back.some(isBack)) mark.isVoid = true;
    }
  }
}

type Wanted = Pick<Extract<MarkCommand, { kind: 'mark' }>, 'step' | 'pass'> & { readonly swimmer: string };

/** Whom the mark is of. */
function wantedOf({ sheet, seen }: SlowDepartures, { recent, lane, order, step, pass }: Sent): Wanted {
  const one = recent === null ? undefined : seen[seen.length - 1 - recent];
  if (one) {
    const before = seen.filter(({ swimmer, step, at }) => swimmer === one.swimmer && step === one.step && at <= one.at);
    return { swimmer: one.swimmer, step: one.step, pass: before.length };
  }
  const steps = sheet.lanes.find((each) => each.lane === lane)?.steps ?? [];
  return { swimmer: swimmerId(lane, order), step: steps[step]?.id ?? 'no such step', pass };
}

const markOf = (slow: SlowDepartures, run: RunId, sent: Sent): MarkCommand =>
  markCommandSchema.parse({
    kind: 'mark',
    id: randomId(),
    device: randomId(),
    run,
    ...wantedOf(slow, sent),
    distance: 50,
    pressedAt: slow.t,
  });

describe('[CMD5] marks', () => {
  test('[CMD5] none is lost or doubled, and each keeps the send-off it was stored with, through restarts', () => {
    const { store, practice: written } = storeWithPractice();
    fc.assert(
      fc.property(randomScript, randomMarks, fc.nat({ max: 400 }), (script, marks, restart) => {
        const { sheet } = writeSheet(script.practice.form, script.practice.lines);
        const run = putOn(store, written, sheet);
        let now = instant(TOP);
        const keeper = (): MarkKeeper =>
          new MarkKeeper({
            store,
            now: () => now,
            log: (error) => {
              throw error;
            },
          });
        let server = keeper();
        const should = new Expectation();
        const onTheWay: { readonly command: MarkCommand; readonly dueTick: number; readonly times: number }[] = [];
        let ticks = 0;
        let isOnGo = false;
        const arrive = ({ command, times }: (typeof onTheWay)[number], slow: SlowDepartures): void => {
          const answers = Array.from({ length: times }, () => JSON.stringify(server.mark(command)));
          expect(new Set(answers).size).toBe(1);
          should.store(command, slow);
        };
        const last = watch(script, (slow, event, back) => {
          now = instant(slow.t);
          if (event) {
            const stored = { ...event, run };
            const command = { id: commandIdSchema.parse(randomId()), run };
            store.runs.append({ ...command, ...OTHERWISE }, { ok: true, seq: event.seq }, stored);
            server.ran(stored);
            should.recall(back);
            isOnGo = isGo(event);
            return;
          }
          ticks += 1;
          if (ticks === restart) server = keeper();
          // Random marks are seldom on a go that will be recalled.
          const onGo = isOnGo && ticks % 8 === 0 ? [ON_GO] : [];
          for (const sent of [...onGo, ...marks.filter(({ atTick }) => atTick === ticks)]) {
            const command = markOf(slow, run, sent);
            onTheWay.push({ command, dueTick: ticks + sent.lateTicks, times: sent.times });
          }
          for (const one of onTheWay.filter(({ dueTick }) => dueTick === ticks)) arrive(one, slow);
        });
        // In the end everything arrives, what was there already once more.
        for (const one of onTheWay) arrive(one, last);
        const stored = marksOf(foldMarks(NO_MARKS, store.marks.eventsOf(run)));
        expect(stored.map(({ id, leftAt, state }) => ({ id, leftAt, isVoid: state === 'void' }))).toEqual(
          [...should.marks].map(([id, { leftAt, isVoid }]) => ({ id, leftAt, isVoid })),
        );
      }),
      { numRuns: 60, endOnFailure: true },
    );
  });
});

/** What the store does not look at. */
const OTHERWISE = {
  kind: 'hold',
  device: deviceIdSchema.parse('0'.repeat(32)),
  pressedAt: instant(TOP),
  basedOnSeq: 0,
} as const;

import { type Instant, instant, ms, type SheetHash } from '../../shared-types/brand.ts';
import type { Refusal } from '../../shared-types/commands.ts';
import type { Run, RunEvent, RunState } from '../../shared-types/events.ts';
import { isGo, LEAVES_A_GO } from '../../shared-types/fold.ts';
import type { LaneMotion } from '../../shared-types/motion.ts';
import { sendOffsWithin } from '../../shared-types/send-offs-within.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { notNow } from './in-words.ts';
import { from, lanesThen } from './vectors.ts';

/** [CMD6] So long after an event it can be taken back, ms. */
const TAKEN_BACK_WITHIN_MS = 60_000;

/** The sheet that the lanes swam by after event `seq` (0: the first), and its hash. */
export type SheetAfter = (seq: number) => { readonly hash: SheetHash; readonly sheet: Sheet };

/** What taking an event back leads to. */
export interface TakenBack {
  /** The event's seq. */
  readonly takesBack: number;
  readonly state: RunState;
  readonly motions: readonly LaneMotion[];
  /** The sheet that the lanes swim by again; absent: the same. */
  readonly sheet?: SheetHash;
}

const standing = (sheet: Sheet, at: Instant): LaneMotion[] =>
  sheet.lanes.map(({ lane }) => ({ lane, position: ms(0), rate: 0, at, gates: 0 }));

/** State and vectors as they were before an event: what the one before it carries, or those of a run not begun. */
function before(sheet: Sheet, events: readonly RunEvent[], seq: number): Pick<RunEvent, 'state' | 'motions'> {
  const earlier = events.find((event) => event.seq === seq - 1);
  const first = events[0]?.at ?? instant(0);
  return earlier ?? { state: 'ready', motions: standing(sheet, first) };
}

/** Whether anybody has left since an event, or at its very instant. */
const haveLeft = (sheet: Sheet, { motions, at: from }: RunEvent, to: Instant): boolean =>
  sendOffsWithin(sheet, motions, instant(from - 1), to).length > 0;

const tooLongAgo = (event: RunEvent, at: Instant): boolean => at - event.at > TAKEN_BACK_WITHIN_MS;

/**
 * [CMD6] The newest control event as if it had never been pressed: every lane on the way it was on before, at the place
 * it would have come to. Who has left in between has left (their departures stay in the events).
 * @param events all of the run so far
 */
export function undone(events: readonly RunEvent[], sheetAfter: SheetAfter, at: Instant): TakenBack | Refusal {
  const last = events[events.length - 1];
  if (!last) return notNow('Nothing has been pressed yet.');
  if (last.kind === 'undo') return notNow('The last press has been undone already.');
  if (last.kind === 'recall') return notNow('A recall cannot be undone.', 'Press go.');
  if (tooLongAgo(last, at)) return notNow('The last press was more than a minute ago.', 'Press what is to happen now.');
  const [now, then] = [sheetAfter(last.seq), sheetAfter(last.seq - 1)];
  if (last.kind === 'start' && haveLeft(now.sheet, last, at)) {
    return notNow('Swimmers have left since the start.', 'Press hold or finish.');
  }
  const { state, motions } = before(then.sheet, events, last.seq);
  // Seen from now, so that nothing a lane did under the undone event changes when it came through joins before.
  const settled = lanesThen(then.sheet, motions, at).map(({ run }) => run.motion);
  const sheet = now.hash === then.hash ? {} : { sheet: then.hash };
  return { takesBack: last.seq, state, motions: settled, ...sheet };
}

/** The last go, when nothing but holds and shifts came after it. */
function lastGo(events: readonly RunEvent[]): RunEvent | null {
  for (let place = events.length - 1; place >= 0; place -= 1) {
    const event = events[place];
    if (event && isGo(event)) return event;
    if (!event || !LEAVES_A_GO.includes(event.kind)) return null;
  }
  return null;
}

/**
 * [CMD2] A false start: the lanes of the last go are where they would be without it, at its gate, and nobody has left.
 * The other lanes stay as they are; held lanes stay held.
 */
export function recalled(sheet: Sheet, run: Run, events: readonly RunEvent[], at: Instant): TakenBack | Refusal {
  const go = lastGo(events);
  const gate = go?.gate === undefined ? undefined : sheet.joins[go.gate];
  if (!go || !gate) return notNow('There is no go to take back.', 'Press back or undo.');
  if (tooLongAgo(go, at)) return notNow('The last go was more than a minute ago.', 'Press back.');
  const without = lanesThen(sheet, before(sheet, events, go.seq).motions, at);
  const motions = lanesThen(sheet, run.motions, at).map(({ run: { lane, motion } }) => {
    const then = gate.lanes.includes(lane.lane) && without.find((one) => one.run.lane === lane);
    if (!then) return motion;
    return run.state === 'held' ? from(then, at, then.place.position, 0, at) : then.run.motion;
  });
  return { takesBack: go.seq, state: run.state, motions };
}

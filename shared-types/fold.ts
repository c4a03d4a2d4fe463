import { type Instant, ms, type RunId, type SheetHash } from './brand.ts';
import type { Run, RunEvent } from './events.ts';
import type { Sheet } from './sheet.ts';

/** A run nothing has happened to yet: every lane stands at the start, all gates shut. */
export function newRun(id: RunId, hash: SheetHash, sheet: Sheet, loadedAt: Instant): Run {
  const motions = sheet.lanes.map(({ lane }) => ({ lane, position: ms(0), rate: 0 as const, at: loadedAt, gates: 0 }));
  return { id, sheet: hash, state: 'ready', seq: 0, motions };
}

/** After these the lanes of a go are still on it, so that it can be recalled. */
export const LEAVES_A_GO: readonly RunEvent['kind'][] = ['hold', 'resume', 'shift', 'realign'];

/** Whether it let lanes go at a gate: a go, or a start that had one before it. */
export const isGo = ({ kind, gate }: Pick<RunEvent, 'kind' | 'gate'>): boolean =>
  kind === 'go' || (kind === 'start' && gate !== undefined);

function wentAfter({ wentAt }: Run, event: RunEvent): Pick<Run, 'wentAt'> {
  const { kind, at } = event;
  if (isGo(event)) return { wentAt: at };
  return wentAt !== undefined && LEAVES_A_GO.includes(kind) ? { wentAt } : {};
}

/**
 * [RUN2] The run after one more event. It only applies what the event carries, so folding a prefix and then the
 * rest gives the same run. An event already folded changes nothing.
 * @throws RangeError when an event is missing in between or belongs to another run: that is a bug
 */
export function foldEvent(run: Run, event: RunEvent): Run {
  if (event.run !== run.id) throw new RangeError(`event of run ${event.run} folded into run ${run.id}`);
  if (event.seq <= run.seq) return run;
  if (event.seq !== run.seq + 1) throw new RangeError(`event ${event.seq} folded after event ${run.seq}`);
  const sheet = event.sheet ?? run.sheet;
  const { wentAt: _, ...before } = run;
  const { seq, state, motions, kind, at } = event;
  return { ...before, sheet, seq, state, motions, changedAt: at, changedBy: kind, ...wentAfter(run, event) };
}

export const foldEvents = (run: Run, events: readonly RunEvent[]): Run => events.reduce(foldEvent, run);

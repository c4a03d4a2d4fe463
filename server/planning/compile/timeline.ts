import { type LaneNumber, ms } from '../../../shared-types/brand.ts';
import type { Join, Step } from '../../../shared-types/sheet.ts';
import type { Draft, JoinDraft, RepDraft } from './drafts.ts';

/** A lane on its way through the drafts. */
interface Cursor {
  /** Those of `steps` that had begun before this plan. */
  readonly begun: readonly Step[];
  readonly steps: Step[];
  atMs: number;
  /** Place in `steps` of a rep that lasts until the next join, when that is the last step. */
  open: number | null;
}

export interface Timeline {
  readonly steps: ReadonlyMap<LaneNumber, readonly Step[]>;
  readonly joins: readonly Join[];
}

/** What the lanes have begun already, as it stays. */
export interface Before {
  readonly steps: (lane: LaneNumber) => readonly Step[];
  readonly joins: readonly Join[];
}

const NOTHING_BEFORE: Before = { steps: () => [], joins: [] };

function cursorAfter(steps: readonly Step[]): Cursor {
  const last = steps[steps.length - 1];
  return { begun: steps, steps: [...steps], atMs: last ? last.atMs + last.durationMs : 0, open: null };
}

/**
 * Puts the drafts on the lanes' axes. Lanes run on their own clocks between joins; at a join all its lanes have the
 * same place: the latest of them. Who is early rests (`join`), and a rep that the coach ends lasts until then.
 */
export function layTimeline(
  lanes: readonly LaneNumber[],
  drafts: readonly Draft[],
  before: Before = NOTHING_BEFORE,
): Timeline {
  const cursors = new Map<LaneNumber, Cursor>(lanes.map((lane) => [lane, cursorAfter(before.steps(lane))]));
  const joins: Join[] = [...before.joins];
  for (const draft of drafts) {
    if (draft.kind === 'join') {
      const meeting = draft.lanes.flatMap((lane) => cursors.get(lane) ?? []);
      const join = meetAt(draft, meeting);
      if (join.gate || (join.lanes.length > 1 && join.atMs > 0)) joins.push(join);
      continue;
    }
    const cursor = cursors.get(draft.lane);
    if (cursor && draft.kind === 'rep') addRep(cursor, draft);
    else if (cursor && draft.kind === 'rest') addRest(cursor, draft, draft.reason, draft.restMs);
  }
  return { steps: new Map([...cursors].map(([lane, { steps }]) => [lane, steps])), joins };
}

function addRep(cursor: Cursor, draft: RepDraft): void {
  const { kind, lane: _lane, cycleMs, lastBackMs, targets, ...rest } = draft;
  const durationMs = Math.round(cycleMs ?? lastBackMs);
  cursor.steps.push({ ...rest, kind, atMs: ms(cursor.atMs), durationMs: ms(durationMs), targets: [...targets] });
  cursor.open = cycleMs === null ? cursor.steps.length - 1 : null;
  cursor.atMs += durationMs;
}

function addRest(
  cursor: Cursor,
  { id, line, section }: Draft,
  reason: 'rest' | 'between' | 'join',
  restMs: number,
): void {
  const durationMs = ms(Math.round(restMs));
  cursor.steps.push({ id, line, section, kind: 'rest', reason, atMs: ms(cursor.atMs), durationMs });
  cursor.atMs += durationMs;
  cursor.open = null;
}

/** A lane that has waited already when the practice is planned anew waits on in another step. */
function waitId({ begun }: Cursor, { id: join }: JoinDraft): string {
  const id = `${join}.join`;
  const waited = begun.findLast((step) => step.id.startsWith(id));
  return waited ? `${waited.id}+` : id;
}

function meetAt(draft: JoinDraft, meeting: readonly Cursor[]): Join {
  const atMs = ms(Math.max(0, ...meeting.map((cursor) => cursor.atMs)));
  for (const cursor of meeting) {
    const early = atMs - cursor.atMs;
    const last = cursor.open === null ? undefined : cursor.steps[cursor.open];
    if (early > 0 && last && draft.gate) {
      last.durationMs = ms(last.durationMs + early);
      cursor.atMs = atMs;
    } else if (early > 0) {
      addRest(cursor, { ...draft, id: waitId(cursor, draft) }, 'join', early);
    }
    cursor.open = null;
    if (draft.gate) {
      const { id, line, section } = draft;
      cursor.steps.push({ id, line, section, kind: 'gate', atMs, durationMs: ms(0) });
    }
  }
  return { id: draft.id, atMs, lanes: [...draft.lanes], gate: draft.gate !== false };
}

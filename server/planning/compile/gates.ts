import type { LaneNumber } from '../../../shared-types/brand.ts';
import { type Draft, draftLanes, type JoinDraft } from './drafts.ts';

/**
 * Gates that touch are one: where nothing but joins lies between two in every lane of the smaller, the wider stays.
 * And a gate that ends a set the coach releases is dropped where only rests lead to the next gate: the coach releases
 * what follows anyway.
 */
export function mergeGates(drafts: readonly Draft[]): Draft[] {
  const dropped = new Set<Draft>();
  drafts.forEach((draft, place) => {
    if (draft.kind === 'join' && draft.gate && isSpare(drafts, dropped, draft, place)) dropped.add(draft);
  });
  return drafts.filter((draft) => !dropped.has(draft));
}

function isSpare(drafts: readonly Draft[], dropped: ReadonlySet<Draft>, gate: JoinDraft, place: number): boolean {
  const before = gateBeside(drafts, dropped, place, -1, false);
  const after = gateBeside(drafts, dropped, place, 1, gate.gate === 'after set');
  return [before, after].some((beside) => beside !== null && gate.lanes.every((lane) => beside.lanes.includes(lane)));
}

/** The first gate that a lane of the gate at `place` meets in this direction; null when it meets a rep (or rest) first. */
function gateBeside(
  drafts: readonly Draft[],
  dropped: ReadonlySet<Draft>,
  place: number,
  direction: 1 | -1,
  overRests: boolean,
): JoinDraft | null {
  const gate = drafts[place];
  const lanes = new Set<LaneNumber>(gate ? draftLanes(gate) : []);
  for (let at = place + direction; at >= 0 && at < drafts.length; at += direction) {
    const draft = drafts[at];
    if (!draft || dropped.has(draft) || !draftLanes(draft).some((lane) => lanes.has(lane))) continue;
    if (draft.kind === 'rest' && overRests) continue;
    if (draft.kind !== 'join') return null;
    if (draft.gate) return draft;
  }
  return null;
}

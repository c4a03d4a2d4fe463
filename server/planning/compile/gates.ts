import type { LaneNumber } from '../../../shared-types/brand.ts';
import { type Draft, draftLanes, type JoinDraft } from './drafts.ts';

/**
 * Gates that touch are one: where nothing but joins lies between two in every lane of the smaller, the wider stays.
 * And a gate that ends a set the coach releases is dropped where only rests lead to the next gate: the coach releases
 * what follows anyway.
 */
export function mergeGates(drafts: readonly Draft[]): Draft[] {
  const backwards = withoutCovered([...drafts].reverse(), true);
  return withoutCovered(backwards.reverse(), false);
}

/** The gates that each lane has met last, with nothing but joins since, or also rests. */
interface Met {
  readonly touching: Map<LaneNumber, JoinDraft>;
  readonly overRests: Map<LaneNumber, JoinDraft>;
}

/** The drafts, in this order, without the gates that one before them makes needless. */
function withoutCovered(drafts: readonly Draft[], overRests: boolean): Draft[] {
  const met: Met = { touching: new Map(), overRests: new Map() };
  return drafts.filter((draft) => {
    if (draft.kind === 'join' && draft.gate) {
      const gates = overRests && draft.gate === 'after set' ? met.overRests : met.touching;
      if (isCovered(draft, gates)) return false;
    }
    note(draft, met);
    return true;
  });
}

/** Whether one gate, wide enough, is what all lanes of this one met last. */
function isCovered({ lanes }: JoinDraft, gates: ReadonlyMap<LaneNumber, JoinDraft>): boolean {
  const [first] = lanes;
  const wide = first === undefined ? undefined : gates.get(first);
  return wide !== undefined && lanes.every((lane) => gates.get(lane) === wide);
}

function note(draft: Draft, { touching, overRests }: Met): void {
  if (draft.kind === 'join' && !draft.gate) return;
  for (const lane of draftLanes(draft)) {
    if (draft.kind === 'join') {
      touching.set(lane, draft);
      overRests.set(lane, draft);
    } else {
      touching.delete(lane);
      if (draft.kind === 'rep') overRests.delete(lane);
    }
  }
}

import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { type Event, raceStrokeSchema } from '../../shared-types/squad.ts';
import { thresholdOf } from '../planning/pace/threshold.ts';
import type { Knowledge } from '../results/set-results.ts';
import type { StoredRun } from '../store/run-store.ts';

/**
 * What is known of the swimmers beside their times: threshold paces, from the squad as it was when the practice was put
 * on the wall. Runs from before that was kept know none.
 */
export function knowledgeOf({ pinned: { plan } }: StoredRun, sheet: Sheet): Knowledge {
  if (!plan) return {};
  const swimmers = new Map(plan.squad.swimmers.map((swimmer) => [swimmer.id, swimmer]));
  const pool = { ...plan.pool, course: sheet.course };
  const swum = sheet.sets.map((_, set) => whatIsSwum(sheet, set));
  return {
    thresholdPer100Ms: (id: SwimmerId, set: number): number | null => {
      const [swimmer, what] = [swimmers.get(id), swum[set]];
      if (!swimmer || !what) return null;
      const threshold = thresholdOf(swimmer, what, pool);
      return 'missing' in threshold ? null : threshold.per100Ms;
    },
  };
}

/** Of a set in one stroke that races are swum in; null for any other. */
function whatIsSwum({ sets, lanes }: Sheet, set: number): Omit<Event, 'distance'> | null {
  const strokes = lanes.flatMap(({ steps }) =>
    steps.flatMap((step) => (step.kind === 'rep' && step.set === set ? step.stroke : [])),
  );
  const [first] = new Set(strokes);
  const stroke = raceStrokeSchema.safeParse(first);
  const activity = sets[set]?.activity;
  if (!stroke.success || activity === undefined || strokes.some((each) => each !== first)) return null;
  return { stroke: stroke.data, activity };
}

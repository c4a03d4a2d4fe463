import type { Pool } from '../../shared-types/pool.ts';
import type { Rig } from '../../shared-types/rig.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { type Event, raceStrokeSchema } from '../../shared-types/squad.ts';
import { thresholdOf } from '../planning/pace/threshold.ts';
import type { Knowledge } from '../results/set-results.ts';
import type { StoredRun } from '../store/run-store.ts';
import { type LoadsKnown, loadOn } from './loads.ts';

interface KnownToday {
  readonly pool: Pool;
  readonly loads: LoadsKnown;
}

/**
 * What is known of a run beside its times. Threshold paces are from the squad as it was when the practice was put on the
 * wall, and so is the pulley: it may be another one today. What was not known of it then is as the pool has it now, so
 * that it can be written down after the practice. The tolerance is today's for all runs, so that they can be compared.
 */
export function knowledgeOf({ pinned: { plan } }: StoredRun, sheet: Sheet, { pool, loads }: KnownToday): Knowledge {
  return {
    ...(pool.toleranceMsPer50 === undefined ? {} : { toleranceMsPer50: pool.toleranceMsPer50 }),
    power: rigOf(pool.rig, plan?.pool.rig),
    load: loadOn(loads),
    ...(plan ? { thresholdPer100Ms: thresholdsOf(plan, sheet) } : {}),
  };
}

/** Over what it was timed is on the sheet. */
const rigOf = (today: Rig = {}, then: Rig = {}): NonNullable<Knowledge['power']> => ({
  ratio: then.ratio ?? today.ratio,
  stackHeightM: then.stackHeightM ?? today.stackHeightM,
});

type Plan = NonNullable<StoredRun['pinned']['plan']>;

/** Runs from before the squad was kept know none. */
function thresholdsOf(plan: Plan, sheet: Sheet): NonNullable<Knowledge['thresholdPer100Ms']> {
  const swimmers = new Map(plan.squad.swimmers.map((swimmer) => [swimmer.id, swimmer]));
  const pool = { ...plan.pool, course: sheet.course };
  const swum = sheet.sets.map((_, set) => whatIsSwum(sheet, set));
  return (id, set) => {
    const [swimmer, what] = [swimmers.get(id), swum[set]];
    if (!swimmer || !what) return null;
    const threshold = thresholdOf(swimmer, what, pool);
    return 'missing' in threshold ? null : threshold.per100Ms;
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

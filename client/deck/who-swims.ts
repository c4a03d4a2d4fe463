import { type Instant, type LaneNumber, type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import { placeAt, repFrom } from '../../shared-types/motion.ts';
import { everybodyIn, lineupOf, type SheetLane } from '../../shared-types/sheet.ts';
import type { LivePractice } from '../common/live.ts';

/** [CMD7] Who swims in a lane from its next rep on, and who could. Pure. */

export interface LaneSwimmerNow {
  readonly swimmer: SwimmerId;
  readonly name: string;
  /**
   * `swims`; `stays`: in a lane without a rep to come, because it is through or because all of it sit out; `out`: sits
   * out and comes back to this lane; `absent`: swims in no lane and can join this one.
   */
  readonly is: 'swims' | 'stays' | 'out' | 'absent';
}

interface Lineup {
  readonly lane: LaneNumber;
  readonly swimmers: readonly SwimmerId[];
  readonly swims: boolean;
}

/** Who swims a lane's next rep; after its last one, who swam that. */
function lineupAt({ sheet, run }: LivePractice, lane: SheetLane, at: Instant): Lineup {
  const { ahead } = placeAt(sheet, run.motions, lane, at);
  const next = lane.steps[repFrom(lane, ahead, lane.steps.length)];
  const rep = next ?? lane.steps.filter(({ kind }) => kind === 'rep').pop();
  const swimmers = rep?.kind === 'rep' ? lineupOf(lane, rep) : lane.swimmers;
  return { lane: lane.lane, swimmers, swims: next !== undefined };
}

/** Everybody who was in the squad when the practice was put on the wall. */
const labelled = (labels: LivePractice['labels']): SwimmerId[] =>
  Object.keys(labels).flatMap((id) => swimmerIdSchema.safeParse(id).data ?? []);

/** The swimmers of a lane in the order in which they leave, then those who could come into it by name. */
export function whoSwims(practice: LivePractice, lane: LaneNumber, at: Instant): LaneSwimmerNow[] {
  const { sheet, labels } = practice;
  const lineups = sheet.lanes.map((one) => lineupAt(practice, one, at));
  const swimming = new Set(lineups.flatMap(({ swims, swimmers }) => (swims ? swimmers : [])));
  const here = lineups.find((lineup) => lineup.lane === lane);
  const inLane = here?.swimmers.filter((swimmer) => here.swims || !swimming.has(swimmer)) ?? [];
  const taken = new Set([...swimming, ...lineups.flatMap(({ swimmers }) => swimmers)]);
  const known = [...new Set([...labelled(labels), ...sheet.lanes.flatMap(everybodyIn)])];
  const free = known
    .filter((swimmer) => !taken.has(swimmer))
    .map((swimmer): LaneSwimmerNow => {
      const swam = sheet.lanes.filter((one) => everybodyIn(one).includes(swimmer));
      const wasHere = swam.length === 1 && swam[0]?.lane === lane;
      return { swimmer, name: isolated(labels[swimmer] ?? 'swimmer'), is: wasHere ? 'out' : 'absent' };
    });
  const is = here?.swims ? 'swims' : 'stays';
  return [
    ...inLane.map((swimmer, place): LaneSwimmerNow => {
      return { swimmer, name: isolated(labels[swimmer] ?? `swimmer ${place + 1}`), is };
    }),
    ...free.sort((a, b) => Number(a.is === 'absent') - Number(b.is === 'absent') || a.name.localeCompare(b.name)),
  ];
}

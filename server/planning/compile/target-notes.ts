import type { SwimmerId } from '../../../shared-types/brand.ts';
import { mention } from '../../../shared-types/message.ts';
import type { SetPlan } from './rep-plan.ts';
import { listed, say } from './set-warnings.ts';

/** From so many swimmers on they are counted instead of named. */
const NAMED = 6;

function whose(swimmers: ReadonlySet<SwimmerId>, all: number): string {
  if (swimmers.size === all && all > 1) return 'all targets are estimates';
  if (swimmers.size > NAMED) return `the targets of ${swimmers.size} swimmers are estimates`;
  const names = listed([...swimmers].map(mention));
  return swimmers.size === 1 ? `the target of ${names} is an estimate` : `the targets of ${names} are estimates`;
}

/** Whose targets are estimates and from what, once a line and reason; easy swimming always is and is not named. */
export function sayEstimates(plan: SetPlan): void {
  const swimmers = new Map<string, Set<SwimmerId>>();
  for (const { target, estimates } of [...plan.known.values()].flat()) {
    for (const reason of estimates) swimmers.set(reason, (swimmers.get(reason) ?? new Set()).add(target.swimmer));
  }
  const all = plan.spot.lanes.reduce((count, lane) => count + lane.swimmers.length, 0);
  for (const [reason, whom] of swimmers) {
    say(plan, { severity: 'info', code: 'estimated', text: `${whose(whom, all)}: ${reason}` });
  }
}

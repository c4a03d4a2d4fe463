import { isolated } from '../../shared-types/isolated.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import type { ProposedLane } from '../../shared-types/wire/lanes.ts';
import { type Move, swimmersIn } from './lane-moves.ts';

/** What a change has done, and what the button that takes it back says. */
export interface StepWords {
  readonly done: string;
  readonly undo: string;
}

export const PROPOSAL_WORDS: StepWords = {
  done: 'Everybody has the proposed lane now.',
  undo: 'Undo: the proposed lanes',
};

export const orderWords = (lane: number): StepWords => ({
  done: `Lane ${lane} leaves in another order now.`,
  undo: `Undo: the order in lane ${lane}`,
});

export function movedWords(swimmers: readonly Swimmer[], move: Move): StepWords {
  const mover = swimmers.find(({ id }) => id === move.swimmer);
  const name = mover?.name ?? 'The swimmer';
  if (move.lane === null)
    return { done: `${isolated(name)} has no lane now.`, undo: `Undo: ${isolated(name)} out of the lanes` };
  const done = `${isolated(name)} leaves as number ${placeAfter(swimmers, move) + 1} in lane ${move.lane}.`;
  const undo = mover?.lane === move.lane ? orderWords(move.lane).undo : `Undo: ${isolated(name)} to lane ${move.lane}`;
  return { done, undo };
}

/** A place beyond the others is the last. */
function placeAfter(swimmers: readonly Swimmer[], { swimmer, lane, place }: Move): number {
  const others = swimmersIn(swimmers, lane).filter(({ id }) => id !== swimmer);
  return Math.min(place, others.length);
}

/** `group A, mean 2:01.24, spread 6.10` */
export function figureWords({ group, meanMs, spreadMs }: ProposedLane): string {
  const mean = meanMs === null ? [] : [`mean ${formatSwimTime(Math.round(meanMs), 2)}`];
  const spread = spreadMs === null ? [] : [`spread ${formatSwimTime(Math.round(spreadMs), 2)}`];
  return [...(group === null ? [] : [`group ${group}`]), ...mean, ...spread].join(', ');
}

/** Why a swimmer is there: where the time comes from, and where they swim now when that is elsewhere. */
export function whyWords({ basis, estimate, laneNow }: ProposedLane['swimmers'][number], lane: number): string {
  const time = basis === null ? 'no time, so stays' : `${basis}${estimate === null ? '' : `, ${estimate}`}`;
  if (laneNow === lane) return time;
  return `${time}; ${laneNow === null ? 'no lane now' : `now in lane ${laneNow}`}`;
}

/** `~` stands before an estimate. */
export const timeWords = ({ timeMs, estimate }: ProposedLane['swimmers'][number]): string =>
  timeMs === null ? 'no time' : `${estimate === null ? '' : '~'}${formatSwimTime(Math.round(timeMs), 2)}`;

import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useId } from 'preact/hooks';
import { laneNumber } from '../../shared-types/brand.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { Desk } from './desk.ts';
import { isOwners } from './for-owners.tsx';
import { useLaneDrag } from './lane-drag.ts';
import { swimmersIn } from './lane-moves.ts';
import { ProblemNote } from './problem-note.tsx';
import { SquadLane } from './squad-lane.tsx';

/** So many of those without a lane are shown at once; a squad may have hundreds. */
const AT_ONCE = 30;

/** Stays in sight while the lanes are scrolled. */
function LaneTools({ desk: { lanes, absences } }: { desk: Desk }): JSX.Element | null {
  const step = lanes.lastStep.value;
  const problem = lanes.problem.value ?? absences.problem.value;
  if (!step && !problem) return null;
  return (
    <div class="lane-tools">
      <ProblemNote problem={problem} />
      {step && (
        <button type="button" data-action="undo-lanes" onClick={() => void lanes.undo()}>
          {step.words}
        </button>
      )}
    </div>
  );
}

/** All lanes of the pool, and those beyond it that somebody is in. Swimmers are moved from one to another. */
export function SquadLanes({ desk, swimmers }: { desk: Desk; swimmers: readonly Swimmer[] }): JSX.Element {
  const { lanes, squad } = desk;
  const drag = useLaneDrag();
  const keysId = useId();
  const shownWithout = useSignal(AT_ONCE);
  useEffect(
    () => () => {
      lanes.held.value = null;
    },
    [lanes],
  );
  const poolLanes = squad.pool.value?.lanes ?? 0;
  const inPool = Array.from({ length: poolLanes }, (_, place) => laneNumber(place + 1));
  const numbers = [...new Set([...inPool, ...swimmers.flatMap(({ lane }) => lane ?? [])])].sort((a, b) => a - b);
  const without = swimmersIn(swimmers, null);
  const shared = { lanes, drag, keysId, absences: desk.absences, isFixed: !isOwners(desk) };
  return (
    <div class="squad-lanes" data-dragging={drag.dragged.value ? '' : undefined}>
      <p id={keysId} class="quiet" hidden={shared.isFixed}>
        Drag a swimmer by the number, or press it and use the keys: up and down change the order, left and right the
        lane, a figure goes to that lane (0 to lane 10), Delete takes out of the lanes.
      </p>
      <LaneTools desk={desk} />
      {numbers.map((lane) => (
        <SquadLane
          key={lane}
          title={lane > poolLanes && poolLanes > 0 ? `Lane ${lane} (the pool has ${poolLanes})` : `Lane ${lane}`}
          lane={lane}
          swimmers={swimmersIn(swimmers, lane)}
          {...shared}
        />
      ))}
      {(without.length > 0 || drag.dragged.value) && (
        <SquadLane
          title="Without a lane (not on the sheet)"
          lane={null}
          swimmers={without.slice(0, shownWithout.value)}
          {...shared}
        />
      )}
      {without.length > shownWithout.value && (
        <button
          type="button"
          data-action="more-swimmers"
          onClick={() => {
            shownWithout.value += AT_ONCE;
          }}
        >
          Show {Math.min(AT_ONCE, without.length - shownWithout.value)} more of {without.length} without a lane
        </button>
      )}
    </div>
  );
}

import type { JSX } from 'preact';
import type { LaneNumber } from '../../shared-types/brand.ts';
import { eventText, howTaken, type Reference, referenceTime, type Swimmer } from '../../shared-types/squad.ts';
import type { AbsencesModel } from './absences-model.ts';
import { swimmerAddress } from './address.ts';
import { HereTick } from './here-tick.tsx';
import type { LaneDrag } from './lane-drag.ts';
import type { LanesModel } from './lanes-model.ts';
import { SwimmerHandle } from './swimmer-handle.tsx';

/** `200 free 2:08.40 SCM, test, by hand` */
function referenceText(reference: Reference): string {
  const { event, course, kind } = reference;
  const said = [course, ...(kind === 'best' ? [] : [kind]), ...howTaken(reference)].join(', ');
  return `${eventText(event)} ${referenceTime(reference)} ${said}`;
}

/** One line for each swimmer, so that the lanes are seen together: the time of the main event, else the first. */
function Times({ swimmer: { main, references } }: { swimmer: Swimmer }): JSX.Element {
  const ofMain = main && references.find(({ event }) => eventText(event) === eventText(main));
  const first = ofMain ?? references[0];
  if (!first) return <span class="quiet">no times, so no targets</span>;
  const others = references.length - 1;
  return (
    <>
      {referenceText(first)}
      {others > 0 && <span class="quiet"> and {others} more</span>}
    </>
  );
}

interface SquadLaneProps {
  readonly title: string;
  /** Null: of those who are in none. */
  readonly lane: LaneNumber | null;
  /** In the order in which they leave. */
  readonly swimmers: readonly Swimmer[];
  readonly lanes: LanesModel;
  readonly drag: LaneDrag;
  readonly absences: AbsencesModel;
  readonly keysId: string;
  /** Nobody is moved from here. */
  readonly isFixed: boolean;
}

/** Before which of the swimmers who is being carried would go; one more than there are: after the last. */
function dropPlace({ lane, swimmers, drag }: SquadLaneProps): string | null {
  const dragged = drag.dragged.value;
  if (!dragged?.to || dragged.to.lane !== lane) return null;
  const others = swimmers.filter(({ id }) => id !== dragged.swimmer);
  return others[dragged.to.place]?.id ?? 'last';
}

/** The swimmers of one lane in the order in which they leave. */
export function SquadLane(props: SquadLaneProps): JSX.Element {
  const { title, lane, swimmers, absences, ...moving } = props;
  const groups = [...new Set(swimmers.flatMap(({ group }) => group ?? []))];
  const before = dropPlace(props);
  const carried = props.drag.dragged.value?.swimmer;
  return (
    <table class="squad-lane" data-lane-drop={lane ?? 'none'} data-drop-last={before === 'last' ? '' : undefined}>
      <caption>
        <strong>{title}</strong> {groups.length > 0 && <span>group {groups.join(', ')}</span>}
      </caption>
      <thead>
        <tr>
          <th scope="col">Leaves</th>
          <th scope="col">Swimmer</th>
          <th scope="col">Here</th>
          <th scope="col">Times targets come from</th>
        </tr>
      </thead>
      <tbody>
        {swimmers.map((swimmer, place) => (
          <tr
            key={swimmer.id}
            data-swimmer={swimmer.id}
            data-away={absences.away.value.has(swimmer.id) ? '' : undefined}
            data-carried={carried === swimmer.id ? '' : undefined}
            data-drop-before={before === swimmer.id ? '' : undefined}
          >
            <td class="at">
              <SwimmerHandle {...moving} swimmer={swimmer} place={place + 1} />
            </td>
            <th scope="row">
              <a href={swimmerAddress(swimmer.id)}>
                <bdi>{swimmer.name}</bdi>
              </a>
            </th>
            <td>
              <HereTick absences={absences} swimmer={swimmer} />
            </td>
            <td>
              <Times swimmer={swimmer} />
            </td>
          </tr>
        ))}
        {swimmers.length === 0 && (
          <tr>
            <td />
            <td colSpan={3} class="quiet">
              nobody
            </td>
          </tr>
        )}
      </tbody>
    </table>
  );
}

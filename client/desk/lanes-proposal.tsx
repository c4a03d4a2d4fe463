import type { JSX } from 'preact';
import { isolated } from '../../shared-types/isolated.ts';
import { eventText } from '../../shared-types/squad.ts';
import type { LanesProposal, ProposedLane } from '../../shared-types/wire/lanes.ts';
import type { Desk } from './desk.ts';
import { isOwners } from './for-owners.tsx';
import { figureWords, timeWords, whyWords } from './lane-words.ts';
import { Modal } from './modal.tsx';

function OneLane({ lane }: { lane: ProposedLane }): JSX.Element {
  return (
    <table class="preview-rows" data-proposed-lane={lane.lane}>
      <caption>
        Lane {lane.lane} <span class="quiet">{figureWords(lane)}</span>
      </caption>
      <thead>
        <tr>
          <th scope="col" class="name">
            Swimmer
          </th>
          <th scope="col" class="time">
            Time
          </th>
          <th scope="col">Where it comes from</th>
        </tr>
      </thead>
      <tbody>
        {lane.swimmers.map((swimmer) => (
          <tr key={swimmer.id}>
            <th scope="row">
              <bdi>{swimmer.name}</bdi>
            </th>
            <td>{timeWords(swimmer)}</td>
            <td>{whyWords(swimmer, lane.lane)}</td>
          </tr>
        ))}
        {lane.swimmers.length === 0 && (
          <tr>
            <td colSpan={3} class="quiet">
              nobody
            </td>
          </tr>
        )}
      </tbody>
    </table>
  );
}

function Without({ without }: Pick<LanesProposal, 'without'>): JSX.Element | null {
  if (without.length === 0) return null;
  return (
    <section>
      <h3>Without a time</h3>
      <ul>
        {without.map(({ name, missing, laneNow }) => (
          <li key={name}>
            <bdi>{name}</bdi>: {missing}; {laneNow === null ? 'gets no lane' : `stays in lane ${laneNow}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Away({ desk: { absences, squad } }: { desk: Desk }): JSX.Element | null {
  const away = (squad.squad.value?.swimmers ?? []).filter(({ id }) => absences.away.value.has(id));
  if (away.length === 0) return null;
  return <p>Away today and left in their lanes: {away.map(({ name }) => isolated(name)).join(', ')}.</p>;
}

/** Proposed lanes, before anything is changed. */
export function LanesProposalDialog({ desk }: { desk: Desk }): JSX.Element | null {
  const { lanes } = desk;
  const open = lanes.proposed.value;
  if (!open) return null;
  const { question, proposal } = open;
  return (
    <Modal title={`Lanes by ${eventText(question.event)}, ${question.course}`} wide onLeave={lanes.leave}>
      <p>
        Swimmers of like speed together, lane 1 the fastest, at most {question.capacity} a lane: the squared differences
        from the lanes’ means add up to the least there can be, {(proposal.sumOfSquares / 1e6).toFixed(2)} s². A time
        with ~ is estimated.
      </p>
      <div class="preview-lists">
        {proposal.lanes.map((lane) => (
          <OneLane key={lane.lane} lane={lane} />
        ))}
        <Without without={proposal.without} />
        <Away desk={desk} />
      </div>
      <div class="choices">
        <button type="button" data-action="leave-proposal" onClick={lanes.leave}>
          Change nothing
        </button>
        <button
          type="button"
          class="strong"
          data-action="take-lanes"
          disabled={!isOwners(desk)}
          onClick={() => void lanes.take()}
        >
          Take these lanes
        </button>
      </div>
    </Modal>
  );
}

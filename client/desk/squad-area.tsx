import type { JSX } from 'preact';
import { hereWords } from './absences-model.ts';
import { NEW_SWIMMER, swimmerAddress } from './address.ts';
import { DemoLine } from './demo-line.tsx';
import type { Desk } from './desk.ts';
import { ForOwners, isOwners } from './for-owners.tsx';
import { LanesForm } from './lanes-form.tsx';
import { PoolForm } from './pool-form.tsx';
import { DeletedNote, PrivacyCard } from './privacy-card.tsx';
import { ProblemNote } from './problem-note.tsx';
import { SquadLanes } from './squad-lanes.tsx';
import { SquadLoad } from './squad-load.tsx';
import { undoWords } from './squad-preview-words.ts';
import { SwimmerUndo } from './swimmer-page.tsx';

function Swimmers({ desk }: { desk: Desk }): JSX.Element {
  const { squad, problem } = desk.squad;
  const answer = squad.value;
  if (!answer) return <p class="quiet">{problem.value ? 'The squad is not known.' : 'Loading the squad…'}</p>;
  if (answer.swimmers.length === 0) {
    return (
      <div class="no-sheet">
        <h3>No swimmers yet</h3>
        <p>
          Load them from a CSV file, or add them one by one. Every swimmer with a lane gets a place on the sheet, and
          targets from the times.
        </p>
      </div>
    );
  }
  return <SquadLanes desk={desk} swimmers={answer.swimmers} />;
}

function UndoLoad({ desk: { squadFile } }: { desk: Desk }): JSX.Element | null {
  const before = squadFile.before.value;
  if (!before) return null;
  return (
    <button
      type="button"
      class="undo-load"
      data-action="undo-load"
      disabled={squadFile.busy.value}
      onClick={() => void squadFile.undo()}
    >
      {undoWords(before)}
    </button>
  );
}

/** Who swims, where, and what pool they swim in. */
export function SquadArea({ desk }: { desk: Desk }): JSX.Element {
  const answer = desk.squad.squad.value;
  return (
    <div class="squad">
      <section class="squad-list" aria-label="Swimmers">
        <div class="squad-title">
          <h2>Squad</h2>
          {answer && answer.swimmers.length > 0 && (
            <p class="quiet">{hereWords(answer.swimmers, desk.absences.away.value)}</p>
          )}
          {isOwners(desk) && (
            <a class="new-swimmer" href={swimmerAddress(NEW_SWIMMER)} data-action="new-swimmer">
              Add a swimmer
            </a>
          )}
          {answer && answer.swimmers.length > 0 && (
            <a class="export-squad" href="/api/squad.csv" download data-action="export-squad">
              Save as CSV
            </a>
          )}
        </div>
        <DemoLine desk={desk} isHere={answer?.demo === true} mark="invented demo squad" />
        <Swimmers desk={desk} />
      </section>
      <div class="squad-side">
        <p class="done" role="status">
          {desk.squad.done.value}
        </p>
        <DeletedNote desk={desk} />
        <SwimmerUndo desk={desk} />
        {isOwners(desk) && (
          <>
            <UndoLoad desk={desk} />
            <SquadLoad desk={desk} />
          </>
        )}
        {desk.squad.pool.value && answer && answer.swimmers.length > 0 && (
          <LanesForm desk={desk} pool={desk.squad.pool.value} />
        )}
        {desk.squad.pool.value ? (
          <ForOwners desk={desk}>
            <PoolForm desk={desk} pool={desk.squad.pool.value} />
          </ForOwners>
        ) : (
          <ProblemNote problem={desk.squad.poolProblem.value} />
        )}
        {desk.privacy.privacy.value && <PrivacyCard desk={desk} stored={desk.privacy.privacy.value} />}
      </div>
    </div>
  );
}

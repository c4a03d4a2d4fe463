import type { JSX } from 'preact';
import { isolated } from '../../shared-types/isolated.ts';
import type { SquadProblem, SwimmerChanges } from '../../shared-types/wire/squad.ts';
import type { Desk } from './desk.ts';
import { Modal } from './modal.tsx';
import { ProblemNote } from './problem-note.tsx';
import type { SquadLook } from './squad-file-model.ts';
import {
  changesNothing,
  changeWords,
  countWords,
  factWords,
  leftOutWords,
  loadWords,
  ofKind,
  rowWords,
} from './squad-preview-words.ts';

function BadRows({ rows }: { rows: readonly SquadProblem[] }): JSX.Element | null {
  if (rows.length === 0) return null;
  return (
    <table class="preview-rows" data-bad-rows={rows.length}>
      <caption>What cannot be read</caption>
      <thead>
        <tr>
          <th scope="col" class="number">
            Line
          </th>
          <th scope="col" class="number">
            Column
          </th>
          <th scope="col">What is wrong</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ line, column, message, fix }) => (
          <tr key={`${line}:${column}:${message}`} data-bad-row={line}>
            <td>{line}</td>
            <td>{column}</td>
            <td>
              {message}
              {fix && <span class="fix">; {fix}</span>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** A row a change; the swimmer's name stands at the first of theirs. */
function Changed({ swimmers }: { swimmers: readonly SwimmerChanges[] }): JSX.Element | null {
  if (swimmers.length === 0) return null;
  return (
    <table class="preview-rows">
      <caption>Changed</caption>
      <thead>
        <tr>
          <th scope="col" class="name">
            Swimmer
          </th>
          <th scope="col">What</th>
          <th scope="col">Now → then</th>
          <th scope="col" class="number">
            Line
          </th>
        </tr>
      </thead>
      {swimmers.map(({ name, changes }) => (
        <tbody key={name} data-changed={name}>
          {changes.map((change, place) => (
            <tr key={`${change.what}:${change.was}:${change.becomes}`}>
              {place === 0 && (
                <th scope="rowgroup" rowSpan={changes.length}>
                  <bdi>{name}</bdi>
                </th>
              )}
              <td>{change.what}</td>
              <td>{changeWords(change)}</td>
              <td>{change.line ?? ''}</td>
            </tr>
          ))}
        </tbody>
      ))}
    </table>
  );
}

interface ComeOrGoProps {
  readonly title: string;
  readonly swimmers: readonly SwimmerChanges[];
}

function ComeOrGo({ title, swimmers }: ComeOrGoProps): JSX.Element | null {
  if (swimmers.length === 0) return null;
  const hasLines = swimmers.some(({ line }) => line !== null);
  return (
    <table class="preview-rows">
      <caption>{title}</caption>
      <thead>
        <tr>
          <th scope="col" class="name">
            Swimmer
          </th>
          <th scope="col">With</th>
          {hasLines && (
            <th scope="col" class="number">
              Line
            </th>
          )}
        </tr>
      </thead>
      <tbody>
        {swimmers.map((swimmer) => (
          <tr key={swimmer.name} data-preview={swimmer.kind}>
            <th scope="row">
              <bdi>{swimmer.name}</bdi>
            </th>
            <td>{factWords(swimmer)}</td>
            {hasLines && <td>{swimmer.line}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Counts({ look: { preview } }: { look: SquadLook }): JSX.Element {
  return (
    <>
      <p>{rowWords(preview)}</p>
      {preview.leftOut.length > 0 && <p data-left-out>{leftOutWords(preview)}</p>}
      {preview.canBeLoaded && (
        <ul class="preview-counts" aria-label="Swimmers">
          {countWords(preview).map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      {preview.canBeLoaded && changesNothing(preview) && <p>Loading it would change nothing.</p>}
      {preview.canBeLoaded && preview.badRows > 0 && (
        <p class="quiet">
          A swimmer with a row that is left out keeps the place and the times of now, where the good rows say nothing
          new.
        </p>
      )}
      {!preview.canBeLoaded && preview.problems.length > 0 && <p>Mend this first; nothing of it can be loaded.</p>}
    </>
  );
}

/** What loading a file would change: counts, what cannot be read, then swimmer by swimmer. */
export function SquadPreviewDialog({ desk, onLoaded }: { desk: Desk; onLoaded: () => void }): JSX.Element | null {
  const { squadFile } = desk;
  const look = squadFile.look.value;
  if (!look) return null;
  const { preview, fileName } = look;
  const load = async (): Promise<void> => {
    if (await squadFile.load()) onLoaded();
  };
  return (
    <Modal title={`What ${isolated(fileName)} would change`} wide onLeave={squadFile.leave}>
      <Counts look={look} />
      <div class="preview-lists">
        <BadRows rows={preview.problems} />
        {preview.canBeLoaded && (
          <>
            <ComeOrGo title="Not in the file, taken out of the squad" swimmers={ofKind(preview, 'removed')} />
            <Changed swimmers={ofKind(preview, 'changed')} />
            <ComeOrGo title="New" swimmers={ofKind(preview, 'added')} />
          </>
        )}
      </div>
      <ProblemNote problem={squadFile.problem.value} />
      <div class="choices">
        <button type="button" data-action="leave-preview" onClick={squadFile.leave}>
          Change nothing
        </button>
        {preview.canBeLoaded && (
          <button
            type="button"
            class="strong"
            data-action="load-previewed"
            disabled={squadFile.busy.value}
            onClick={() => void load()}
          >
            {loadWords(preview)}
          </button>
        )}
      </div>
    </Modal>
  );
}

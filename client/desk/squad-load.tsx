import { type Signal, useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Desk } from './desk.ts';
import { FileButton } from './file-button.tsx';
import { ProblemNote } from './problem-note.tsx';
import { SquadPreviewDialog } from './squad-preview.tsx';
import { dropTarget, type TextFile } from './text-file.ts';

const PASTED = 'the pasted text';
const EXAMPLE = `swimmer,lane,order,group,event,course,time
Ida Moren,1,1,A,200 free,SCM,2:08.40
,,,,100 free,SCM,59.80
Tom Aske,1,2,A,200 free,SCM,2:10.15`;

function Format(): JSX.Element {
  return (
    <details>
      <summary>How the file has to look</summary>
      <p>
        One row a reference time, with a header row. Columns in any order: <code>swimmer</code>, <code>event</code>,{' '}
        <code>course</code> and <code>time</code> are needed; <code>lane</code>, <code>order</code>, <code>group</code>,{' '}
        <code>category</code>, <code>main</code>, <code>short</code>, <code>kind</code>, <code>date</code>,{' '}
        <code>half</code>, <code>splits</code>, <code>start</code> and <code>hand</code> may be there. Below a swimmer's
        first row the swimmer's own cells may be empty.
      </p>
      <p>
        <code>kind</code> is <code>best</code>, <code>goal</code> or <code>test</code>. A 30-minute test is its distance
        with the time 30:00. <code>mean</code> is for the mean of a set, written as the event:{' '}
        <code>12 x 50 free @ 1:30</code>. <code>start</code> is <code>push</code> or <code>dive</code>,{' '}
        <code>hand</code> is <code>yes</code> for a time taken by hand. <code>splits</code> are of equal lengths,{' '}
        <code>28.1 30.2 30.9 30.8</code>.
      </p>
      <pre>{EXAMPLE}</pre>
    </details>
  );
}

function useFile(): { file: Signal<TextFile>; take: (file: TextFile) => void } {
  const file = useSignal<TextFile>({ name: PASTED, text: '' });
  return {
    file,
    take: (next) => {
      file.value = next;
    },
  };
}

/** The squad from a CSV: picked, dropped or pasted. What it would change is shown first. */
export function SquadLoad({ desk }: { desk: Desk }): JSX.Element {
  const { file, take } = useFile();
  const areaId = useId();
  const { problem, busy, look } = desk.squadFile;
  return (
    <section class="card" aria-label="Load a squad" {...dropTarget(take)}>
      <h2>Load a squad</h2>
      <div class="squad-file">
        <FileButton label="Choose a CSV file" accept=".csv,text/csv,text/plain" onFile={take} />
        <span class="quiet">or drop it here, or paste it below</span>
      </div>
      <label for={areaId}>
        Squad as CSV{' '}
        {file.value.name !== PASTED && (
          <span class="quiet">
            from <bdi>{file.value.name}</bdi>
          </span>
        )}
      </label>
      <textarea
        id={areaId}
        rows={7}
        spellcheck={false}
        wrap="off"
        data-squad-text
        value={file.value.text}
        onInput={({ currentTarget }) => take({ name: file.value.name, text: currentTarget.value })}
      />
      <div class="actions">
        <button
          type="button"
          class="strong"
          data-action="preview-squad"
          disabled={busy.value || file.value.text.trim() === ''}
          onClick={() => void desk.squadFile.lookAt(file.value.text, file.value.name)}
        >
          Show what would change
        </button>
      </div>
      {!look.value && <ProblemNote problem={problem.value ?? desk.squad.problem.value} />}
      <Format />
      <SquadPreviewDialog desk={desk} onLoaded={() => take({ name: PASTED, text: '' })} />
    </section>
  );
}

import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Desk } from './desk.ts';
import { FileButton } from './file-button.tsx';
import { FilesProgress } from './files-progress.tsx';
import { isOwners } from './for-owners.tsx';
import { PRACTICE_KEYS } from './keys.ts';
import { KeyHint } from './keys-dialog.tsx';
import { MoreActions } from './more-actions.tsx';
import { ProblemNote } from './problem-note.tsx';
import { titleOf } from './title.ts';

/** Where the text stands, in words. */
function savedWords({ manuscript }: Desk): string {
  const open = manuscript.open.value;
  if (!open) return '';
  if (manuscript.saving.value) return 'Saving…';
  if (open.baseVersion === 0)
    return manuscript.changed.value ? 'Not saved yet; kept in this browser' : 'Nothing written yet';
  return manuscript.changed.value
    ? `Changed since version ${open.baseVersion}; kept in this browser`
    : `Saved, version ${open.baseVersion}`;
}

/** Why the practice cannot go on the wall now; null when it can. */
function hindrance({ manuscript, preview, squad, link }: Desk): string | null {
  if (manuscript.text.value.trim() === '') return 'There is no text to put on the wall yet.';
  if (link.state.value === 'alone') return 'The server cannot be reached.';
  if (preview.makesSheet.value === false) return 'The text has errors; with them there is no sheet.';
  const swimmers = squad.squad.value?.swimmers ?? [];
  if (squad.squad.value && !swimmers.some(({ lane }) => lane !== undefined))
    return 'Nobody in the squad has a lane yet.';
  return null;
}

function UndoButton({ desk }: { desk: Desk }): JSX.Element | null {
  const { manuscript, library } = desk;
  const open = manuscript.open.value;
  if (!open || !manuscript.changed.value) return null;
  const [label, act] =
    open.baseVersion === 0
      ? ['Discard', () => void library.discard(open.id)]
      : [`Back to version ${open.baseVersion}`, manuscript.revert];
  return (
    <button type="button" class="plain" onClick={act}>
      {label}
    </button>
  );
}

/** What the open practice is called, where it stands, and what can be done with it. */
export function PracticeBar({ desk, onFile }: { desk: Desk; onFile: (text: string) => void }): JSX.Element {
  const { link, manuscript, preview, wall } = desk;
  const reasonId = useId();
  const reason = hindrance(desk);
  const isReady = reason === null && preview.makesSheet.value === true && !wall.busy.value;
  return (
    <div class="practice-bar">
      <div class="practice-name">
        <h2>
          <bdi>{titleOf(manuscript.text.value)}</bdi>
        </h2>
        <p class="quiet" role="status" data-saved={String(!manuscript.changed.value)}>
          {savedWords(desk)}
        </p>
        <p class="reason" id={reasonId}>
          {reason}
        </p>
      </div>
      <div class="actions">
        <UndoButton desk={desk} />
        <FileButton
          label="Open files"
          accept=".txt,.md,text/plain"
          onFile={({ text }) => onFile(text)}
          onFiles={(files) => void desk.files.take(files)}
        />
        <MoreActions desk={desk} />
        <button
          type="button"
          data-action="save"
          disabled={!manuscript.changed.value || manuscript.saving.value || !isOwners(desk)}
          onClick={() => void manuscript.save()}
        >
          Save <KeyHint of={PRACTICE_KEYS.save} />
        </button>
        <button
          type="button"
          class="strong"
          data-action="put-on-wall"
          disabled={!isReady}
          aria-describedby={reasonId}
          onClick={() => void wall.putOn()}
        >
          Put on the wall
        </button>
      </div>
      <div class="bar-notes">
        <FilesProgress desk={desk} />
        <ProblemNote problem={manuscript.problem.value} />
        <ProblemNote problem={wall.problem.value} />
        <ProblemNote problem={link.state.value === 'live' ? preview.problem.value : null} />
      </div>
    </div>
  );
}

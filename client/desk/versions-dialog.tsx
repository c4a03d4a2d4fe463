import type { JSX } from 'preact';
import type { Desk } from './desk.ts';
import { savedDay } from './library-list.tsx';
import { Modal } from './modal.tsx';
import { ProblemNote } from './problem-note.tsx';
import { type ComparedLine, comparedLines } from './versions-model.ts';

const SAID = { both: '', old: 'only in this version: ', new: 'only in the editor: ' } as const;

function Line({ line }: { line: ComparedLine }): JSX.Element {
  return (
    <li data-in={line.in} translate={false}>
      <span class="visually-hidden">{SAID[line.in]}</span>
      {line.in === 'both' ? line.text : <mark translate={false}>{line.text}</mark>}
    </li>
  );
}

/** The saved versions of the open practice, each held against the text in the editor. */
export function VersionsDialog({ desk }: { desk: Desk }): JSX.Element | null {
  const { versions, manuscript } = desk;
  const known = versions.versions.value;
  if (!known) return null;
  const shown = versions.shown.value;
  const lines = shown ? comparedLines(shown.text, manuscript.text.value) : [];
  const isSame = lines.every((line) => line.in === 'both');
  return (
    <Modal title="Versions of this practice" wide onLeave={versions.close}>
      <ProblemNote problem={versions.problem.value} />
      <div class="versions">
        <ul aria-label="Versions">
          {known.map(({ version, savedAt, title }) => (
            <li key={version}>
              <button
                type="button"
                data-version={version}
                aria-current={shown?.version === version ? 'true' : undefined}
                onClick={() => void versions.show(version)}
              >
                <strong>Version {version}</strong>
                <span class="quiet">{savedDay(savedAt)}</span>
                <bdi class="quiet">{title}</bdi>
              </button>
            </li>
          ))}
        </ul>
        {shown && (
          <section aria-label={`Version ${shown.version} beside the editor`}>
            <p class="quiet">
              {isSame
                ? 'The text in the editor is this version.'
                : '− only in this version, + only in the editor; all other lines are in both.'}
            </p>
            <ol class="compared" data-compared={shown.version}>
              {lines.map((line, place) => (
                <Line key={`${place} ${line.in}`} line={line} />
              ))}
            </ol>
          </section>
        )}
      </div>
      <div class="choices">
        <button type="button" data-answer="no" onClick={versions.close}>
          Leave it as it is
        </button>
        <button type="button" class="strong" data-answer="yes" disabled={!shown || isSame} onClick={versions.takeShown}>
          {shown ? `Put version ${shown.version} into the editor` : 'Put it into the editor'}
        </button>
      </div>
    </Modal>
  );
}

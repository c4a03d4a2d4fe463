import type { JSX } from 'preact';
import type { Desk } from './desk.ts';
import { Modal } from './modal.tsx';

interface TextProps {
  readonly heading: string;
  readonly text: string;
  readonly other: string;
}

/** One of the two texts, its lines that the other has not set off. */
function OneText({ heading, text, other }: TextProps): JSX.Element {
  const known = new Set(other.split('\n').map((line) => line.trim()));
  return (
    <section>
      <h3>{heading}</h3>
      <ol class="version">
        {text.split('\n').map((line, place) => (
          <li key={`${place}:${line}`} translate={false}>
            {known.has(line.trim()) ? line : <mark translate={false}>{line}</mark>}
          </li>
        ))}
      </ol>
    </section>
  );
}

/** Two people wrote the same practice: both texts, and the choice. Nothing is stored before it is made. */
export function Conflict({ desk }: { desk: Desk }): JSX.Element | null {
  const { manuscript } = desk;
  const conflict = manuscript.conflict.value;
  if (!conflict) return null;
  const { mine, theirs } = conflict;
  return (
    <Modal title="This practice was saved elsewhere meanwhile" wide onLeave={() => void manuscript.settle('later')}>
      <p>
        Version {theirs.version} is newer than the one you started from. Lines that only one of the two has are marked.
        Nothing is lost: every saved version is kept, and Ctrl+Z brings your own text back.
      </p>
      <div class="two-texts">
        <OneText heading="Yours" text={mine} other={theirs.text} />
        <OneText heading={`Saved elsewhere (version ${theirs.version})`} text={theirs.text} other={mine} />
      </div>
      <div class="choices">
        <button type="button" data-answer="later" onClick={() => void manuscript.settle('later')}>
          Decide later
        </button>
        <button type="button" data-answer="theirs" onClick={() => void manuscript.settle('theirs')}>
          Take the other
        </button>
        <button type="button" class="strong" data-answer="mine" onClick={() => void manuscript.settle('mine')}>
          Save mine as the newest
        </button>
      </div>
    </Modal>
  );
}

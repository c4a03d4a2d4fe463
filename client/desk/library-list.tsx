import type { JSX } from 'preact';
import type { Desk } from './desk.ts';
import type { LibraryEntry } from './library.ts';
import { ProblemNote } from './problem-note.tsx';

const DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

const savedWords = ({ savedAt, unsaved }: LibraryEntry): string => {
  if (savedAt === null) return 'not saved yet';
  return unsaved ? 'changed, not saved' : DAY.format(savedAt);
};

function Entry({ desk, entry }: { desk: Desk; entry: LibraryEntry }): JSX.Element {
  const isOpen = desk.manuscript.open.value?.id === entry.id;
  return (
    <li>
      <button
        type="button"
        data-practice={entry.id}
        aria-current={isOpen ? 'true' : undefined}
        onClick={() => void desk.library.choose(entry.id)}
      >
        <span class="name">{entry.title}</span>
        <span class="when">
          {entry.demo && <span class="badge">demo</span>}
          {savedWords(entry)}
        </span>
      </button>
    </li>
  );
}

export function LibraryList({ desk }: { desk: Desk }): JSX.Element {
  const { entries, known, problem } = desk.library;
  return (
    <section class="library" aria-label="Practices">
      <div class="library-head">
        <h2>Practices</h2>
        <button
          type="button"
          data-action="new-practice"
          onClick={() => {
            desk.library.startNew('');
            desk.jumpTo({ line: 1, column: 1 });
          }}
        >
          New
        </button>
      </div>
      <ProblemNote problem={problem.value} />
      {!known.value && !problem.value && <p class="quiet">Loading…</p>}
      <ul>
        {entries.value.map((entry) => (
          <Entry key={entry.id} desk={desk} entry={entry} />
        ))}
      </ul>
    </section>
  );
}

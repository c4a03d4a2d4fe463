import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { DemoLine } from './demo-line.tsx';
import type { Desk } from './desk.ts';
import type { LibraryEntry } from './library.ts';
import { LibrarySearchFields } from './library-search-fields.tsx';
import { ProblemNote } from './problem-note.tsx';

const DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

/** `15 Jan, 18:05`, by the browser's clock. */
export const savedDay = (savedAt: number): string => DAY.format(savedAt);

const savedWords = ({ savedAt, unsaved }: LibraryEntry): string => {
  if (savedAt === null) return 'not saved yet';
  return unsaved ? 'changed, not saved' : savedDay(savedAt);
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
        <span class="name" translate={false}>
          <bdi>{entry.title}</bdi>
        </span>
        <span class="when">
          {entry.demo && <span class="badge">demo</span>}
          {savedWords(entry)}
        </span>
      </button>
    </li>
  );
}

/** What is found, in the order found; null until the server has told. */
function foundAmong({ library, search }: Desk): readonly LibraryEntry[] | null {
  const known = new Map(library.entries.value.map((entry) => [entry.id, entry]));
  return search.found.value?.practices.flatMap(({ id }) => known.get(id) ?? []) ?? null;
}

/** More are shown on asking: a library of years would make a page slow. */
const AT_ONCE = 100;

function Entries({ desk, entries }: { desk: Desk; entries: readonly LibraryEntry[] | null }): JSX.Element {
  const [shown, setShown] = useState(AT_ONCE);
  const isSearch = desk.search.isAsked.value;
  if (!entries) return <p class="quiet">Looking…</p>;
  return (
    <>
      {isSearch && (
        <p class="quiet" role="status" data-found={entries.length}>
          {entries.length === 0 ? 'None has all of that.' : `${entries.length} found`}
          {desk.search.found.value?.more && ', and more'}
        </p>
      )}
      <ul>
        {entries.slice(0, shown).map((entry) => (
          <Entry key={entry.id} desk={desk} entry={entry} />
        ))}
      </ul>
      {entries.length > shown && (
        <button type="button" data-action="more-practices" onClick={() => setShown(shown + AT_ONCE)}>
          Show more
        </button>
      )}
    </>
  );
}

function Removed({ desk: { library } }: { desk: Desk }): JSX.Element | null {
  const removed = library.removed.value;
  if (!removed) return null;
  return (
    <p class="removed" role="status">
      “<bdi>{removed.title}</bdi>” is deleted.{' '}
      <button type="button" class="plain" data-action="undo-delete" onClick={() => void library.undoRemove()}>
        Undo
      </button>
    </p>
  );
}

export function LibraryList({ desk }: { desk: Desk }): JSX.Element {
  const { entries, known, problem } = desk.library;
  return (
    <section class="library" aria-label="Practices">
      <div class="library-head">
        <h2>Practices</h2>
        <button type="button" data-action="new-practice" onClick={desk.writeNew}>
          New
        </button>
      </div>
      <LibrarySearchFields desk={desk} />
      <DemoLine desk={desk} isHere={entries.value.some(({ demo }) => demo)} mark="demo" />
      <Removed desk={desk} />
      <ProblemNote problem={problem.value ?? desk.search.problem.value} />
      {!known.value && !problem.value && <p class="quiet">Loading…</p>}
      <Entries desk={desk} entries={desk.search.isAsked.value ? foundAmong(desk) : entries.value} />
    </section>
  );
}

import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import { placeIn } from './address.ts';
import type { Desk } from './desk.ts';
import { isOwners } from './for-owners.tsx';
import { isMac } from './key-strokes.ts';
import { isKey, MENU_KEYS } from './keys.ts';
import { usePaper } from './on-paper.ts';
import { LaneCards, PracticePaper } from './practice-paper.tsx';
import type { ShownSheet } from './preview-model.ts';
import { titleOf } from './title.ts';

/** As a file's name: what no system allows in one is left out. */
const fileNameOf = (title: string): string => `${title.replace(/[\\/:*?"<>|\p{Cc}]+/gu, ' ').trim() || 'practice'}.txt`;

function saveAsFile(text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/plain;charset=utf-8' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileNameOf(titleOf(text));
  link.click();
  URL.revokeObjectURL(address);
}

/** Null while the sheet that is shown is not that of the text as it stands. */
const currentOf = (shown: ShownSheet | null) => (shown && !shown.fromBefore ? shown.preview : null);

/** Null when it is not the practice that is looked at, or it has no sheet. */
function paperOf({ preview, manuscript, squad }: Desk, what: 'practice' | 'cards') {
  const current = currentOf(preview.shown.peek());
  if (!current?.sheet || placeIn(location.hash).area !== 'practice') return null;
  const { sheet, labels } = current;
  const [title, text] = [titleOf(manuscript.text.peek()), manuscript.text.peek()];
  return what === 'practice'
    ? { title, shown: <PracticePaper text={text} sheet={sheet} pool={squad.pool.peek()} /> }
    : { title, shown: <LaneCards sheet={sheet} labels={labels} /> };
}

/** What is done with a practice now and then. */
export function MoreActions({ desk }: { desk: Desk }): JSX.Element | null {
  const { manuscript, library, versions } = desk;
  const details = useRef<HTMLDetailsElement>(null);
  const open = manuscript.open.value;
  const sheet = currentOf(desk.preview.shown.value)?.sheet;
  const print = usePaper<'practice' | 'cards'>('practice', (what) => paperOf(desk, what));
  if (!open) return null;
  const isStored = open.baseVersion > 0;
  const close = (): void => {
    if (!details.current?.open) return;
    details.current.open = false;
    details.current.querySelector('summary')?.focus();
  };
  const act = (work: () => void) => (): void => {
    close();
    work();
  };
  return (
    <details
      class="more-actions"
      ref={details}
      onKeyDown={(event) => {
        if (isKey(MENU_KEYS.close, event, isMac())) close();
      }}
      onFocusOut={({ currentTarget, relatedTarget }) => {
        // Without a target nothing says that something else has the focus now.
        if (relatedTarget instanceof Node && !currentTarget.contains(relatedTarget)) currentTarget.open = false;
      }}
    >
      <summary>More</summary>
      <div>
        <button type="button" data-action="copy" onClick={act(() => library.copy(manuscript.text.value))}>
          Make a copy
        </button>
        <button
          type="button"
          data-action="versions"
          disabled={!isStored}
          onClick={act(() => void versions.open(open.id))}
        >
          Versions…
        </button>
        <button type="button" data-action="save-as-file" onClick={act(() => saveAsFile(manuscript.text.value))}>
          Save as a text file
        </button>
        <button type="button" data-action="print-practice" disabled={!sheet} onClick={act(() => print('practice'))}>
          Print it on one page
        </button>
        <button
          type="button"
          data-action="print-cards"
          disabled={!sheet?.lanes.length}
          onClick={act(() => print('cards'))}
        >
          Print a card for each lane
        </button>
        <button
          type="button"
          data-action="delete"
          disabled={!isStored || !isOwners(desk)}
          onClick={act(() => void library.remove(open.id))}
        >
          Delete
        </button>
      </div>
    </details>
  );
}

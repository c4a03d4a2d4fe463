import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { Desk } from './desk.ts';
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

/** What is done with a practice now and then. */
export function MoreActions({ desk }: { desk: Desk }): JSX.Element | null {
  const { manuscript, library, versions } = desk;
  const details = useRef<HTMLDetailsElement>(null);
  const open = manuscript.open.value;
  if (!open) return null;
  const isStored = open.baseVersion > 0;
  const act = (work: () => void) => (): void => {
    if (details.current) details.current.open = false;
    work();
  };
  return (
    <details class="more-actions" ref={details}>
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
        <button
          type="button"
          data-action="delete"
          disabled={!isStored}
          onClick={act(() => void library.remove(open.id))}
        >
          Delete
        </button>
      </div>
    </details>
  );
}

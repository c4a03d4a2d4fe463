import type { JSX } from 'preact';
import type { Desk } from './desk.ts';
import { Editor } from './editor.tsx';
import { LibraryList } from './library-list.tsx';
import { MessageList } from './message-list.tsx';
import { PracticeBar } from './practice-bar.tsx';
import { SheetView } from './sheet-view.tsx';
import { dropTarget } from './text-file.ts';
import { VersionsDialog } from './versions-dialog.tsx';

/** Where practices are written: the library, the text with its messages, and the sheet as it will be. */
export function PracticeArea({ desk }: { desk: Desk }): JSX.Element {
  const openFile = (text: string): void => desk.library.startNew(text);
  return (
    <div class="practice">
      <LibraryList desk={desk} />
      <VersionsDialog desk={desk} />
      <div class="work">
        <PracticeBar desk={desk} onFile={openFile} />
        <section
          class="text"
          aria-label="Text"
          {...dropTarget(
            ({ text }) => openFile(text),
            (files) => void desk.files.take(files),
          )}
        >
          <Editor desk={desk} />
          <MessageList desk={desk} />
        </section>
        <SheetView desk={desk} />
      </div>
    </div>
  );
}

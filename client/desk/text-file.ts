/** A text file the coach chose or dropped. */
export interface TextFile {
  readonly name: string;
  readonly text: string;
}

type OnFiles = (files: readonly File[]) => void;

/** @param onFiles takes several, unread; absent: the first of them is read */
async function readInto(
  list: FileList | null | undefined,
  onText: (file: TextFile) => void,
  onFiles?: OnFiles,
): Promise<void> {
  const files = [...(list ?? [])];
  if (files.length > 1 && onFiles) return onFiles(files);
  const [file] = files;
  if (file) onText({ name: file.name, text: await file.text() });
}

/** Reads what was chosen, and empties the picker so that the same file can be chosen again after a change. */
export async function readChosen(
  input: HTMLInputElement,
  onText: (file: TextFile) => void,
  onFiles?: OnFiles,
): Promise<void> {
  await readInto(input.files, onText, onFiles);
  input.value = '';
}

interface DropHandlers {
  readonly onDragOver: (event: DragEvent) => void;
  readonly onDropCapture: (event: DragEvent) => void;
}

/** Takes a dropped file before anything inside does; dragged text is left alone. */
export const dropTarget = (onText: (file: TextFile) => void, onFiles?: OnFiles): DropHandlers => ({
  onDragOver: (event) => {
    if (event.dataTransfer?.types.includes('Files')) event.preventDefault();
  },
  onDropCapture: (event) => {
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    event.stopPropagation();
    void readInto(event.dataTransfer.files, onText, onFiles);
  },
});

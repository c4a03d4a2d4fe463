/** A text file the coach chose or dropped. */
export interface TextFile {
  readonly name: string;
  readonly text: string;
}

/** The first file of a list, read as text; null when there is none. */
async function firstText(files: FileList | null | undefined): Promise<TextFile | null> {
  const file = files?.[0];
  return file ? { name: file.name, text: await file.text() } : null;
}

async function readInto(files: FileList | null | undefined, onText: (file: TextFile) => void): Promise<void> {
  const read = await firstText(files);
  if (read) onText(read);
}

/** Reads what was chosen, and empties the picker so that the same file can be chosen again after a change. */
export async function readChosen(input: HTMLInputElement, onText: (file: TextFile) => void): Promise<void> {
  await readInto(input.files, onText);
  input.value = '';
}

interface DropHandlers {
  readonly onDragOver: (event: DragEvent) => void;
  readonly onDropCapture: (event: DragEvent) => void;
}

/** Takes a dropped file before anything inside does; dragged text is left alone. */
export const dropTarget = (onText: (file: TextFile) => void): DropHandlers => ({
  onDragOver: (event) => {
    if (event.dataTransfer?.types.includes('Files')) event.preventDefault();
  },
  onDropCapture: (event) => {
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    event.stopPropagation();
    void readInto(event.dataTransfer.files, onText);
  },
});

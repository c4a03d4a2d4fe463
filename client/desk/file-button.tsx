import type { JSX } from 'preact';
import { readChosen, type TextFile } from './text-file.ts';

interface FileButtonProps {
  readonly label: string;
  /** What the picker offers, e.g. `.txt`. */
  readonly accept: string;
  readonly onFile: (file: TextFile) => void;
  /** Absent: only one can be chosen. */
  readonly onFiles?: (files: readonly File[]) => void;
}

/** A file picker that looks and is reached like the buttons beside it. */
export function FileButton({ label, accept, onFile, onFiles }: FileButtonProps): JSX.Element {
  return (
    <label class="button file-button">
      {label}
      <input
        type="file"
        accept={accept}
        multiple={onFiles !== undefined}
        onChange={({ currentTarget }) => void readChosen(currentTarget, onFile, onFiles)}
      />
    </label>
  );
}

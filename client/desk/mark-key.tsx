import type { JSX } from 'preact';
import { MARKS } from './chart-marks.ts';
import type { ChartMark } from './chart-model.ts';

/** What is drawn and is no mark of a time. */
export type LineKind = 'asked' | 'tolerance' | 'trend' | 'faint';

function MarkPicture({ mark: { shape, ink } }: { mark: ChartMark }): JSX.Element {
  const { path, isFilled } = MARKS[shape];
  return (
    <svg class="mark" data-ink={ink} data-filled={isFilled} viewBox="-7 -7 14 14" aria-hidden="true">
      <path d={path} />
    </svg>
  );
}

function LinePicture({ kind }: { kind: LineKind }): JSX.Element {
  return (
    <svg class="mark" data-line={kind} viewBox="0 0 24 14" aria-hidden="true">
      {kind === 'tolerance' ? <rect width="24" height="14" /> : <path d="M0 7H24" />}
    </svg>
  );
}

interface KeyProps {
  readonly marks: readonly { readonly mark: ChartMark; readonly words: string }[];
  readonly lines: readonly { readonly line: LineKind; readonly words: string }[];
}

/** What shapes and lines of a chart mean. */
export function MarkKey({ marks, lines }: KeyProps): JSX.Element {
  return (
    <ul class="key" aria-label="Key of the chart">
      {marks.map(({ mark, words }) => (
        <li key={words}>
          <MarkPicture mark={mark} /> {words}
        </li>
      ))}
      {lines.map(({ line, words }) => (
        <li key={words}>
          <LinePicture kind={line} /> {words}
        </li>
      ))}
    </ul>
  );
}

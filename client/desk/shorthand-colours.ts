import { RangeSetBuilder } from '@codemirror/state';
import { Decoration, type DecorationSet, type EditorView, ViewPlugin, type ViewUpdate } from '@codemirror/view';
import type { TokenKind } from '../../shared-types/tokens.ts';
import { headingOf, tokensIn } from './shorthand-tokens.ts';

const LINES = {
  title: Decoration.line({ class: 'short-title' }),
  section: Decoration.line({ class: 'short-section' }),
} as const;

const marks = new Map<TokenKind, Decoration>();

function markFor(kind: TokenKind): Decoration {
  const known = marks.get(kind);
  if (known) return known;
  const made = Decoration.mark({ class: `short-${kind}` });
  marks.set(kind, made);
  return made;
}

/** Kinds that are written in the text's own colour. */
const PLAIN: ReadonlySet<TokenKind> = new Set(['space', 'text', 'link']);

function colourLine(view: EditorView, number: number, ranges: RangeSetBuilder<Decoration>): void {
  const line = view.state.doc.line(number);
  const before = number === 1 ? null : view.state.doc.line(number - 1).text;
  const heading = headingOf(line.text, before);
  if (heading) ranges.add(line.from, line.from, LINES[heading]);
  for (const { from, to, kind } of tokensIn(line.text)) {
    if (PLAIN.has(kind) || (heading && kind !== 'note')) continue;
    ranges.add(line.from + from, line.from + to, markFor(kind));
  }
}

function coloursOf(view: EditorView): DecorationSet {
  const ranges = new RangeSetBuilder<Decoration>();
  for (const { from, to } of view.visibleRanges) {
    const first = view.state.doc.lineAt(from).number;
    const last = view.state.doc.lineAt(to).number;
    for (let number = first; number <= last; number += 1) colourLine(view, number, ranges);
  }
  return ranges.finish();
}

class ShorthandColours {
  decorations: DecorationSet;
  constructor(view: EditorView) {
    this.decorations = coloursOf(view);
  }
  update({ view, docChanged, viewportChanged }: ViewUpdate): void {
    if (docChanged || viewportChanged) this.decorations = coloursOf(view);
  }
}

/** Colours the lines in view by the token table that the server's reader is built from. */
export const shorthandColours = ViewPlugin.fromClass(ShorthandColours, { decorations: (plugin) => plugin.decorations });

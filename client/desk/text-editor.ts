import {
  defaultKeymap,
  history,
  historyKeymap,
  indentLess,
  indentMore,
  isolateHistory,
  redo,
  simplifySelection,
  undo,
} from '@codemirror/commands';
import { lintGutter, nextDiagnostic, previousDiagnostic, setDiagnostics } from '@codemirror/lint';
import { type ChangeSpec, EditorSelection, EditorState, type Extension, Prec } from '@codemirror/state';
import {
  drawSelection,
  EditorView,
  highlightActiveLine,
  highlightActiveLineGutter,
  highlightSpecialChars,
  type KeyBinding,
  keymap,
  lineNumbers,
  placeholder,
} from '@codemirror/view';
import type { Message } from '../../shared-types/message.ts';
import { diagnosticsOf } from './diagnostics.ts';
import { completion, type SendOffsOn } from './editor-completion.ts';
import { bound } from './editor-keys.ts';
import { editorTheme } from './editor-theme.ts';
import { TEXT_KEYS } from './keys.ts';
import { shorthandColours } from './shorthand-colours.ts';

export interface TextEditor {
  /** Shows another text, with a fresh history. */
  open(text: string): void;
  /** Replaces the text in a step that can be undone; nothing when it is there already. */
  change(text: string): void;
  /** Puts the messages under their words and beside their lines. */
  mark(messages: readonly Message[]): void;
  /** Puts the cursor there and the focus into the text; lines and columns count from 1. */
  goTo(place: { readonly line: number; readonly column: number }): void;
  close(): void;
}

export interface EditorEvents {
  onText(text: string): void;
  /** What a line of a text could have after its @; lines count from 1. */
  readonly sendOffsOn: SendOffsOn;
}

const EXAMPLE = `# Thursday evening

Warm-up
400 free easy

Main set: race pace
3 rounds, 3:00 between:
  4 x 50 free @ 1:10 at 200 pace
  100 easy @ 2:30`;

/** Enter after a line that ends with a colon goes one step further in, as the shorthand wants it. */
function enterAfterColon(view: EditorView): boolean {
  const { state } = view;
  const { from, empty } = state.selection.main;
  const line = state.doc.lineAt(from);
  if (
    !empty ||
    !line.text
      .slice(0, from - line.from)
      .trimEnd()
      .endsWith(':')
  )
    return false;
  const indent = /^\s*/.exec(line.text)?.[0] ?? '';
  view.dispatch(state.update(state.replaceSelection(`\n${indent}  `), { scrollIntoView: true, userEvent: 'input' }));
  return true;
}

/** So long after Escape the next key, if it is Tab, leaves the text, ms: nobody need hurry, and any other key ends it. */
const LEAVES_MS = 20_000;

/** Also where something is selected, which for the editor's own Escape would be all there is to do. */
function leaveWithTab(view: EditorView): boolean {
  simplifySelection(view);
  view.setTabFocusMode(LEAVES_MS);
  return true;
}

/** Before the editor's own, which have more. */
const OWN_KEYS: readonly KeyBinding[] = [
  ...bound(TEXT_KEYS.undo, undo),
  ...bound(TEXT_KEYS.redo, redo),
  ...bound(TEXT_KEYS.nextMessage, nextDiagnostic),
  ...bound(TEXT_KEYS.previousMessage, previousDiagnostic),
  ...bound(TEXT_KEYS.take, indentMore),
  ...bound(TEXT_KEYS.outdent, indentLess),
  ...bound(TEXT_KEYS.leave, leaveWithTab),
];

function extensions({ onText, sendOffsOn }: EditorEvents): Extension {
  return [
    lineNumbers(),
    lintGutter(),
    highlightSpecialChars(),
    history(),
    drawSelection(),
    highlightActiveLine(),
    highlightActiveLineGutter(),
    placeholder(`Write or paste a practice, or drop a text file here. For example:\n\n${EXAMPLE}`),
    EditorView.lineWrapping,
    EditorView.contentAttributes.of({
      'aria-label': 'Practice in shorthand',
      'data-practice-text': '',
      tabindex: '0',
      spellcheck: 'false',
      autocapitalize: 'off',
      autocorrect: 'off',
    }),
    Prec.high(keymap.of([{ key: 'Enter', run: enterAfterColon }])),
    keymap.of([...OWN_KEYS, ...historyKeymap, ...defaultKeymap]),
    completion(sendOffsOn),
    shorthandColours,
    editorTheme,
    EditorView.updateListener.of((update) => {
      if (update.docChanged) onText(update.state.doc.toString());
    }),
  ];
}

/** The whole text replaced, but only where it differs, so that the cursor stays put elsewhere. */
function differenceTo(now: string, next: string): ChangeSpec {
  let start = 0;
  while (start < now.length && start < next.length && now[start] === next[start]) start += 1;
  let tail = 0;
  const most = Math.min(now.length, next.length) - start;
  while (tail < most && now[now.length - 1 - tail] === next[next.length - 1 - tail]) tail += 1;
  return { from: start, to: now.length - tail, insert: next.slice(start, next.length - tail) };
}

export function createEditor(root: ShadowRoot, events: EditorEvents): TextEditor {
  const own = extensions(events);
  const stateOf = (text: string): EditorState => EditorState.create({ doc: text, extensions: own });
  const view = new EditorView({ root, parent: root, state: stateOf('') });
  return {
    open: (text) => view.setState(stateOf(text)),
    change: (text) => {
      const now = view.state.doc.toString();
      if (now !== text) {
        view.dispatch({ changes: differenceTo(now, text), annotations: isolateHistory.of('full') });
      }
    },
    mark: (messages) => view.dispatch(setDiagnostics(view.state, diagnosticsOf(view.state.doc, messages))),
    goTo: ({ line, column }) => {
      const at = view.state.doc.line(Math.min(Math.max(line, 1), view.state.doc.lines));
      const place = Math.min(at.from + Math.max(column - 1, 0), at.to);
      view.dispatch({
        selection: EditorSelection.cursor(place),
        effects: EditorView.scrollIntoView(place, { y: 'center' }),
      });
      view.focus();
    },
    close: () => view.destroy(),
  };
}

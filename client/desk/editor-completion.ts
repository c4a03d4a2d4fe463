import {
  acceptCompletion,
  autocompletion,
  type CompletionContext,
  type CompletionResult,
  closeCompletion,
  completionStatus,
  moveCompletionSelection,
  selectedCompletionIndex,
  startCompletion,
} from '@codemirror/autocomplete';
import { type Extension, Prec } from '@codemirror/state';
import { type EditorView, keymap } from '@codemirror/view';
import { type Cursor, completionsAt, isSendOff, withoutSendOff } from './completions.ts';
import { bound } from './editor-keys.ts';
import { TEXT_KEYS } from './keys.ts';

/** Tells what a line of a text could have after its @; lines count from 1. */
export type SendOffsOn = (text: string, line: number) => Promise<Cursor['sendOffs']>;

const source =
  (sendOffsOn: SendOffsOn) =>
  async ({ state, pos, explicit }: CompletionContext): Promise<CompletionResult | null> => {
    const line = state.doc.lineAt(pos);
    const before = line.text.slice(0, pos - line.from);
    const above = line.number === 1 ? null : state.doc.line(line.number - 1).text;
    const sendOffs = isSendOff(before) ? await sendOffsOn(withoutSendOff(state.doc.toString(), pos), line.number) : [];
    const found = completionsAt({ before, above, sendOffs }, explicit);
    return found && { from: line.from + found.from, options: [...found.options], validFor: /^[\p{L}\d:/ ]*$/u };
  };

/** Takes the first offer unless another was chosen; where nothing is offered the key indents, as always. */
function takeOffer(view: EditorView): boolean {
  if (completionStatus(view.state) !== 'active') return false;
  if (selectedCompletionIndex(view.state) === null) moveCompletionSelection(true)(view);
  return acceptCompletion(view);
}

/** Offers words while they are typed. Enter goes to the next line unless an offer was chosen with the arrow keys. */
export const completion = (sendOffsOn: SendOffsOn): Extension => [
  // Enter takes nothing by itself, so that no press meant for something else could be taken for a choice.
  autocompletion({
    override: [source(sendOffsOn)],
    icons: false,
    selectOnOpen: false,
    interactionDelay: 0,
    defaultKeymap: false,
  }),
  Prec.highest(
    keymap.of([
      ...bound(TEXT_KEYS.take, takeOffer),
      ...bound(TEXT_KEYS.offer, startCompletion),
      ...bound(TEXT_KEYS.chooseNext, moveCompletionSelection(true)),
      ...bound(TEXT_KEYS.choosePrevious, moveCompletionSelection(false)),
      ...bound(TEXT_KEYS.takeChosen, acceptCompletion),
      ...bound(TEXT_KEYS.refuse, closeCompletion),
    ]),
  ),
];

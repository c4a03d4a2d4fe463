import type { Diagnostic } from '@codemirror/lint';
import type { Text } from '@codemirror/state';
import type { Message } from '../../shared-types/message.ts';
import { tokensIn } from './shorthand-tokens.ts';

/** The sentence of a message, led by its lane where it is about one. */
export function messageText({ lane, text }: Message): string {
  const sentence = text.charAt(0).toUpperCase() + text.slice(1);
  return lane === undefined ? sentence : `Lane ${lane}: ${text}`;
}

/** What to write instead, unless the sentence says it already. */
export const messageFix = ({ text, fix }: Message): string | null =>
  fix === undefined || text.includes(fix) ? null : fix;

/** The word at a message's place; the whole line when it points at none. */
function rangeOf(doc: Text, { line, column }: Message): { from: number; to: number } {
  const at = doc.line(Math.min(Math.max(line, 1), doc.lines));
  const offset = Math.max(column - 1, 0);
  const token = tokensIn(at.text).find(({ from, to }) => from <= offset && offset < to);
  if (!token || token.kind === 'space') return { from: at.from + at.text.search(/\S|$/), to: at.to };
  return { from: at.from + token.from, to: at.from + token.to };
}

/** The server's messages as the editor underlines them. A message of a line that is gone comes to the last one. */
export const diagnosticsOf = (doc: Text, messages: readonly Message[]): Diagnostic[] =>
  messages.map((message) => ({
    ...rangeOf(doc, message),
    severity: message.severity,
    message: [messageText(message), messageFix(message)].filter(Boolean).join('; '),
  }));

import type { JSX } from 'preact';
import type { Message } from '../../shared-types/message.ts';
import type { Desk } from './desk.ts';
import { messageFix, messageText } from './diagnostics.ts';
import { isOwners } from './for-owners.tsx';
import { curedText, cureLabel } from './message-cures.ts';

const SEVERITY = {
  error: { one: 'error', many: 'errors', sign: '!' },
  warning: { one: 'warning', many: 'warnings', sign: '?' },
  info: { one: 'remark', many: 'remarks', sign: 'i' },
} as const;
const ORDER = ['error', 'warning', 'info'] as const;

function countWords(messages: readonly Message[]): string {
  const counts = ORDER.flatMap((severity) => {
    const count = messages.filter((message) => message.severity === severity).length;
    const { one, many } = SEVERITY[severity];
    return count === 0 ? [] : [`${count} ${count === 1 ? one : many}`];
  });
  return counts.length === 0 ? 'No remarks on this text.' : counts.join(', ');
}

function statusWords({ manuscript, preview }: Desk): string {
  if (manuscript.text.value.trim() === '') return 'Tab indents; Escape, then Tab leaves the text.';
  if (preview.problem.value) return 'Not checked: the server did not answer.';
  return countWords(preview.messages.value);
}

/** Errors first, since with them there is no sheet; each kind by its place in the text. */
const inOrder = (messages: readonly Message[]): Message[] =>
  [...messages].sort(
    (a, b) =>
      ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity) ||
      Number(a.code === 'caution') - Number(b.code === 'caution') ||
      a.line - b.line ||
      a.column - b.column,
  );

/** Does what is to be done about a message; only while the messages are about the text as it stands. */
function CureButton({ desk, message }: { desk: Desk; message: Message }): JSX.Element | null {
  const { cure } = message;
  const text = desk.manuscript.text.value;
  const next = curedText(text, message);
  if (!cure || (cure.kind === 'order' ? !isOwners(desk) : next === null)) return null;
  const isStale = desk.preview.makesSheet.value === null;
  const act = (): void => {
    if (cure.kind === 'order') void desk.lanes.order(cure.lane, cure.swimmers);
    else if (next !== null) desk.manuscript.write(next);
  };
  return (
    <button type="button" class="cure" translate={false} data-cure={cure.kind} disabled={isStale} onClick={act}>
      {cureLabel(cure)}
    </button>
  );
}

function OneMessage({ desk, message }: { desk: Desk; message: Message }): JSX.Element {
  const { severity, line, column, code } = message;
  const fix = messageFix(message);
  return (
    <li data-message={code} data-severity={severity} data-line={line}>
      <button type="button" class="message" onClick={() => desk.jumpTo({ line, column })}>
        <span class="sign" role="img" aria-label={SEVERITY[severity].one}>
          {SEVERITY[severity].sign}
        </span>
        <span translate={false}>
          <span class="place">
            line {line}, column {column}
          </span>
          {code === 'caution' && <strong>Caution. </strong>}
          {messageText(message)}
          {fix && (
            <span class="fix" translate={false}>
              ; {fix}
            </span>
          )}
        </span>
      </button>
      <CureButton desk={desk} message={message} />
    </li>
  );
}

/** Everything the server has to say about the text; pressing one puts the cursor at its place. */
export function MessageList({ desk }: { desk: Desk }): JSX.Element {
  const messages = desk.preview.messages.value;
  return (
    <section class="messages" aria-label="Messages about the text" data-messages>
      <p class="count" role="status">
        {statusWords(desk)}
      </p>
      <ul>
        {inOrder(messages).map((message) => (
          <OneMessage
            key={`${message.code}:${message.line}:${message.column}:${message.lane}:${message.text}`}
            desk={desk}
            message={message}
          />
        ))}
      </ul>
    </section>
  );
}

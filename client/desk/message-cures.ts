import type { Message, MessageCure } from '../../shared-types/message.ts';
import { formatClock } from '../../shared-types/time.ts';

/** What a button does about a message, in words. */
export function cureLabel(cure: MessageCure): string {
  switch (cure.kind) {
    case 'replace':
      return `Write “${cure.insert}”`;
    case 'gap':
      return `Write ${formatClock(cure.apartMs)} apart`;
    case 'send-offs':
      return `Write @ ${cure.sendOffs}`;
    case 'order':
      return `Order lane ${cure.lane} by speed`;
  }
}

const NOTE = /\s*(?:--|\u2014)/;
const GAP = /(?:\d*:\d\d|\d+s?)(\s+apart)\b/i;
const SEND_OFF = /@\s*[\d:/]+/;

/** The text with the cure written; null where that is not to be done in the text. */
export function curedText(text: string, { line, cure }: Pick<Message, 'line' | 'cure'>): string | null {
  const lines = text.split('\n');
  const written = lines[line - 1];
  const next = cure && written !== undefined ? curedLine(written, cure) : null;
  return next === null ? null : lines.map((one, place) => (place === line - 1 ? next : one)).join('\n');
}

function curedLine(line: string, cure: MessageCure): string | null {
  switch (cure.kind) {
    case 'replace':
      return line.slice(0, cure.column - 1) + cure.insert + line.slice(cure.column - 1 + cure.length);
    case 'gap': {
      const gap = formatClock(cure.apartMs);
      const note = NOTE.exec(line)?.index ?? line.length;
      const [swum, rest] = [line.slice(0, note), line.slice(note)];
      return `${GAP.test(swum) ? swum.replace(GAP, `${gap}$1`) : `${swum} ${gap} apart`}${rest}`;
    }
    case 'send-offs':
      return SEND_OFF.test(line) ? line.replace(SEND_OFF, `@ ${cure.sendOffs}`) : null;
    case 'order':
      return null;
  }
}

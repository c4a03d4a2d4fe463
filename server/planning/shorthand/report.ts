import type { IToken } from 'chevrotain';
import type { Message } from '../../../shared-types/message.ts';
import { columnOf } from './lexer.ts';

type Code = Extract<
  Message['code'],
  'unreadable' | 'parts-sum' | 'indent' | 'too-much' | 'note' | 'unknown-style' | 'group-count'
>;

export interface Problem {
  readonly text: string;
  readonly fix?: string | undefined;
  /** `unreadable` when absent. */
  readonly code?: Code;
}

/** What went wrong in one line; `at` is the token it went wrong at, or a 1-based column. */
export type Report = (at: IToken | number, problem: Problem) => void;

const SEVERITY: Partial<Record<Code, Message['severity']>> = { note: 'info', 'unknown-style': 'warning' };

/** The messages of one text, in the order they are found. */
export class Messages {
  private readonly found: Message[] = [];

  /** A reporter for the line with this number, 1-based. */
  onLine(line: number): Report {
    return (at, { text, fix, code = 'unreadable' }) => {
      const column = typeof at === 'number' ? at : columnOf(at);
      const severity = SEVERITY[code] ?? 'error';
      this.found.push({ severity, code, line, column, text, ...(fix === undefined ? {} : { fix }) });
    };
  }

  sorted(): Message[] {
    return this.found.toSorted((a, b) => a.line - b.line || a.column - b.column);
  }
}

const QUOTED_AT_MOST = 40;

/** A piece of the coach's text in quotation marks, shortened so that the sentence stays one line. */
export function quote(text: string): string {
  const shown = [
    ...text
      .slice(0, 2 * QUOTED_AT_MOST + 2)
      .trim()
      .replace(/\s+/g, ' '),
  ];
  return shown.length > QUOTED_AT_MOST ? `"${shown.slice(0, QUOTED_AT_MOST).join('')}…"` : `"${shown.join('')}"`;
}

import type { IToken } from 'chevrotain';
import type { Message, MessageCure } from '../../../shared-types/message.ts';
import { columnOf, endOf } from './lexer.ts';

type Code = Extract<
  Message['code'],
  'unreadable' | 'parts-sum' | 'indent' | 'too-much' | 'note' | 'unknown-style' | 'group-count'
>;

export interface Problem {
  readonly text: string;
  readonly fix?: string | undefined;
  /** What takes the place of the token it went wrong at, or of all from there to another token's end. */
  readonly replace?: { readonly to?: IToken | undefined; readonly insert: string } | undefined;
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
    return (at, { text, fix, replace, code = 'unreadable' }) => {
      const column = typeof at === 'number' ? at : columnOf(at);
      const severity = SEVERITY[code] ?? 'error';
      const cure = replace && typeof at !== 'number' ? replacing(at, replace) : undefined;
      this.found.push({
        ...{ severity, code, line, column, text },
        ...(fix === undefined ? {} : { fix }),
        ...(cure ? { cure } : {}),
      });
    };
  }

  sorted(): Message[] {
    return this.found.toSorted((a, b) => a.line - b.line || a.column - b.column);
  }
}

const replacing = (at: IToken, { to, insert }: NonNullable<Problem['replace']>): MessageCure => ({
  kind: 'replace',
  column: columnOf(at),
  length: endOf(to ?? at) - at.startOffset,
  insert,
});

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

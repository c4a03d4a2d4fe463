import type { Access } from '../shared-types/wire/access.ts';
import type { Role } from '../shared-types/wire/protocol.ts';

/** Something that happened as it should. Ids only: no names and nothing out of anybody's file. */
export type LogEntry =
  | {
      readonly what: 'command';
      readonly kind: string;
      readonly id: string;
      readonly device: string;
      /** The event it became, or the code of its refusal. */
      readonly answer: number | string;
      /** From the press to its arrival, ms on the pool's clock. */
      readonly lateMs: number;
      /** Deciding and storing, ms. */
      readonly tookMs: number;
    }
  | {
      /** A time taken on deck, or a repair of one. */
      readonly what: 'mark';
      readonly kind: string;
      readonly id: string;
      readonly device: string;
      /** The mark event it became, or the code of its refusal. */
      readonly answer: number | string;
      /** Deciding and storing, ms. */
      readonly tookMs: number;
    }
  | { readonly what: 'connected'; readonly role: Role; readonly device: string }
  | {
      readonly what: 'disconnected';
      /** Null for one that never said hello. */
      readonly role: Role | null;
      readonly device: string | null;
      readonly reason: string;
    }
  | { readonly what: 'paired'; readonly access: Access; readonly device: string }
  | { readonly what: 'unpaired'; readonly device: string }
  /** Somebody typed a code that was not right. */
  | { readonly what: 'wrong-code' }
  /** Practices older than what is kept, or a swimmer for good. */
  | { readonly what: 'deleted'; readonly practices: number }
  | { readonly what: 'deleted'; readonly swimmer: string }
  | { readonly what: 'backup'; readonly file: string; readonly bytes: number; readonly tookMs: number };

export type Note = (entry: LogEntry) => void;

export interface Log {
  /** Takes note of what happened as it should. */
  readonly note: Note;
  /** Takes note of a bug or of trouble with the machine. */
  readonly fault: (error: unknown) => void;
}

const MOST_FRAMES = 20;
const MOST_MESSAGE_LENGTH = 500;

/** Control characters and those that turn the reading direction: in a terminal they could pass for another line. */
const MISLEADING = /[\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;

const escaped = (json: string): string =>
  json.replace(MISLEADING, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);

/** What can be told of an error. That of `JSON.parse` quotes the text, in which names may stand: it is left out. */
function faultOf(error: unknown): object {
  if (!(error instanceof Error)) return { message: String(error).slice(0, MOST_MESSAGE_LENGTH) };
  const message = error instanceof SyntaxError ? 'a text that cannot be read' : error.message;
  const frames = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line));
  return {
    name: error.name,
    ...('code' in error ? { code: String(error.code) } : {}),
    message: message.slice(0, MOST_MESSAGE_LENGTH),
    stack: frames.slice(0, MOST_FRAMES).map((line) => line.trim()),
  };
}

/**
 * A log of one JSON object a line.
 * @param write is given whole lines
 * @param wallMs the machine's clock
 * @param quiet only faults are written
 */
export function jsonLog(write: (line: string) => void, wallMs: () => number, quiet: boolean): Log {
  const line = (entry: object): void => {
    write(`${escaped(JSON.stringify({ at: new Date(wallMs()).toISOString(), ...entry }))}\n`);
  };
  return {
    note: (entry) => {
      if (!quiet) line(entry);
    },
    fault: (error) => line({ what: 'fault', ...faultOf(error) }),
  };
}

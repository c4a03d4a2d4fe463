import type { Pool } from '../../shared-types/pool.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { compile, type Planned } from './compile/compile.ts';
import { parsePractice } from './shorthand/parse.ts';

export type { Planned } from './compile/compile.ts';

/**
 * From the coach's text to the run sheet. Never throws on any text: what cannot be read or swum is said in `messages`,
 * and with an error among them there is no sheet.
 */
export function planPractice(text: string, squad: Squad, pool: Pool): Planned {
  const { practice, readable, messages } = parsePractice(text);
  if (practice) return compile(practice, squad, pool, messages);
  // What could be read may have problems of its own: the coach sees all of them at once.
  const further = readable ? compile(readable, squad, pool, []).messages : [];
  const errors = further.filter(({ severity }) => severity === 'error');
  const all = [...messages, ...errors].sort((a, b) => a.line - b.line || a.column - b.column);
  return { sheet: null, messages: all };
}

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
  const { practice, messages } = parsePractice(text);
  return practice ? compile(practice, squad, pool, messages) : { sheet: null, messages };
}

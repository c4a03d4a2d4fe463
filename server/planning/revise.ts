import type { Change } from '../../shared-types/changes.ts';
import type { Pool } from '../../shared-types/pool.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { amendSquad } from './amend-squad.ts';
import { amendmentsOf } from './compile/amendments.ts';
import type { Begun } from './compile/begun.ts';
import { compile, type Planned } from './compile/compile.ts';
import { parsePractice } from './shorthand/parse.ts';

export type { Begun } from './compile/begun.ts';

/** [RUN5] What a run's sheet was made from, as it was when the practice was put on the wall. */
export interface RunPlan {
  readonly text: string;
  readonly squad: Squad;
  readonly pool: Pool;
}

/**
 * [CMD7] Another version of a sheet that is being swum: what has begun stays as it is, what is to come is planned anew
 * with all changes so far.
 * @param changes the newest last
 */
export function revise({ text, squad, pool }: RunPlan, changes: readonly Change[], begun: Begun): Planned {
  const { practice, messages } = parsePractice(text);
  if (!practice) return { sheet: null, messages };
  const groups = new Map(begun.sheet.lanes.map(({ lane, group }) => [lane, group]));
  const amended = amendSquad(squad, changes, groups);
  return compile(practice, amended, pool, messages, { amendments: amendmentsOf(changes), begun });
}

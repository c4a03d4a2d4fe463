import type { Pool } from '../../shared-types/pool.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { poolAnswerSchema, squadAnswerSchema, storedPracticeSchema } from '../../shared-types/wire/desk.ts';
import { liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { askServer, type PairedAt } from './http.ts';

/** What is rehearsed. */
export interface Rehearsed {
  readonly practiceText: string;
  readonly squadCsv: string;
  readonly pool: Pool;
  /** The run is stored as one that was only tried out. */
  readonly asRehearsed?: true;
}

/**
 * What the desk does before a practice, on a server that has nothing on its wall: pool, squad and practice go in, the
 * practice goes on the wall.
 * @returns the squad as the server has it
 * @throws RehearsalError when the server refuses something
 */
export async function putOnWall(
  server: PairedAt,
  { practiceText, squadCsv, pool, asRehearsed }: Rehearsed,
  newId: () => string,
): Promise<readonly Swimmer[]> {
  await askServer({ server, method: 'PUT', path: '/api/pool', body: pool, schema: poolAnswerSchema });
  const upload = { csv: squadCsv, fileName: 'squad.csv' };
  const squad = await askServer({ server, method: 'PUT', path: '/api/squad', body: upload, schema: squadAnswerSchema });
  const draft = { text: practiceText, baseVersion: 0 };
  const path = `/api/practices/${newId()}`;
  const { id, version } = await askServer({ server, method: 'PUT', path, body: draft, schema: storedPracticeSchema });
  const body = { practice: id, version, replace: false, ...(asRehearsed ? { rehearsed: true } : {}) };
  await askServer({ server, method: 'POST', path: '/api/runs', body, schema: liveRunSchema });
  return squad.swimmers;
}

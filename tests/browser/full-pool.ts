import { randomId } from '../../server/ids.ts';
import { putOnWall } from '../../server/rehearsal/put-on-wall.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';
import { paired } from '../fixtures/paired.ts';
import type { RunningServer } from '../fixtures/running-server.ts';

/** Invented, short and long. */
const NAMES = ['Ines', 'Maximilian', 'Yara', 'Ekaterina', 'Noor', 'Bartolomeo', 'Lea', 'Anne-Sophie'];

/** Puts a practice on the wall of a pool with so many lanes and swimmers in each, about 60 s for 100 free. */
export async function fillPool(
  server: RunningServer,
  practiceText: string,
  lanes: number,
  aLane: number,
): Promise<void> {
  const rows = Array.from({ length: lanes * aLane }, (_, nth) => {
    const [lane, place] = [Math.floor(nth / aLane) + 1, nth % aLane];
    return `${NAMES[place]} Lane${String.fromCharCode(96 + lane)},${lane},100 free,SCM,${60 + lane + place / 10}`;
  });
  const squadCsv = ['swimmer,lane,event,course,time', ...rows].join('\n');
  await putOnWall(paired(server.url), { practiceText, squadCsv, pool: { ...DEFAULT_POOL, lanes } }, randomId);
}

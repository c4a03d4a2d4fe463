import { setImmediate as nextTurn } from 'node:timers/promises';
import { laneNumber } from '../../shared-types/brand.ts';
import { inMetres, type Pool } from '../../shared-types/pool.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { planPractice } from '../planning/plan.ts';
import type { PracticeFacts } from '../store/practice-search.ts';
import type { Store } from '../store/store.ts';

/**
 * Works out what practices come to that nobody has looked for since they were saved, one by one: between two others get
 * their turn. They are planned for one swimmer of each pace group, without times: styles and distance need none, and
 * that takes a tenth of the time.
 */
export async function workOutFacts(store: Store): Promise<void> {
  const squad = oneOfEachGroup(store.squad.squad());
  const pool = { ...store.pool.pool(), lanes: MOST_LANES };
  for (const { id, version } of store.practiceSearch.missing()) {
    const text = store.practices.practice(id, version)?.text ?? '';
    store.practiceSearch.keep(id, version, factsOf(text, squad, pool));
    await nextTurn();
  }
}

const MOST_LANES = 12;

function oneOfEachGroup({ swimmers }: Squad): Squad {
  const groups = new Map(
    swimmers.flatMap((one) => (one.lane === undefined ? [] : [[one.group ?? 'A', one] as const])).reverse(),
  );
  return {
    swimmers: [...groups.values()].slice(0, MOST_LANES).map((one, place) => ({
      ...one,
      lane: laneNumber(place + 1),
      references: [],
      means: [],
    })),
  };
}

/** Of a text with errors there are none. */
function factsOf(text: string, squad: Squad, pool: Pool): PracticeFacts {
  const { sheet } = planPractice(text, squad, pool);
  if (!sheet) return { metres: 0, styles: [] };
  return { metres: inMetres(sheet.distance, sheet.course), styles: [...new Set(sheet.sets.map(({ style }) => style))] };
}

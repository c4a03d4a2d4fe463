import type { RemovedDemo } from '../../shared-types/wire/desk.ts';
import { counted } from './counted.ts';

export const SQUAD_STAYS = 'The practices of the demo are back. There is another squad by now, and it stays.';

function keptWords(kept: number): string {
  if (kept === 0) return '';
  return kept === 1
    ? ' The practice of it that was changed stays.'
    : ` The ${kept} practices of it that were changed stay.`;
}

/** What is gone, what is not, and what becomes of the results. */
export function removedWords({ swimmers, practices, planned, kept, runs }: RemovedDemo): string {
  const gone = [
    swimmers > 0 && counted(swimmers, 'swimmer'),
    practices > 0 && counted(practices, 'practice'),
    planned > 0 && counted(planned, 'place in the week’s plan', 'places in the week’s plan'),
  ].filter((words) => words !== false);
  const results = runs === 0 ? '' : ' What its swimmers swam stays under Results, as rehearsed.';
  return `The demo is removed: ${gone.join(', ')}.${keptWords(kept)}${results}`;
}

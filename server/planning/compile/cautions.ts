import { DIVES, type Message } from '../../../shared-types/message.ts';
import { type Item, type Practice, RESISTED, type SetItem } from '../../../shared-types/practice.ts';
import { effortsIn } from './effort-on.ts';

const WHO_DECIDES = "local rules, your facility's code and the lifeguard on duty decide";

const RESISTED_TEXT =
  'cords, tubes and pulleys: inspect them and their anchor before use, keep the lane clear, mind the eyes when one snaps back';

/** The usual caution for what swimmers pull against. */
export const RESISTED_CAUTION = `${RESISTED_TEXT}; ${WHO_DECIDES}`;

interface Caution {
  readonly applies: (set: SetItem) => boolean;
  readonly text: string;
}

/** Depth at the blocks: World Aquatics facilities rules, general pools, 1.35 m from 1.0 m to 6.0 m out; others ask more. */
const CAUTIONS: readonly Caution[] = [
  {
    applies: ({ start }) => start === 'dive',
    text: `${DIVES}: check the depth under the blocks (world rules for general pools ask for 1.35 m, others for more), never from the shallow end, water clear before every start`,
  },
  {
    applies: ({ equipment }) => equipment.some(({ name }) => RESISTED.some((resisted) => resisted === name)),
    text: RESISTED_TEXT,
  },
  {
    applies: (set) => effortsIn(set).some(({ kind }) => kind === 'max'),
    text: 'all-out swimming: only for swimmers cleared for it; stop on dizziness or chest pain',
  },
];

function setsIn(items: readonly Item[]): SetItem[] {
  return items.flatMap((item) => {
    if (item.kind === 'set') return [item];
    return item.kind === 'rounds' || item.kind === 'groups' ? setsIn(item.items) : [];
  });
}

/** The usual cautions for what a practice contains, each once, at the first line it is about. */
export function cautionsFor(practice: Practice): Message[] {
  const sets = practice.sections.flatMap(({ items }) => setsIn(items));
  return CAUTIONS.flatMap(({ applies, text }): Message[] => {
    const first = sets.find(applies);
    if (!first) return [];
    const { line, column } = first;
    return [{ severity: 'warning', code: 'caution', line, column, text: `${text}; ${WHO_DECIDES}` }];
  });
}

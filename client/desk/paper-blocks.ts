import type { SwimmerId } from '../../shared-types/brand.ts';
import type { JudgedRep, ResultsAnswer, ShownSet } from '../../shared-types/wire/results.ts';
import { nameOf } from './names.ts';
import { kindWords, roundWords } from './result-words.ts';

/** So many reps fit side by side on A4 and letter, upright. */
export const REPS_A_BLOCK = 8;

/** A rep as the head of a column. */
export interface PaperHead {
  readonly rep: number;
  /** Where a round or a block begins, which round it is; then what the reps differ in. */
  readonly words: string;
}

/** The columns of a set's times in blocks that fit beside each other on a page. */
export function paperBlocks(reps: readonly JudgedRep[]): PaperHead[][] {
  const blocks = Array.from({ length: Math.ceil(reps.length / REPS_A_BLOCK) }, (_, block) =>
    reps.slice(block * REPS_A_BLOCK, (block + 1) * REPS_A_BLOCK),
  );
  return blocks.map((block) =>
    block.map((rep, place) => {
      const before = block[place - 1];
      const round = before && roundWords(before) === roundWords(rep) ? '' : roundWords(rep);
      return { rep: rep.rep, words: [round, kindWords(rep, reps)].filter((words) => words !== '').join(', ') };
    }),
  );
}

/** The sets of a practice as they are printed: of one swimmer only those that were for that one. */
export function printedSets({ sets }: ResultsAnswer, swimmer: SwimmerId | null): ShownSet[] {
  if (swimmer === null) return [...sets];
  return sets.flatMap((set) => {
    const own = set.swimmers.filter((one) => one.swimmer === swimmer);
    return own.length === 0 ? [] : [{ ...set, swimmers: own }];
  });
}

/** Everybody with a rep in a practice, by name. */
export function swimmersIn({ sets, labels }: ResultsAnswer): { readonly swimmer: SwimmerId; readonly name: string }[] {
  const ids = new Set(sets.flatMap(({ swimmers }) => swimmers.map(({ swimmer }) => swimmer)));
  return [...ids]
    .map((swimmer) => ({ swimmer, name: nameOf(labels, swimmer) }))
    .sort((a, b) => a.name.localeCompare(b.name, 'en'));
}

/** Words as a string of a style sheet. */
export const quotedForStyle = (text: string): string =>
  `"${text.replace(/["\\\n\r\f]/g, (sign) => `\\${sign.charCodeAt(0).toString(16)} `)}"`;

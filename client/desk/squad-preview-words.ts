import { isolated } from '../../shared-types/isolated.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import type { SquadBefore, SquadPreview, SwimmerChange, SwimmerChanges } from '../../shared-types/wire/squad.ts';
import { counted } from './counted.ts';

type Kind = SwimmerChanges['kind'];

export const ofKind = ({ swimmers }: SquadPreview, kind: Kind): readonly SwimmerChanges[] =>
  swimmers.filter((swimmer) => swimmer.kind === kind);

const KIND_WORDS: Readonly<Record<Kind, string>> = {
  added: 'new',
  changed: 'changed',
  removed: 'taken out',
  unchanged: 'as before',
};
const KINDS = ['added', 'changed', 'removed', 'unchanged'] as const;

/** How many of each there are, those that are none left out: `2 new`, `1 taken out`. */
export const countWords = (preview: SquadPreview): string[] =>
  KINDS.flatMap((kind) => {
    const swimmers = ofKind(preview, kind).length;
    return swimmers === 0 ? [] : [`${swimmers} ${KIND_WORDS[kind]}`];
  });

/** What reading the file came to, in a sentence. */
export function rowWords({ goodRows, badRows, repeatedLines }: SquadPreview): string {
  if (goodRows + badRows === 0) return 'The file has no row that could be loaded.';
  const bad = badRows === 0 ? '' : `, ${badRows} cannot`;
  const repeated =
    repeatedLines.length === 0
      ? ''
      : ` ${counted(repeatedLines.length, 'row says', 'rows say')} what another says already (line ${repeatedLines.join(', ')}).`;
  return `${counted(goodRows, 'row')} can be read${bad}.${repeated}`;
}

/** What of the file is not kept; empty when there is nothing of it. */
export function leftOutWords({ leftOut }: SquadPreview): string {
  if (leftOut.length === 0) return '';
  const names = leftOut.map((name) => `“${isolated(name)}”`).join(', ');
  return `${counted(leftOut.length, 'column is', 'columns are')} not loaded: ${names}. Farwall keeps no birth dates and no ages.`;
}

/** What the button does. */
export function loadWords({ goodRows, badRows }: SquadPreview): string {
  if (badRows === 0) return 'Load this squad';
  return `Load the ${counted(goodRows, 'good row')}, leave out ${badRows}`;
}

export const changesNothing = ({ swimmers }: SquadPreview): boolean =>
  swimmers.every(({ kind }) => kind === 'unchanged');

/** `59.80 → 58.90`; what was not there before is new, what will not be there is taken out. */
export function changeWords({ was, becomes }: Pick<SwimmerChange, 'was' | 'becomes'>): string {
  if (was === null) return `new: ${becomes}`;
  return becomes === null ? `taken out: ${was}` : `${was} → ${becomes}`;
}

/** Of a swimmer who comes or goes: `lane 2, 200 free SCM, best 2:08.40`. */
export const factWords = ({ changes }: SwimmerChanges): string =>
  changes.length === 0
    ? 'no lane, no times'
    : changes.map(({ what, was, becomes }) => `${what} ${becomes ?? was}`).join('; ');

export function loadedWords({ swimmers }: SquadAnswer, look: { fileName: string; preview: SquadPreview }): string {
  const { badRows } = look.preview;
  const placed = swimmers.filter(({ lane }) => lane !== undefined).length;
  const without = badRows === 0 ? '' : ` ${counted(badRows, 'row was', 'rows were')} left out.`;
  return `${counted(swimmers.length, 'swimmer')} from ${isolated(look.fileName)}, ${placed} of them with a lane.${without}`;
}

export const undoneWords = ({ swimmers }: SquadAnswer): string =>
  `The squad of before is back: ${counted(swimmers.length, 'swimmer')}.`;

export const undoWords = ({ fileName, swimmers }: NonNullable<SquadBefore['before']>): string =>
  swimmers === 0
    ? `Undo loading ${isolated(fileName)}: no swimmers, as before`
    : `Undo loading ${isolated(fileName)}: put back the ${counted(swimmers, 'swimmer')} of before`;

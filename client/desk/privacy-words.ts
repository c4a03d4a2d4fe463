import { isolated } from '../../shared-types/isolated.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type { KeepMonths, Mention, Older, StoredOf, WallNames } from '../../shared-types/wire/privacy.ts';
import { counted } from './counted.ts';
import { dayOfYear } from './days.ts';

export const NAMES_WORDS: Readonly<Record<WallNames, string>> = {
  first: 'first or short names',
  initials: 'initials',
  full: 'full names, as far as they fit',
  none: 'places in the lane, no names',
};

export const monthsWords = (months: KeepMonths | null): string =>
  months === null ? 'until somebody removes it' : `${months} months`;

/** `214 practices with 10,412 times, put on the wall before 26 Nov 2025` */
export function olderWords({ practices, times, before }: Older, face: ClockFace): string {
  const taken = times === 0 ? 'without times' : `with ${counted(times, 'time')}`;
  return `${counted(practices, 'practice')} ${taken}, put on the wall before ${dayOfYear(before, face)}`;
}

/** Asked before so much is kept only from now on. */
export const keepQuestion = (months: KeepMonths, older: Older, face: ClockFace) => ({
  title: `Keep what was swum for ${months} months only?`,
  body: `There ${older.practices === 1 ? 'is' : 'are'} ${olderWords(older, face)}. They are deleted now, and from then on whatever gets older, once a day. There is no undo.`,
  yes: `Keep ${months} months, delete the rest`,
  no: 'Leave it as it is',
});

/** Asked before they are deleted. */
export const olderQuestion = (older: Older, face: ClockFace) => ({
  title: `Delete ${counted(older.practices, 'practice')} for good?`,
  body: `These are ${olderWords(older, face)}. Squad, reference times and the texts of practices stay. There is no undo.`,
  yes: 'Delete for good',
  no: 'Keep them',
});

export const goneWords = (older: Older, face: ClockFace): string => `Deleted: ${olderWords(older, face)}.`;

/** `12 reference times, 31 practices, 412 times, 8 sets with loads` */
function partsOf({ references, practices, times, loads }: StoredOf): string {
  const parts = [
    references > 0 && counted(references, 'reference time'),
    times > 0 && counted(times, 'time taken', 'times taken'),
    loads > 0 && counted(loads, 'set with loads', 'sets with loads'),
    practices > 0 && `the name in ${counted(practices, 'practice')}`,
  ].filter((words) => words !== false);
  return parts.length === 0 ? 'the name' : parts.join(', ');
}

const MOST_TITLES = 8;

/** `“Thursday”, “Friday” and 3 more`; empty where there are none. */
function titlesOf(mentions: readonly Mention[]): string {
  const titles = mentions.slice(0, MOST_TITLES).map(({ title }) => `“${isolated(title || 'Untitled practice')}”`);
  const more = mentions.length - titles.length;
  return `${titles.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

/** Where the name stands in texts, which stay as they are; empty where it does in none. */
export function mentionWords(mentions: readonly Mention[]): string {
  const now = titlesOf(mentions.filter(({ isInLibrary }) => isInLibrary));
  const before = titlesOf(mentions.filter(({ isInLibrary }) => !isInLibrary));
  return [
    now && `These practices have a word of the name in their text, which stays until you mend it: ${now}.`,
    before && `Only in an older version, or deleted: ${before}.`,
  ]
    .filter(Boolean)
    .join(' ');
}

/** Asked before a swimmer is deleted for good. */
export const deleteQuestion = (stored: StoredOf) => ({
  title: `Delete ${isolated(stored.name)} for good?`,
  body: `This goes: ${partsOf(stored)}. Results of old practices call them “deleted swimmer”. The next backup takes the place of all older ones. There is no undo. ${mentionWords(stored.mentions)}`.trim(),
  yes: 'Delete for good',
  no: 'Keep the swimmer',
});

export const deletedWords = ({ name }: StoredOf): string => `${isolated(name)} is deleted for good.`;

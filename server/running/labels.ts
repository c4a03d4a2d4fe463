import { lettersOf } from '../../shared-types/letters.ts';
import { LONGEST_NAME, type Swimmer } from '../../shared-types/squad.ts';
import { type Labels, labelsSchema } from '../../shared-types/wire/from-server.ts';
import type { WallNames } from '../../shared-types/wire/privacy.ts';

type Named = Pick<Swimmer, 'id' | 'name' | 'short'>;

const words = (name: string): string[] => name.trim().split(/\s+/u);

/** `Mia`, with `letters` of the last name where there is one: `Mia K`. */
function shortName(name: string, letters: number): string {
  const [first = name, ...others] = words(name);
  const last = lettersOf(others.at(-1) ?? '')
    .slice(0, letters)
    .join('');
  return last === '' ? first : `${first} ${last}`;
}

/** The shortest form of a name that none of the others of the squad shares, nor has been given as a short name. */
function unlike(name: string, others: readonly string[], given: ReadonlySet<string>): string {
  for (let letters = 0; letters <= LONGEST_NAME; letters += 1) {
    const short = shortName(name, letters);
    if (!given.has(short) && others.every((other) => shortName(other, letters) !== short)) return short;
  }
  return name;
}

/**
 * The short names that the coach has given; else first names, of swimmers who share one with as much of the last name as
 * tells them apart.
 */
export function shortLabels(swimmers: readonly Named[]): Labels {
  const given = new Set(swimmers.flatMap(({ short }) => short ?? []));
  const unnamed = swimmers.filter(({ short }) => short === undefined);
  const byFirstName = Map.groupBy(unnamed, ({ name }) => shortName(name, 0));
  const labels: Labels = {};
  for (const { id, name, short } of swimmers) {
    const sharing = byFirstName.get(shortName(name, 0)) ?? [];
    const others = sharing.flatMap((other) => (other.id === id ? [] : [other.name]));
    labels[id] = short ?? unlike(name, others, given);
  }
  return labels;
}

/** `MK`; with `letters` more of the last name, `MKo`. */
function initialsOf(name: string, letters: number): string {
  const [first = '', ...others] = words(name);
  const last = others.at(-1);
  const begun = lettersOf(last ?? first)
    .slice(0, 1 + letters)
    .join('');
  return last === undefined ? begun : `${lettersOf(first)[0] ?? ''}${begun}`;
}

/** Of a name so many letters more than its initials may be told; who are still alike stay alike. */
const MOST_LETTERS_MORE = 2;

/** Initials, of swimmers who share them with a letter or two of the last name where that tells them apart. */
function initialsLabels(full: Labels): Labels {
  const names = Object.values(full);
  const isAlone = (name: string, letters: number): boolean =>
    names.filter((other) => initialsOf(other, letters) === initialsOf(name, letters)).length === 1;
  const labelled = Object.entries(full).map(([id, name]) => {
    const letters = Array.from({ length: MOST_LETTERS_MORE + 1 }, (_, more) => more).find((more) =>
      isAlone(name, more),
    );
    return [id, initialsOf(name, letters ?? 0)];
  });
  return labelsSchema.parse(Object.fromEntries(labelled));
}

/** What a wall may write; whom it has no label for it calls by the place in the lane. */
export function wallLabels(
  names: WallNames,
  { short, full }: { readonly short: Labels; readonly full: Labels },
): Labels {
  switch (names) {
    case 'first':
      return short;
    case 'initials':
      return initialsLabels(full);
    case 'full':
      return full;
    case 'none':
      return {};
  }
}

export function fullLabels(swimmers: readonly Named[]): Labels {
  const labels: Labels = {};
  for (const { id, name } of swimmers) labels[id] = name;
  return labels;
}

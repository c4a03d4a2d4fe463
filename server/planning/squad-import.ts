import type { Reference, SetMean, Squad, Swimmer } from '../../shared-types/squad.ts';
import { withTakenOver } from './kept-references.ts';
import { sameEvent } from './pace/references.ts';
import type { SquadReading } from './squad-csv.ts';
import { nameKey } from './swimmer-names.ts';

/**
 * A squad in the place of another: a swimmer of the same name keeps the id and what was taken over from results. A name
 * is first looked for letter by letter, so that two who differ in a capital stay two.
 */
export function keepIds(swimmers: readonly Swimmer[], before: readonly Swimmer[]): Swimmer[] {
  const left = [...before];
  const take = (isSame: (one: Swimmer) => boolean): Swimmer | undefined => {
    const place = left.findIndex(isSame);
    return place < 0 ? undefined : left.splice(place, 1)[0];
  };
  const exactly = swimmers.map(({ name }) => take((one) => one.name === name));
  return swimmers.map((swimmer, place) => {
    const same = exactly[place] ?? take((one) => nameKey(one.name) === nameKey(swimmer.name));
    return same ? { ...withTakenOver(swimmer, same), id: same.id } : swimmer;
  });
}

const isOfSame = (a: Reference, b: Reference): boolean =>
  a.kind === b.kind && a.course === b.course && sameEvent(a.event, b.event);

const isMeanOfSame = (a: SetMean, b: SetMean): boolean => a.set === b.set && a.sendOff === b.sendOff;

/** What the readable rows do not say stays as it was. */
function filledUp(next: Swimmer, before: Swimmer): Swimmer {
  const references = before.references.filter((one) => !next.references.some((other) => isOfSame(one, other)));
  const means = (before.means ?? []).filter((one) => !(next.means ?? []).some((other) => isMeanOfSame(one, other)));
  const allMeans = [...(next.means ?? []), ...means];
  return {
    ...before,
    ...next,
    references: [...next.references, ...references],
    ...(allMeans.length > 0 ? { means: allMeans } : {}),
  };
}

/**
 * The squad after a file is loaded. A swimmer with a row that has to be left out keeps, of what they had, what the other
 * rows do not say anew: a slip in a file must not cost anybody a time, or a place in the squad. Nobody is new by bad rows
 * alone.
 */
export function importedSquad({ squad, rows }: SquadReading, before: Squad): Squad {
  const withBadRows = new Set(rows.filter(({ state }) => state === 'bad').map(({ name }) => nameKey(name)));
  const hasBadRow = ({ name }: Swimmer): boolean => withBadRows.has(nameKey(name));
  const next = keepIds(squad.swimmers, before.swimmers);
  const readNames = new Set(rows.filter(({ state }) => state !== 'bad').map(({ name }) => nameKey(name)));
  const byId = new Map(before.swimmers.map((swimmer) => [swimmer.id, swimmer]));
  const loaded = next.flatMap((swimmer) => {
    const same = byId.get(swimmer.id);
    if (same) return [hasBadRow(swimmer) ? filledUp(swimmer, same) : swimmer];
    return readNames.has(nameKey(swimmer.name)) ? [swimmer] : [];
  });
  const ids = new Set(loaded.map(({ id }) => id));
  const unread = before.swimmers.filter((swimmer) => !ids.has(swimmer.id) && hasBadRow(swimmer));
  return { swimmers: [...loaded, ...unread] };
}

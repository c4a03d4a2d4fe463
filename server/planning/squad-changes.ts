import {
  eventText,
  howTaken,
  type Reference,
  referenceTime,
  type SetMean,
  type Squad,
  type Swimmer,
} from '../../shared-types/squad.ts';
import { dateText, formatSwimTime } from '../../shared-types/time.ts';
import type { SwimmerChange, SwimmerChanges } from '../../shared-types/wire/squad.ts';
import type { SquadRow } from './squad-csv.ts';
import { nameKey } from './swimmer-names.ts';

/** A fact about a swimmer: what it is about, and what it says. */
interface Fact {
  readonly what: string;
  readonly says: string;
  /** Of the file; null where no one row says it. */
  readonly line: number | null;
}

const dated = (date: string | undefined): string[] => (date === undefined ? [] : [dateText(date)]);

function referenceFact(reference: Reference, line: number | null): Fact {
  const { event, course, kind, date, halfMs, splitsMs } = reference;
  const half = halfMs === undefined ? [] : [`half ${formatSwimTime(halfMs, 2)}`];
  const splits = splitsMs ? [`splits ${splitsMs.map((split) => formatSwimTime(split, 2)).join(' ')}`] : [];
  const says = [referenceTime(reference), ...dated(date), ...howTaken(reference), ...half, ...splits];
  return { what: `${eventText(event)} ${course}, ${kind}`, says: says.join(', '), line };
}

const meanFact = ({ set, sendOff, meanMs, date, handTimed }: SetMean, line: number | null): Fact => ({
  what: `mean of ${set}, ${sendOff}`,
  says: [formatSwimTime(meanMs, handTimed ? 1 : 2), ...dated(date), ...(handTimed ? ['by hand'] : [])].join(', '),
  line,
});

/** The line of the row that a time was read from. */
function lineOf(rows: readonly SquadRow[], time: Reference | SetMean): number | null {
  const written = JSON.stringify(time);
  return rows.find(({ reference, mean }) => JSON.stringify(reference ?? mean) === written)?.line ?? null;
}

function factsOf(swimmer: Swimmer, rows: readonly SquadRow[]): Fact[] {
  const { name, short, lane, order, group, category, main, references, means = [] } = swimmer;
  const line = rows[0]?.line ?? null;
  const own: readonly (readonly [string, string | number | undefined])[] = [
    ['name', name],
    ['short name', short],
    ['lane', lane],
    ['order in the lane', order],
    ['group', group],
    ['category', category],
    ['main event', main && eventText(main)],
  ];
  return [
    ...own.flatMap(([what, says]) => (says === undefined ? [] : [{ what, says: String(says), line }])),
    ...references.map((reference) => referenceFact(reference, lineOf(rows, reference))),
    ...means.map((mean) => meanFact(mean, lineOf(rows, mean))),
  ];
}

/** Facts that only one of the two has; where both say something else about the same, that is one change. */
function changesBetween(before: readonly Fact[], after: readonly Fact[]): SwimmerChange[] {
  const isSame = (a: Fact) => (b: Fact) => a.what === b.what && a.says === b.says;
  const gone = before.filter((fact) => !after.some(isSame(fact)));
  const come = after.filter((fact) => !before.some(isSame(fact)));
  const changed = come.map(({ what, says, line }) => {
    const place = gone.findIndex((fact) => fact.what === what);
    const was = place < 0 ? null : (gone.splice(place, 1)[0]?.says ?? null);
    return { what, was, becomes: says, line };
  });
  return [...changed, ...gone.map(({ what, says }) => ({ what, was: says, becomes: null, line: null }))];
}

/**
 * What becomes of every swimmer when one squad takes the place of another, in the order of the new one; those who are in
 * it no more come last.
 * @param rows of the file the new squad was read from
 */
export function squadChanges(before: Squad, after: Squad, rows: readonly SquadRow[]): SwimmerChanges[] {
  const rowsOf = new Map<string, SquadRow[]>();
  for (const row of rows) rowsOf.set(nameKey(row.name), [...(rowsOf.get(nameKey(row.name)) ?? []), row]);
  const left = new Map(before.swimmers.map((swimmer) => [swimmer.id, swimmer]));
  const stay = after.swimmers.map((swimmer): SwimmerChanges => {
    const own = rowsOf.get(nameKey(swimmer.name)) ?? [];
    const was = left.get(swimmer.id);
    left.delete(swimmer.id);
    const facts = factsOf(swimmer, own);
    const changes = changesBetween(
      was ? factsOf(was, []) : [],
      was ? facts : facts.filter(({ what }) => what !== 'name'),
    );
    const kind = was ? (changes.length > 0 ? 'changed' : 'unchanged') : 'added';
    return { name: swimmer.name, kind, line: own[0]?.line ?? null, changes };
  });
  const removed = [...left.values()].map((swimmer): SwimmerChanges => {
    const facts = factsOf(swimmer, []).filter(({ what }) => what !== 'name');
    return { name: swimmer.name, kind: 'removed', line: null, changes: changesBetween(facts, []) };
  });
  return [...stay, ...removed];
}

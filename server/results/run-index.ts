import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { Mark } from '../../shared-types/marks.ts';
import type { RepStep, Sheet, SheetLane } from '../../shared-types/sheet.ts';

/** A practice as it was swum. */
export interface SwumRun {
  /** The versions of its sheet as they came, the one in force (at the end) last. */
  readonly versions: readonly [...Sheet[], Sheet];
  readonly departures: readonly Departure[];
  /** All of them; only those that count are looked at. */
  readonly marks: readonly Mark[];
}

/** Where a rep stands on a version of the sheet. */
export interface Place {
  readonly sheet: Sheet;
  readonly lane: SheetLane;
  /** Among the lane's steps. */
  readonly index: number;
  readonly step: RepStep;
}

/** The same, to look things up in. */
export interface RunIndex {
  /** The version in force. */
  readonly sheet: Sheet;
  /** By lane number and step id, `3 12.0.0.4`. */
  readonly places: ReadonlyMap<string, Place>;
  /** Each swimmer's, in the order in which they left. */
  readonly departures: ReadonlyMap<SwimmerId, readonly Departure[]>;
  /** The marks that count of a swimmer's pass of a step. */
  readonly marksOf: (swimmer: SwimmerId, step: string, pass: number) => readonly Mark[];
}

function add<Key, Value>(lists: Map<Key, Value[]>, key: Key, value: Value): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}

/**
 * What a set is told by in every version of a sheet. Sheets from before a practice could be changed have no keys, and
 * no versions either: there its number will do.
 */
export const setKeyOf = (sheet: Sheet, set: number): string => sheet.sets[set]?.key ?? `#${set}`;

export function indexRun({ versions, departures, marks }: SwumRun): RunIndex {
  const leaving = new Map<SwimmerId, Departure[]>();
  for (const departure of [...departures].sort((a, b) => a.at - b.at)) add(leaving, departure.swimmer, departure);
  const counting = new Map<string, Mark[]>();
  for (const mark of marks) {
    if (mark.state === 'counts') add(counting, `${mark.swimmer} ${mark.step} ${mark.pass}`, mark);
  }
  return {
    sheet: inForce(versions),
    places: placesOf(versions),
    departures: leaving,
    marksOf: (swimmer, step, pass) => counting.get(`${swimmer} ${step} ${pass}`) ?? [],
  };
}

/** The version of the sheet that lanes swim by now, or swam by at the end. */
export function inForce(versions: SwumRun['versions']): Sheet {
  const [first, ...rest] = versions;
  return rest[rest.length - 1] ?? first;
}

/** Of a rep that several versions have, the newest: what has been swum is the same in all of them. */
function placesOf(versions: readonly Sheet[]): Map<string, Place> {
  const places = new Map<string, Place>();
  for (const sheet of versions) {
    for (const lane of sheet.lanes) {
      lane.steps.forEach((step, index) => {
        if (step.kind === 'rep') places.set(`${lane.lane} ${step.id}`, { sheet, lane, index, step });
      });
    }
  }
  return places;
}

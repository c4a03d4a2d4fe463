import type { IToken } from 'chevrotain';
import {
  EQUIPMENT_NAMES,
  type Equipment,
  type Note,
  type Part,
  type Release,
  type SetItem,
  type SetStroke,
} from '../../../shared-types/practice.ts';
import { activitySchema, strokeOf } from '../../../shared-types/squad.ts';
import { columnOf, endOf, isA } from './lexer.ts';
import type { RawClause, RawClauseBody, RawPart, RawPiece, RawSet } from './raw.ts';
import { readEffort } from './read-effort.ts';
import { readCount, readDistance, readMassKg, readStretch } from './read-number.ts';
import { readPerGroup, readTime } from './read-time.ts';
import { quote, type Report } from './report.ts';

/** The line a set stands on. */
export interface LinePlace {
  readonly line: number;
  readonly source: string;
  readonly report: Report;
}

type What = RawClauseBody['what'];
type Body<W extends What> = Extract<RawClauseBody, { what: W }>;

/** What a coach calls a clause when it is there twice; the three ways to leave exclude each other. */
const TWICE: Readonly<Record<What, string>> = {
  stroke: 'two strokes',
  activity: 'two activities',
  start: 'two starts',
  equipment: 'two lists of equipment',
  interval: 'two send-offs',
  rest: 'two send-offs',
  go: 'two send-offs',
  dropping: 'two "dropping"',
  apart: 'two gaps between swimmers',
  effort: 'two efforts',
  parts: 'two lists of parts',
  finish: 'two "finish together"',
};

/** The clauses of one set or part by kind, each at most once. */
class Clauses {
  private readonly byName = new Map<string, RawClause>();

  constructor(clauses: readonly RawClause[], place: LinePlace) {
    for (const clause of clauses) {
      const name = TWICE[clause.body.what];
      const earlier = this.byName.get(name);
      if (earlier) place.report(clause.first, { text: twiceText(name, earlier, clause, place.source) });
      else this.byName.set(name, clause);
    }
  }

  get<W extends What>(what: W): Body<W> | undefined {
    const body = this.byName.get(TWICE[what])?.body;
    const isWanted = (b: RawClauseBody): b is Body<W> => b.what === what;
    return body && isWanted(body) ? body : undefined;
  }

  firstToken(what: What): IToken | undefined {
    return this.byName.get(TWICE[what])?.first;
  }
}

function twiceText(name: string, earlier: RawClause, later: RawClause, source: string): string {
  const [one, two] = [earlier, later].map(({ first, last }) => quote(source.slice(first.startOffset, endOf(last))));
  return `${name} in one line, ${one} and ${two}; keep one`;
}

function readStroke(clause: Body<'stroke'>, report: Report): SetStroke {
  const stroke = strokeOf(clause.token.image);
  if (clause.order && stroke !== 'IM') {
    report(clause.order, { text: '"order" goes with IM; write IM order', fix: 'IM order' });
  }
  if (stroke) return clause.order ? 'IM order' : stroke;
  return isA(clause.token, 'Own') ? 'own' : 'choice';
}

function readPiece(raw: RawPiece, report: Report): Equipment | null {
  const name = EQUIPMENT_NAMES.find((known) => known === raw.name.image.toLowerCase());
  if (!name) return null;
  if (!raw.mass || !raw.unit) return { name };
  const massKg = readMassKg(raw.mass, raw.unit, report);
  return massKg === null ? null : { name, massKg };
}

function readPart(raw: RawPart, place: LinePlace): Part {
  const clauses = new Clauses(raw.clauses, place);
  const start = clauses.firstToken('start');
  if (start) place.report(start, { text: 'a part cannot start from a dive; write it after the distance of the rep' });
  const [stroke, activity, effort] = [clauses.get('stroke'), clauses.get('activity'), clauses.get('effort')];
  const readEfforts = effort && readEffort(effort.effort, place.report);
  return {
    distance: readStretch(raw.distance, place.report) ?? Number.NaN,
    column: columnOf(raw.distance),
    ...(stroke ? { stroke: readStroke(stroke, place.report) } : {}),
    ...(activity ? { activity: activitySchema.parse(activity.token.image.toLowerCase()) } : {}),
    ...(readEfforts ? { effort: readEfforts } : {}),
  };
}

function readParts(clauses: Clauses, size: SetItem['size'] | null, place: LinePlace): readonly Part[] {
  const raw = clauses.get('parts');
  const open = clauses.firstToken('parts');
  if (!raw || !open) return [];
  const parts = raw.parts.map((part) => readPart(part, place));
  if (size?.kind === 'timed') {
    place.report(open, { text: 'a rep given by its time has no parts; give it a distance or take the brackets out' });
  } else if (size) {
    // Tenths are the finest a part can be, so rounding there makes the sum exact.
    const sum = Math.round(parts.reduce((total, part) => total + part.distance, 0) * 10) / 10;
    if (Number.isFinite(sum) && sum !== size.distance) {
      place.report(open, { code: 'parts-sum', text: `the parts add up to ${sum}, the rep is ${size.distance}` });
    }
  }
  return parts;
}

function readRelease(clauses: Clauses, report: Report): Release | null {
  const [interval, rest, go] = [clauses.get('interval'), clauses.get('rest'), clauses.get('go')];
  const dropping = clauses.get('dropping');
  const droppingMs = dropping && readTime(dropping.time, report, 'longer than 0');
  const droppingToken = clauses.firstToken('dropping');
  if (droppingToken && !interval) {
    report(droppingToken, {
      text: '"dropping" shortens a send-off, and this line has none; write it like @ 1:30 dropping :05',
    });
  }
  if (interval) {
    const intervalMs = readPerGroup(interval.times, (token) => readTime(token, report, 'longer than 0'), report);
    return intervalMs && { kind: 'interval', intervalMs, ...(droppingMs ? { droppingMs } : {}) };
  }
  if (rest) {
    const restMs = readTime(rest.time, report, 'longer than 0');
    return restMs === null ? null : { kind: 'rest', restMs };
  }
  return go ? { kind: 'go', byHeat: go.heat !== undefined } : null;
}

function readSize(token: IToken, report: Report): SetItem['size'] | null {
  if (isA(token, 'Time', 'SlippedTime')) {
    const timeMs = readTime(token, report, 'longer than 0');
    return timeMs === null ? null : { kind: 'timed', timeMs };
  }
  const distance = readDistance(token, report);
  return distance === null ? null : { kind: 'distance', distance };
}

/**
 * What a set line means; everything wrong in it is reported.
 * @returns the set and the list its later notes go to; null when it has no counts or no size to go on with
 */
export function readSet(raw: RawSet, place: LinePlace): { readonly item: SetItem; readonly notes: Note[] } | null {
  const { report } = place;
  const counts =
    raw.counts.length === 0
      ? ([1] as const)
      : readPerGroup(raw.counts, (token) => readCount(token, 'reps', report), report);
  const size = readSize(raw.size, report);
  const clauses = new Clauses(raw.clauses, place);
  const [stroke, activity, apart, effort] = [
    clauses.get('stroke'),
    clauses.get('activity'),
    clauses.get('apart'),
    clauses.get('effort'),
  ];
  const release = readRelease(clauses, report);
  const apartMs = apart ? readTime(apart.time, report, 'zero allowed') : null;
  const wholeEffort = effort ? readEffort(effort.effort, report) : null;
  const pieces = (clauses.get('equipment')?.pieces ?? []).map((piece) => readPiece(piece, report));
  const notes: Note[] = [];
  const known = {
    kind: 'set' as const,
    line: place.line,
    column: columnOf(raw.first),
    sizeColumn: columnOf(raw.size),
    stroke: stroke ? readStroke(stroke, report) : ('free' as const),
    activity: activitySchema.parse(activity?.token.image.toLowerCase() ?? 'swim'),
    start: clauses.get('start') ? ('dive' as const) : ('push' as const),
    equipment: pieces.filter((piece) => piece !== null),
    parts: readParts(clauses, size, place),
    finishTogether: clauses.get('finish') !== undefined,
    notes,
    ...(release ? { release } : {}),
    ...(apartMs === null ? {} : { apartMs }),
    ...(wholeEffort ? { effort: wholeEffort } : {}),
  };
  return counts && size && { item: { ...known, counts, size }, notes };
}

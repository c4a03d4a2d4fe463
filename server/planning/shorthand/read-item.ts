import type { Item, Note, RoundsItem } from '../../../shared-types/practice.ts';
import { columnOf } from './lexer.ts';
import type { RawItem, RawRounds } from './raw.ts';
import { readCount } from './read-number.ts';
import { type LinePlace, readSet } from './read-set.ts';
import { readTime } from './read-time.ts';

/** Rounds may lie in rounds, but no deeper. */
const DEEPEST_ROUNDS = 2;

export interface ReadItem {
  readonly item: Item;
  /** Where a note that follows goes: to the last set of the line, if there is one. */
  readonly notes: Note[] | null;
}

function readRoundsHead(raw: RawRounds, depth: number, { report }: LinePlace) {
  const [count, ...others] = raw.counts;
  if (others[0])
    report(others[0], {
      text: 'rounds are the same number for everybody; write one number, or a block for each group',
    });
  if (depth >= DEEPEST_ROUNDS) {
    report(raw.first, { text: 'rounds may stand inside rounds, but no deeper; write the inner lines out' });
  }
  const [together, moreTogether] = raw.options.filter((option) => option.what === 'together');
  const [between, moreBetween] = raw.options.filter((option) => option.what === 'between');
  const twice = moreTogether ?? moreBetween;
  if (twice) report(twice.token, { text: `${twice.what} is written twice; keep one` });
  return {
    count: count ? readCount(count, 'rounds', report) : null,
    together: together !== undefined,
    betweenMs: between ? readTime(between.token, report, 'longer than 0') : null,
  };
}

/** Rounds, their lines in `items`, which may still grow. @returns null when reported */
export function readRounds(raw: RawRounds, depth: number, items: Item[], place: LinePlace): RoundsItem | null {
  const { count, together, betweenMs } = readRoundsHead(raw, depth, place);
  if (count === null) return null;
  const { line } = place;
  const column = columnOf(raw.first);
  return { kind: 'rounds', line, column, count, together, ...(betweenMs === null ? {} : { betweenMs }), items };
}

/**
 * What a line means, heads of blocks aside; everything wrong in it is reported.
 * @param depth how many rounds are open around the line
 * @returns null when there is nothing to go on with; then it has been reported
 */
export function readMeaning(raw: RawItem, depth: number, place: LinePlace): ReadItem | null {
  switch (raw.kind) {
    case 'set':
      return readSet(raw, place);
    case 'rest': {
      const restMs = readTime(raw.time, place.report, 'longer than 0');
      const { line } = place;
      return restMs === null
        ? null
        : { item: { kind: 'rest', line, column: columnOf(raw.first), restMs }, notes: null };
    }
    case 'rounds': {
      const inner = (raw.inline ?? [])
        .map((each) => readMeaning(each, depth + 1, place))
        .filter((each) => each !== null);
      const item = readRounds(
        raw,
        depth,
        inner.map((each) => each.item),
        place,
      );
      return item && { item, notes: inner.findLast((each) => each.notes !== null)?.notes ?? null };
    }
    default:
      return { item: { kind: raw.kind, line: place.line, column: columnOf(raw.first) }, notes: null };
  }
}

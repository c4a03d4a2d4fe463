import type { Link } from '../../client/common/live.ts';
import type { Instant } from '../../shared-types/brand.ts';
import { type Expected, expectedAt } from '../../shared-types/expected.ts';
import { marksOf } from '../../shared-types/marks.ts';

/** [CMD5] Whose time is still to be taken, as a deck would have it. */
export function expectedOn({ practice: { value: practice }, times }: Link, at: Instant): Expected[] {
  if (!practice) return [];
  const { sheet, run } = practice;
  const taken = marksOf(times.book.value).filter(
    ({ state }) => state === 'counts' || state === 'second' || state === 'missed',
  );
  const finishedAt = run.state === 'finished' ? (run.changedAt ?? null) : null;
  const departures = times.departuresAt(at);
  return sheet.lanes.flatMap(({ lane }) => expectedAt({ sheet, departures, taken, finishedAt }, lane, at));
}

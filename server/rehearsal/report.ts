import { ms } from '../../shared-types/brand.ts';
import { marksOf } from '../../shared-types/marks.ts';
import type { ResultsAnswer, ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import type { RehearsalResult, Tally } from './rehearsal.ts';
import type { RehearsalReport, SetReport } from './report-schema.ts';

interface Known {
  readonly seed: number;
  readonly title: string;
  readonly storedAsSeen: boolean;
}

/** What a rehearsal comes to, in numbers. */
export function reportOf(result: RehearsalResult, { seed, title, storedAsSeen }: Known): RehearsalReport {
  const { finished, followed, tookMs, tally, results } = result;
  const unplaced = marksOf(followed.book).filter(({ state }) => state === 'unplaced');
  return {
    title,
    seed,
    finished,
    tookMs: ms(Math.round(tookMs)),
    presses: tally.presses,
    refused: tally.refused,
    marks: {
      sent: tally.marksSent,
      stored: tally.marksStored,
      unplaced: unplaced.length,
      unexpected: tally.unexpected,
    },
    toleranceMsPer50: results.sets[0]?.swimmers[0]?.hits.toleranceMsPer50 ?? null,
    sets: results.sets.map((set) => setReport(set, results.labels)),
    storedAsSeen,
    problems: problemsOf(finished, storedAsSeen, tally),
  };
}

function problemsOf(finished: boolean, storedAsSeen: boolean, { marksSent, marksStored }: Tally): string[] {
  const lost = marksSent - marksStored;
  return [
    ...(finished
      ? []
      : ['The practice did not come to its end: it was taken off the wall, or nothing was left that could happen.']),
    ...(lost === 0 ? [] : [`The server did not store ${lost} of ${marksSent} times.`]),
    ...(storedAsSeen ? [] : ['What is stored is not what the deck saw.']),
  ];
}

function setReport({ line, words, style, swimmers }: ShownSet, labels: ResultsAnswer['labels']): SetReport {
  const sum = (of: (own: ShownSwimmer) => number): number => swimmers.reduce((all, own) => all + of(own), 0);
  return {
    line,
    words,
    style,
    swum: sum(({ reps }) => reps.reduce((all, { passes }) => all + passes, 0)),
    timed: sum(({ reps }) => reps.filter(({ ms, splits }) => ms !== null || splits.length > 0).length),
    judged: sum(({ hits }) => hits.judged),
    hits: sum(({ hits }) => hits.hits),
    swimmers: swimmers.map(({ swimmer, lead }) => ({ name: labels[swimmer] ?? 'Swimmer', line: lead.line })),
  };
}

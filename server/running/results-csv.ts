import Papa from 'papaparse';
import type { Instant } from '../../shared-types/brand.ts';
import type { Mark } from '../../shared-types/marks.ts';
import { unitOf } from '../../shared-types/pool.ts';
import { type Figure, isKnown } from '../../shared-types/results.ts';
import type { JudgedRep, ResultsAnswer, ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { FORMULA } from '../planning/csv-formulas.ts';

/** A cell: text, a number (with a decimal point), or nothing where there is none. */
type Cell = string | number | null;
type Row = Readonly<Record<string, Cell>>;

const BOM = '\uFEFF';

/** In this order. Of the three kinds of record each fills the columns that it has. */
const COLUMNS = [
  ...['record', 'practice', 'put_on_wall_at', 'section', 'set', 'words', 'style', 'lane', 'swimmer'],
  ...['round', 'rep', 'step', 'pass', 'distance', 'unit', 'stroke', 'activity', 'start', 'left_at', 'time_s'],
  ...['missing', 'target_s', 'target_estimated', 'verdict', 'rest_s', 'taken_at', 'state'],
  ...['load_kg', 'rope_n', 'watts'],
  ...['in_short', 'times', 'times_missing', 'mean_s', 'best_s', 'worst_s', 'spread_s', 'fade_s_per_rep'],
  ...['first_to_last_percent', 'finish_s', 'held', 'judged', 'under', 'longest_run', 'paced_distance'],
  ...['wall_rest_s', 'mean_per_100_s', 'over_per_100_s', 'over_what', 'mean_watts', 'best_watts', 'drop_percent'],
  ...['change_s', 'change_since', 'change_likeness'],
];

const isoAt = (at: Instant | null): Cell => (at === null ? null : new Date(at).toISOString());

const LIKENESS = { strict: 'same', loose: 'other send-off or effort' } as const;

/** Rounded to three decimals, so that no figure looks more exact than a millisecond. */
const rounded = (value: number): number => Math.round(value * 1000) / 1000;
const figure = (value: Figure): Cell => (isKnown(value) ? rounded(value) : null);
const seconds = (ms: Figure | null): Cell => (ms !== null && isKnown(ms) ? rounded(ms / 1000) : null);

/**
 * The results and the times of a run as a CSV (RFC 4180): a `set` record for each swimmer of a set with its figures, a
 * `rep` record for each rep, and a `mark` record for every time that was taken, whether it counts or not. Seconds to the
 * millisecond; instants are of the pool's clock, in UTC. Numbers stay as they are, below nought too.
 * @param withBom opens with a byte order mark, by which spreadsheets know UTF-8
 */
export function resultsCsv(results: ResultsAnswer, marks: readonly Mark[], withBom: boolean): string {
  const { run, sets } = results;
  const ofRun: Row = { practice: run.title, put_on_wall_at: isoAt(run.loadedAt), unit: unitOf(results.course) };
  const rows = [...sets.flatMap((set) => setRows(results, set)), ...marks.map((mark) => markRow(results, mark))].map(
    (row) => ({ ...ofRun, ...row }),
  );
  const data = rows.map((row: Row) => COLUMNS.map((column) => row[column] ?? null));
  return `${withBom ? BOM : ''}${Papa.unparse({ fields: COLUMNS, data }, { escapeFormulae: FORMULA })}\r\n`;
}

const ofSet = ({ section, set, words, style }: ShownSet): Row => ({ section, set: set + 1, words, style });

function setRows({ labels }: ResultsAnswer, set: ShownSet): Row[] {
  return set.swimmers.flatMap((own) => {
    const whose = { ...ofSet(set), swimmer: labels[own.swimmer] ?? null };
    const figures = { ...whose, record: 'set', lane: own.reps[0]?.lane ?? null, ...figuresOf(own) };
    return [
      figures,
      ...own.reps.map((rep) => ({ ...whose, record: 'rep', ...repCells(rep), ...powerCells(own, rep) })),
    ];
  });
}

function figuresOf({ lead, spread, fade, finishMs, hits, rest, threshold, power, change }: ShownSwimmer): Row {
  return {
    in_short: lead.line,
    times: spread.count,
    times_missing: spread.missing,
    mean_s: seconds(spread.meanMs),
    best_s: seconds(spread.bestMs),
    worst_s: seconds(spread.worstMs),
    spread_s: seconds(spread.sdMs),
    fade_s_per_rep: figure(fade.secondsPerRep),
    first_to_last_percent: figure(fade.firstToLastPercent),
    finish_s: seconds(finishMs),
    held: hits.hits,
    judged: hits.judged,
    under: hits.under,
    longest_run: hits.longestRun,
    paced_distance: hits.pacedDistance,
    wall_rest_s: seconds(rest.meanMs),
    mean_per_100_s: seconds(threshold.meanPer100Ms),
    over_per_100_s: seconds(threshold.overPer100Ms),
    over_what: threshold.against === 'nothing' ? null : threshold.against,
    mean_watts: isKnown(power) ? figure(power.meanWatts) : null,
    best_watts: isKnown(power) ? figure(power.bestWatts) : null,
    drop_percent: isKnown(power) ? figure(power.dropPercent) : null,
    change_s: isKnown(change) ? seconds(change.meanMs) : null,
    change_since: isKnown(change) ? isoAt(change.at) : null,
    change_likeness: isKnown(change) ? LIKENESS[change.likeness] : null,
  };
}

function repCells(rep: JudgedRep): Row {
  const { outerRound, round, target, judgements } = rep;
  return {
    lane: rep.lane,
    round: [outerRound, round].filter((number) => number !== undefined).join('.') || null,
    rep: rep.rep,
    step: rep.step,
    pass: rep.passes || null,
    distance: rep.distance ?? null,
    stroke: rep.stroke,
    activity: rep.activity,
    start: rep.start,
    left_at: isoAt(rep.leftAt),
    time_s: seconds(rep.ms),
    missing: rep.missing ?? null,
    target_s: seconds(target.ms),
    target_estimated: target.ms === null ? null : target.estimated ? 'yes' : 'no',
    verdict: judgements.map(({ verdict }) => verdict).join(' ') || null,
    rest_s: seconds(rep.restMs),
  };
}

function powerCells({ power }: ShownSwimmer, { rep }: JudgedRep): Row {
  const pulled = isKnown(power) ? power.reps.find((one) => one.rep === rep) : undefined;
  if (!pulled) return {};
  return { load_kg: figure(pulled.loadKg), rope_n: pulled.ropeN ?? null, watts: figure(pulled.watts) };
}

function markRow({ labels, sets }: ResultsAnswer, mark: Mark): Row {
  const set = sets.find(({ swimmers }) =>
    swimmers.some(({ swimmer, reps }) => swimmer === mark.swimmer && reps.some(({ step }) => step === mark.step)),
  );
  return {
    ...(set ? ofSet(set) : {}),
    record: 'mark',
    lane: mark.lane,
    swimmer: labels[mark.swimmer] ?? null,
    step: mark.step,
    pass: mark.pass,
    distance: mark.distance,
    left_at: isoAt(mark.leftAt),
    time_s: seconds(mark.ms),
    taken_at: isoAt(mark.pressedAt),
    state: mark.state,
  };
}

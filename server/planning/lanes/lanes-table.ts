import type { LaneNumber } from '../../../shared-types/brand.ts';
import { eventText, type Swimmer } from '../../../shared-types/squad.ts';
import { formatSwimTime } from '../../../shared-types/time.ts';
import { columnsOf, flow, onOneLine, PAGE_COLUMNS, padded, shortened, sideBySide } from '../text-columns.ts';
import type { LanesQuestion } from './lanes-json.ts';
import type { SquadLane, SquadPlace, SquadProposal } from './propose-from-squad.ts';

const LONGEST_NAME = 26;

/** Proposed lanes as text a coach can print, at most 100 columns wide: a row a swimmer, the lane's figures on its first. */
export function lanesTable(proposal: SquadProposal, { event, course, capacity }: LanesQuestion): string {
  const { lanes, sumOfSquares } = proposal;
  const inSquaredSeconds = (sumOfSquares / 1e6).toFixed(2);
  return [
    `Lanes by ${eventText(event)} · ${course} · at most ${capacity} a lane`,
    '',
    ...aligned(lanes.flatMap(laneRows)),
    ...withoutLines(proposal),
    '',
    `Sum of squared differences from the lane means: ${inSquaredSeconds} s²`,
    ...(isAnyEstimated(lanes) ? [ESTIMATED] : []),
    '',
  ].join('\n');
}

const ESTIMATED = '~ is estimated from other times of the swimmer; --json says from which and how';

const isAnyEstimated = (lanes: readonly SquadLane[]): boolean =>
  lanes.some(({ swimmers }) => swimmers.some(({ time }) => time?.estimate));

interface TableRow {
  readonly cells: readonly string[];
  readonly notes: string;
}

function laneRows({ lane, group, meanMs, spreadMs, swimmers }: SquadLane): TableRow[] {
  const figures = [String(lane), group ?? '', timeText(meanMs), timeText(spreadMs)];
  if (swimmers.length === 0) return [{ cells: [...figures, '', 'nobody'], notes: '' }];
  return swimmers.map((place, row) => ({
    cells: [...(row === 0 ? figures : ['', '', '', '']), placeTime(place), nameText(place.swimmer)],
    notes: placeNotes(place, lane),
  }));
}

const timeText = (value: number | null): string => (value === null ? '' : formatSwimTime(value, 2));

const placeTime = ({ time }: SquadPlace): string =>
  time ? `${time.estimate ? '~' : ''}${timeText(time.timeMs)}` : 'no time';

const placeNotes = ({ swimmer, time, fixed }: SquadPlace, lane: LaneNumber): string =>
  [
    ...(fixed ? ['kept'] : []),
    ...(swimmer.lane === undefined || swimmer.lane === lane ? [] : [`now in ${swimmer.lane}`]),
    ...(time?.estimate ? [time.estimate] : []),
  ].join(', ');

const nameText = ({ name }: Swimmer): string => shortened(onOneLine(name), LONGEST_NAME);

const HEAD = ['lane', 'group', 'mean', 'spread', 'time', 'swimmer'];
/** Lane, mean, spread and time end at one edge, the others begin at one. */
const EDGES = ['start', 'end', 'start', 'start', 'start', 'end'] as const;

/** Columns as wide as their widest cell; the notes, which come last, get what is left of the line. */
function aligned(rows: readonly TableRow[]): string[] {
  const all = [{ cells: HEAD, notes: '' }, ...rows];
  const widths = EDGES.map((_, column) => Math.max(...all.map(({ cells }) => columnsOf(cells[column] ?? ''))));
  const room = PAGE_COLUMNS - widths.reduce((sum, width) => sum + width + 2, 0);
  return all.flatMap(({ cells, notes }) => {
    const edged = EDGES.map((edge, column) => [padded(cells[column] ?? '', widths[column] ?? 0, edge)]);
    return sideBySide([...edged, flow([notes], room)], [...widths, room]);
  });
}

function withoutLines({ lanes, without }: SquadProposal): string[] {
  if (without.length === 0) return [];
  const keptIn = new Map(lanes.flatMap(({ lane, swimmers }) => swimmers.map(({ swimmer }) => [swimmer.id, lane])));
  const lines = without.map(({ swimmer, missing }) => {
    const lane = keptIn.get(swimmer.id);
    return `  ${nameText(swimmer)}: ${missing}${lane === undefined ? '' : `; kept in lane ${lane}`}`;
  });
  return ['', 'Without a time', ...lines.flatMap((line) => flow([line], PAGE_COLUMNS, 4))];
}

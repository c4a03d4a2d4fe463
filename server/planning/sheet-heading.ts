import { unitOf } from '../../shared-types/pool.ts';
import type { Sheet, SheetLane } from '../../shared-types/sheet.ts';
import { formatClock } from '../../shared-types/time.ts';
import { type Volume, volumesBySection, volumesByStyle } from '../../shared-types/volume.ts';
import { SAID_BY_SECTION } from './compile/style.ts';
import { columnsOf, flow, onOneLine, padded, sideBySide } from './text-columns.ts';

/** What stands above the lanes of a printed sheet: its title, what its numbers mean, what is swum of what. */
export function sheetHeading(sheet: Sheet, columns: number): string[] {
  const total = `${sheet.course} · ${sheet.distance} ${unitOf(sheet.course)} · ${wholeSeconds(sheet.durationMs)} without waits for go`;
  return [
    ...flow([onOneLine(sheet.title ?? '') || 'Practice'], columns, 2),
    total,
    ...flow(conventions(sheet), columns),
    ...(hasEstimates(sheet) ? flow([ESTIMATES], columns, 2) : []),
    ...sectionBlock(sheet),
    ...styleBlock(sheet),
    ...inferredBlock(sheet, columns),
  ];
}

/** Sets whose section names no style, with the one they were given and why. */
function inferredBlock(sheet: Sheet, columns: number): string[] {
  const inferred = sheet.sets.filter(({ styleReason }) => styleReason !== SAID_BY_SECTION);
  if (inferred.length === 0) return [];
  const lines = inferred.flatMap(({ line, words, style, styleReason }) =>
    flow([onOneLine(`line ${line}, ${words}: ${style}, ${styleReason}`)], columns - 2, 4),
  );
  return ['', 'Styles no section names', ...lines.map((line) => `  ${line}`)];
}

const PACE_WORDS = { even: 'the even pace', 'without-dive': 'without the dive' } as const;

function conventions({ conventions: { percent, pace, easyShare, prefer = 'goal' } }: Sheet): string[] {
  return [
    `percent is of ${percent};`,
    `race pace from a push is ${PACE_WORDS[pace]};`,
    `easy is ${Math.round(easyShare * 100)} % of 200-pace speed;`,
    `of several times of an event the ${prefer} comes first`,
  ];
}

const ESTIMATES =
  '~ marks an estimated time: easy swimming, or a target that does not follow directly from a time swum (the basis in the JSON says from what)';

const hasEstimates = ({ targets }: Sheet): boolean =>
  targets.some(({ splits }) => splits.some(({ paced, estimated }) => estimated || !paced));

const wholeSeconds = (valueMs: number): string => formatClock(Math.round(valueMs / 1000) * 1000);

/** What each lane has of something. */
interface Share {
  readonly label: string;
  readonly volumes: readonly { readonly lane: number; readonly volume: Volume }[];
}

const BEFORE_SECTIONS = 'before the first section';

function sectionBlock(sheet: Sheet): string[] {
  const [only, more] = sheet.sections;
  if (!only || (only.name === '' && !more)) return [];
  const byLane = sheet.lanes.map((lane) => ({ lane: lane.lane, volumes: volumesBySection(sheet, lane) }));
  const shares = sheet.sections.map(({ name }, place) => ({
    label: onOneLine(name) || BEFORE_SECTIONS,
    volumes: byLane.flatMap(({ lane, volumes }) => ({
      lane,
      volume: volumes[place] ?? { distance: 0, sets: 0, ms: 0 },
    })),
  }));
  return ['', 'Sections', ...shareRows(sheet, shares)];
}

function styleBlock(sheet: Sheet): string[] {
  const byLane = sheet.lanes.map((lane) => ({ lane: lane.lane, volumes: volumesByStyle(sheet, lane) }));
  const styles = [...new Set(byLane.flatMap(({ volumes }) => [...volumes.keys()]))];
  const shares = styles.map((style) => ({
    label: style,
    volumes: byLane.flatMap(({ lane, volumes }) => {
      const volume = volumes.get(style);
      return volume ? [{ lane, volume }] : [];
    }),
  }));
  return styles.length === 0 ? [] : ['', 'Styles', ...shareRows(sheet, shares)];
}

const LONGEST_LABEL = 34;
/** Of lanes, distance, sets and time: where a cell narrower than its column is filled up. */
const FILLED_AT = ['end', 'start', 'end', 'start'] as const;

/** Each label with a row for each lot of lanes that have the same of it. */
function shareRows(sheet: Sheet, shares: readonly Share[]): string[] {
  const blocks = shares.map(({ label, volumes }) => ({ label, rows: rowsOf(volumes, sheet) }));
  const rows = blocks.flatMap((block) => block.rows);
  const widths = FILLED_AT.map((_, column) => Math.max(...rows.map((row) => columnsOf(row[column] ?? ''))));
  const lineOf = (row: readonly string[]): string =>
    row
      .map((cell, column) => padded(cell, widths[column] ?? 0, FILLED_AT[column]))
      .filter((cell) => cell !== '')
      .join('  ');
  const labelWidth = Math.min(LONGEST_LABEL, Math.max(...shares.map(({ label }) => columnsOf(label))));
  return blocks
    .flatMap((block) => sideBySide([flow([block.label], labelWidth, 2), block.rows.map(lineOf)], [labelWidth, 0]))
    .map((line) => `  ${line}`);
}

function rowsOf(volumes: Share['volumes'], { course, lanes }: Sheet): string[][] {
  const alike = new Map<string, { volume: Volume; of: number[] }>();
  for (const { lane, volume } of volumes) {
    const key = `${volume.distance} ${volume.sets} ${wholeSeconds(volume.ms)}`;
    const known = alike.get(key);
    if (known) known.of.push(lane);
    else alike.set(key, { volume, of: [lane] });
  }
  return [...alike.values()].map(({ volume: { distance, sets, ms }, of }) => [
    of.length === lanes.length ? '' : laneWords(of, lanes),
    `${distance} ${unitOf(course)}`,
    `${sets} set${sets === 1 ? '' : 's'}`,
    wholeSeconds(ms),
  ]);
}

/** `lane 4`, `lanes 1–3, 6`: neighbours on the sheet as a range. */
function laneWords(of: readonly number[], lanes: readonly SheetLane[]): string {
  const ranges: { from: number; to: number }[] = [];
  let previous: number | undefined;
  for (const { lane } of lanes) {
    const last = ranges.at(-1);
    if (of.includes(lane) && last && last.to === previous) last.to = lane;
    else if (of.includes(lane)) ranges.push({ from: lane, to: lane });
    previous = lane;
  }
  const words = ranges.map(({ from, to }) => (from === to ? `${from}` : `${from}–${to}`));
  return `lane${of.length === 1 ? '' : 's'} ${words.join(', ')}`;
}

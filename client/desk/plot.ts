import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { formatSwimTime } from '../../shared-types/time.ts';
import { colourName, dashOf } from './chart-marks.ts';
import { type ChartLine, type TimeChart, ticksWithRoom, timeRange, timeTicks } from './chart-model.ts';
import { inLocalNumbers } from './local-numbers.ts';
import { type Colours, drawOver, drawUnder, FONT, widthOf } from './plot-drawing.ts';

/** A chart that is drawn. */
export interface Plot {
  update(chart: TimeChart): void;
  resize(width: number): void;
  /** Anew, in the colours that the page has now. */
  redraw(): void;
  destroy(): void;
}

/** Told of the place on the x axis that is pointed at; null when none is. */
type OnRead = (place: number | null) => void;

/** Widths and heights, px. */
const SCALE_WIDTH = 64;
const TICK_HEIGHT = 24;
const LINE_HEIGHT = 17;
const NAMES_WIDTH = 120;
const TICKS_APART = 26;
const ROOM_ABOVE = 24;

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Draws into an element of the page and follows what it is told. */
export function drawPlot(host: HTMLElement, first: TimeChart, size: Size, onRead: OnRead): Plot {
  let chart = first;
  let { width, height } = size;
  const colours: Colours = (name) => getComputedStyle(host).getPropertyValue(name).trim();
  const begin = (): uPlot =>
    new uPlot({ width, height, ...optionsOf(() => chart, colours, onRead) }, dataOf(chart), host);
  let plot = begin();
  return {
    update: (next) => {
      const isAlike = shapeOf(next) === shapeOf(chart);
      chart = next;
      if (isAlike) return plot.setData(dataOf(chart));
      plot.destroy();
      plot = begin();
    },
    resize: (next) => {
      width = next;
      plot.setSize({ width, height });
    },
    redraw: () => plot.redraw(),
    destroy: () => plot.destroy(),
  };
}

/** Charts of the same shape differ in their data only. */
const shapeOf = ({ lines, xLabel, ticks }: TimeChart): string =>
  JSON.stringify([xLabel, linesOf(ticks), lines.map(({ joins, ink, isNamed }) => [joins, ink, isNamed])]);

const linesOf = (ticks: TimeChart['ticks']): number => Math.max(1, ...ticks.map(({ text }) => text.split('\n').length));

const dataOf = ({ xs, lines }: TimeChart): uPlot.AlignedData => [
  [...xs],
  ...lines.map(({ values }): (number | null)[] => [...values]),
];

function optionsOf(chart: () => TimeChart, colours: Colours, onRead: OnRead): Omit<uPlot.Options, 'width' | 'height'> {
  const { lines } = chart();
  return {
    legend: { show: false },
    cursor: { y: false, points: { show: false }, drag: { x: false, y: false } },
    padding: [ROOM_ABOVE, lines.some(({ isNamed }) => isNamed) ? NAMES_WIDTH : 14, 0, 0],
    scales: { x: { time: false, range: () => ends(chart().range) }, y: { range: () => ends(timeRange(chart())) } },
    axes: [xAxis(chart, colours), timeAxis(colours)],
    series: [{}, ...lines.map((line) => seriesOf(line, colours))],
    hooks: {
      drawClear: [(plot) => drawUnder(plot, chart(), colours)],
      draw: [(plot) => drawOver(plot, chart(), colours)],
      setCursor: [(plot) => onRead(plot.cursor.idx ?? null)],
    },
  };
}

const ends = ({ from, to }: TimeChart['range']): uPlot.Range.MinMax => [from, to];

function axisIn(colours: Colours): uPlot.Axis {
  const font = `13px ${FONT}`;
  return {
    stroke: () => colours('--quiet'),
    font,
    labelFont: font,
    labelSize: LINE_HEIGHT,
    ticks: { stroke: () => colours('--line'), width: 1, size: 5 },
  };
}

function xAxis(chart: () => TimeChart, colours: Colours): uPlot.Axis {
  const shown = (plot: uPlot) =>
    ticksWithRoom(chart(), plot.bbox.width / uPlot.pxRatio, (text) => widthOf(plot.ctx, text));
  return {
    ...axisIn(colours),
    label: chart().xLabel,
    size: TICK_HEIGHT + (linesOf(chart().ticks) - 1) * LINE_HEIGHT,
    grid: { show: false },
    splits: (plot) => shown(plot).map(({ x }) => x),
    values: (plot) => shown(plot).map(({ text }) => inLocalNumbers(text)),
  };
}

function timeAxis(colours: Colours): uPlot.Axis {
  return {
    ...axisIn(colours),
    label: 'Time, slower upwards',
    size: SCALE_WIDTH,
    grid: { stroke: () => colours('--line'), width: 1 },
    splits: (plot, _, from, to) => timeTicks(from, to, Math.floor(plot.bbox.height / uPlot.pxRatio / TICKS_APART)),
    values: (_, times) => times.map((time) => inLocalNumbers(formatSwimTime(time, 1))),
  };
}

function seriesOf({ joins, ink }: ChartLine, colours: Colours): uPlot.Series {
  return {
    stroke: () => colours(colourName(ink)),
    width: ink === 'faint' ? 1 : 2,
    dash: [...dashOf(ink)],
    points: { show: false },
    spanGaps: joins === 'all',
    ...(joins === 'none' ? { paths: () => null } : {}),
  };
}

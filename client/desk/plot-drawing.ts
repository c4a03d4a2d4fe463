import uPlot from 'uplot';
import { colourName, MARKS } from './chart-marks.ts';
import { type AskedStep, type ChartLine, type ChartPoint, namePlaces, type TimeChart } from './chart-model.ts';

/** The page's colours by the names of its style. */
export type Colours = (name: string) => string;

export const FONT = '"Atkinson Hyperlegible Next Variable", system-ui, sans-serif';
const WORDS_FONT = `13px ${FONT}`;

/** A name at the end of a line, px. */
const NAME_HEIGHT = 14;
const NAME_WIDTH = 104;

/** Width of words, px. */
export function widthOf(ctx: CanvasRenderingContext2D, text: string): number {
  ctx.save();
  ctx.font = WORDS_FONT;
  const { width } = ctx.measureText(text);
  ctx.restore();
  return width;
}

/** Draws with the page's own pixels from the left top of the chart's canvas. */
function inPixels(plot: uPlot, draw: (ctx: CanvasRenderingContext2D) => void): void {
  const { ctx } = plot;
  ctx.save();
  ctx.scale(uPlot.pxRatio, uPlot.pxRatio);
  ctx.font = WORDS_FONT;
  ctx.setLineDash([]);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  draw(ctx);
  ctx.restore();
}

const xOf = (plot: uPlot, x: number): number => plot.valToPos(x, 'x', true) / uPlot.pxRatio;
const yOf = (plot: uPlot, ms: number): number => plot.valToPos(ms, 'y', true) / uPlot.pxRatio;

/** What lies under lines and scales: how much still is a hit, and the rounds. */
export function drawUnder(plot: uPlot, { asked, dividers }: TimeChart, colours: Colours): void {
  inPixels(plot, (ctx) => {
    ctx.fillStyle = colours('--selection');
    for (const step of asked) fillTolerance(ctx, plot, step);
    const top = plot.bbox.top / uPlot.pxRatio;
    const bottom = top + plot.bbox.height / uPlot.pxRatio;
    ctx.fillStyle = colours('--quiet');
    ctx.strokeStyle = colours('--edge');
    for (const { x, text, isDrawn } of dividers) {
      const left = xOf(plot, x);
      ctx.fillText(text, left + 5, top - 11);
      if (isDrawn) strokeThrough(ctx, [left, top - 18], [left, bottom]);
    }
  });
}

function fillTolerance(ctx: CanvasRenderingContext2D, plot: uPlot, { from, to, ms, toleranceMs }: AskedStep): void {
  if (toleranceMs === null) return;
  const [left, top] = [xOf(plot, from), yOf(plot, ms + toleranceMs)];
  ctx.fillRect(left, top, xOf(plot, to) - left, yOf(plot, ms - toleranceMs) - top);
}

type Corner = readonly [x: number, y: number];

function strokeThrough(ctx: CanvasRenderingContext2D, ...corners: readonly Corner[]): void {
  ctx.beginPath();
  for (const [x, y] of corners) ctx.lineTo(x, y);
  ctx.stroke();
}

/** What lies over the lines: what was asked, the trend, marks and names. */
export function drawOver(plot: uPlot, { asked, trend, lines, xs }: TimeChart, colours: Colours): void {
  inPixels(plot, (ctx) => {
    ctx.strokeStyle = colours('--writing');
    ctx.lineWidth = 1.5;
    for (const steps of runsOf(asked)) {
      strokeThrough(
        ctx,
        ...steps.flatMap(({ from, to, ms }): Corner[] => [pointAt(plot, from, ms), pointAt(plot, to, ms)]),
      );
    }
    if (trend) drawTrend(ctx, plot, trend, colours);
    for (const line of lines) drawMarks(ctx, plot, { line, xs, colours });
    drawNames(ctx, plot, { lines, xs, colours });
  });
}

const pointAt = (plot: uPlot, x: number, ms: number): Corner => [xOf(plot, x), yOf(plot, ms)];

/** Steps of which each begins where the one before ends. */
function runsOf(asked: readonly AskedStep[]): AskedStep[][] {
  const runs: AskedStep[][] = [];
  for (const step of asked) {
    const run = runs[runs.length - 1];
    if (run && run[run.length - 1]?.to === step.from) run.push(step);
    else runs.push([step]);
  }
  return runs;
}

interface Trend {
  readonly from: ChartPoint;
  readonly to: ChartPoint;
}

function drawTrend(ctx: CanvasRenderingContext2D, plot: uPlot, { from, to }: Trend, colours: Colours): void {
  ctx.save();
  ctx.strokeStyle = colours('--quiet');
  ctx.setLineDash([3, 5]);
  strokeThrough(ctx, pointAt(plot, from.x, from.ms), pointAt(plot, to.x, to.ms));
  ctx.restore();
}

interface Drawn {
  readonly xs: readonly number[];
  readonly colours: Colours;
}

function drawMarks(
  ctx: CanvasRenderingContext2D,
  plot: uPlot,
  { line, xs, colours }: Drawn & { line: ChartLine },
): void {
  line.values.forEach((ms, place) => {
    const [mark, x] = [line.marks[place], xs[place]];
    if (ms === null || !mark || x === undefined) return;
    const { path, isFilled } = MARKS[mark.shape];
    ctx.save();
    ctx.translate(...pointAt(plot, x, ms));
    ctx.lineWidth = 2.2;
    ctx.fillStyle = isFilled ? colours(colourName(mark.ink)) : colours('--sheet');
    ctx.strokeStyle = colours(colourName(mark.ink));
    const drawn = new Path2D(path);
    // A hollow mark hides the line under it; a cross has nothing to fill.
    if (path.endsWith('Z')) ctx.fill(drawn);
    if (!isFilled) ctx.stroke(drawn);
    ctx.restore();
  });
}

/** Where a line ends. */
function endOf({ values }: ChartLine, xs: readonly number[]): ChartPoint | null {
  return values.reduce<ChartPoint | null>((end, ms, place) => {
    const x = xs[place];
    return ms === null || x === undefined ? end : { x, ms };
  }, null);
}

function drawNames(
  ctx: CanvasRenderingContext2D,
  plot: uPlot,
  { lines, xs, colours }: Drawn & { lines: readonly ChartLine[] },
): void {
  const ends = lines.flatMap((line) => {
    const end = line.isNamed ? endOf(line, xs) : null;
    return end ? [{ line, at: pointAt(plot, end.x, end.ms) }] : [];
  });
  const bottom = (plot.bbox.top + plot.bbox.height) / uPlot.pxRatio;
  const places = namePlaces(
    ends.map(({ at: [, y] }) => y),
    NAME_HEIGHT,
    bottom,
  );
  const left = (plot.bbox.left + plot.bbox.width) / uPlot.pxRatio + 14;
  ends.forEach(({ line: { name, ink }, at: [x, y] }, order) => {
    const place = places[order] ?? y;
    ctx.strokeStyle = colours('--line');
    ctx.lineWidth = 1;
    strokeThrough(ctx, [x + 7, y], [left - 3, place]);
    ctx.fillStyle = colours(colourName(ink));
    ctx.fillText(name, left, place, NAME_WIDTH);
  });
}

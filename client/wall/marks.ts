import type { MarkName } from './boxes.ts';

type Pen = CanvasRenderingContext2D;
/** Marks that boxes name, and those that only the scene uses. */
export type DrawingName = MarkName | 'paced' | 'unpaced' | 'flag';
type Drawing = (pen: Pen) => void;

function line(pen: Pen, points: readonly (readonly [number, number])[]): void {
  pen.beginPath();
  for (const [x, y] of points) pen.lineTo(x, y);
  pen.stroke();
}

function solid(pen: Pen, points: readonly (readonly [number, number])[]): void {
  pen.beginPath();
  for (const [x, y] of points) pen.lineTo(x, y);
  pen.closePath();
  pen.fill();
}

function disc(pen: Pen, x: number, y: number, radius: number): void {
  pen.beginPath();
  pen.arc(x, y, radius, 0, Math.PI * 2);
  pen.fill();
}

/** One swell of water across the square at height `y`. */
function swell(pen: Pen, y: number): void {
  pen.beginPath();
  pen.moveTo(0.06, y + 0.08);
  pen.bezierCurveTo(0.28, y - 0.22, 0.38, y - 0.1, 0.5, y + 0.02);
  pen.bezierCurveTo(0.62, y + 0.14, 0.74, y + 0.2, 0.94, y - 0.06);
  pen.stroke();
}

/** Each mark in a square of 1 × 1, told apart by outline alone. */
const DRAWINGS: Readonly<Record<DrawingName, Drawing>> = {
  ready: (pen) => {
    pen.beginPath();
    pen.arc(0.5, 0.5, 0.38, 0, Math.PI * 2);
    pen.stroke();
  },
  leaving: (pen) =>
    solid(pen, [
      [0.14, 0.08],
      [0.94, 0.5],
      [0.14, 0.92],
    ]),
  swimming: (pen) => {
    for (const x of [0.1, 0.48]) {
      line(pen, [
        [x, 0.14],
        [x + 0.36, 0.5],
        [x, 0.86],
      ]);
    }
  },
  easy: (pen) => {
    for (const y of [0.34, 0.7]) swell(pen, y);
  },
  resting: (pen) => {
    line(pen, [
      [0.12, 0.08],
      [0.12, 0.92],
    ]);
    disc(pen, 0.6, 0.5, 0.29);
  },
  joining: (pen) => {
    for (const [x, y] of [
      [0.5, 0.24],
      [0.22, 0.74],
      [0.78, 0.74],
    ] as const)
      disc(pen, x, y, 0.19);
  },
  gate: (pen) => {
    for (const x of [0.32, 0.68]) {
      line(pen, [
        [x, 0.12],
        [x, 0.88],
      ]);
    }
  },
  done: (pen) =>
    line(pen, [
      [0.1, 0.52],
      [0.4, 0.82],
      [0.9, 0.2],
    ]),
  paced: (pen) => disc(pen, 0.5, 0.5, 0.5),
  unpaced: (pen) => {
    pen.lineWidth = 0.2;
    pen.beginPath();
    pen.arc(0.5, 0.5, 0.38, 0, Math.PI * 2);
    pen.stroke();
  },
  flag: (pen) =>
    solid(pen, [
      [0.5, 0],
      [1, 1],
      [0, 1],
    ]),
};

/** Draws a mark into the square from the origin to `size`. */
export function drawMark(pen: Pen, name: DrawingName, size: number, colour: string): void {
  pen.save();
  pen.scale(size, size);
  pen.fillStyle = colour;
  pen.strokeStyle = colour;
  pen.lineWidth = 0.15;
  pen.lineCap = 'round';
  pen.lineJoin = 'round';
  DRAWINGS[name](pen);
  pen.restore();
}

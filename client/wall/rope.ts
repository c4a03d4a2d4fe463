import { PALETTE } from '../common/palette.ts';

/** The minute as a rope: so many beads, one a second. */
export const BEADS = 60;

/** The rope, wholly lit, and under it as high again the unlit one. */
export function drawRope(pen: CanvasRenderingContext2D, width: number, height: number): void {
  const bead = width / BEADS;
  for (let place = 0; place < BEADS; place += 1) {
    // Every fifth bead is larger: swimmers leave on fives.
    const size = { width: bead * 0.72, height: place % 5 === 0 ? height : height * 0.5 };
    const middle = (place + 0.5) * bead;
    drawBead(pen, middle, height / 2, size, PALETTE.paper);
    drawBead(pen, middle, height * 1.5, size, PALETTE.edge);
  }
}

function drawBead(
  pen: CanvasRenderingContext2D,
  x: number,
  y: number,
  { width, height }: { width: number; height: number },
  colour: string,
): void {
  const thick = Math.min(width, height);
  const [reachX, reachY] = [(width - thick) / 2, (height - thick) / 2];
  pen.strokeStyle = colour;
  pen.lineWidth = thick;
  pen.lineCap = 'round';
  pen.beginPath();
  pen.moveTo(x - reachX, y - reachY);
  pen.lineTo(x + reachX + 0.01, y + reachY);
  pen.stroke();
}

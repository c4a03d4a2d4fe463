/** Where pictures lie that are drawn side by side on one canvas. */

interface Size {
  readonly width: number;
  readonly height: number;
}

interface Spot {
  readonly x: number;
  readonly y: number;
}

/** A canvas just large enough, and the spot of each picture on it by its index. */
export interface Canvas extends Size {
  readonly spots: ReadonlyMap<number, Spot>;
}

/** Wider than a square by this much: the last picture of a row seldom ends where the row does. */
const SPARE = 1.1;

/**
 * Puts pictures into rows, the highest first, on as few canvases as it takes.
 * @param most a canvas is no larger than this in either direction; a picture that is gets one of its own
 */
export function pack(sizes: readonly Size[], most: number): Canvas[] {
  const area = sizes.reduce((sum, { width, height }) => sum + width * height, 0);
  const widest = sizes.reduce((widestYet, { width }) => Math.max(widestYet, width), 0);
  const width = Math.max(widest, Math.min(most, Math.ceil(Math.sqrt(area) * SPARE)));
  const rows = rowsOf(sizes, width);
  const canvases: Canvas[] = [];
  for (let from = 0; from < rows.length; ) {
    let [to, height] = [from, 0];
    for (let row = rows[to]; row && (to === from || height + row.height <= most); row = rows[to]) {
      height += row.height;
      to += 1;
    }
    canvases.push({ width, height, spots: spotsIn(rows.slice(from, to), sizes) });
    from = to;
  }
  return canvases;
}

interface Row {
  readonly height: number;
  readonly pictures: readonly number[];
}

function rowsOf(sizes: readonly Size[], width: number): Row[] {
  const rows: { height: number; pictures: number[] }[] = [];
  let left = 0;
  for (const [index, size] of [...sizes.entries()].sort(([, a], [, b]) => b.height - a.height)) {
    const row = rows[rows.length - 1];
    if (row && size.width <= left) {
      row.pictures.push(index);
      left -= size.width;
    } else {
      rows.push({ height: size.height, pictures: [index] });
      left = width - size.width;
    }
  }
  return rows;
}

function spotsIn(rows: readonly Row[], sizes: readonly Size[]): Map<number, Spot> {
  const spots = new Map<number, Spot>();
  let y = 0;
  for (const { height, pictures } of rows) {
    let x = 0;
    for (const index of pictures) {
      spots.set(index, { x, y });
      x += sizes[index]?.width ?? 0;
    }
    y += height;
  }
  return spots;
}

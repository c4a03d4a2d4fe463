import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';

const FOLDER = fileURLToPath(new URL('pictures/', import.meta.url));

/** What two pictures of the same thing may have between them. */
interface Tolerance {
  /** A share of pixels; a screenshot that differs by more is written beside the kept picture. */
  readonly allowed?: number;
  /** Nothing has moved: it must stand where it stood. */
  readonly still?: boolean;
}

/** How far a wall may stand from where it stood in the kept picture: against burn-in it moves a little each minute. */
const DRIFT = [0, -8, 8, -16, 16];
const MARGIN = 16;

const keeping = process.env.FARWALL_PICTURES === 'keep';

/**
 * The share of pixels, 0 … 1, in which a screenshot differs from the kept picture of this name, at the drift where it
 * differs least. With FARWALL_PICTURES=keep the screenshot becomes the kept picture.
 * @throws Error when there is no kept picture or it has another size
 */
export function differenceFrom(
  name: string,
  screenshot: Buffer,
  { allowed = 0.01, still = false }: Tolerance = {},
): number {
  const file = `${FOLDER}${name}.png`;
  if (keeping) {
    mkdirSync(FOLDER, { recursive: true });
    writeFileSync(file, packed(screenshot));
    return 0;
  }
  if (!existsSync(file))
    throw new Error(`there is no picture ${name}.png yet: run once with FARWALL_PICTURES=keep and look at it`);
  const kept = PNG.sync.read(readFileSync(file));
  const seen = PNG.sync.read(screenshot);
  if (kept.width !== seen.width || kept.height !== seen.height) {
    throw new Error(`${name}.png is ${kept.width} × ${kept.height}, the screenshot ${seen.width} × ${seen.height}`);
  }
  const middle = cut(kept, 0, 0);
  let least = 1;
  const drift = still ? [0] : DRIFT;
  for (const x of drift)
    for (const y of drift) if (least > 0.001) least = Math.min(least, differing(middle, cut(seen, x, y)));
  if (least > allowed) writeFileSync(`${FOLDER}${name}.actual.png`, screenshot);
  return least;
}

/** The share of pixels, 0 … 1, in which two screenshots of the same size differ. */
export const differenceBetween = (one: Buffer, other: Buffer): number =>
  differing(PNG.sync.read(one), PNG.sync.read(other));

/** The same picture in fewer bytes: browsers pack quickly rather than well. */
const packed = (picture: Buffer): Buffer => PNG.sync.write(PNG.sync.read(picture), { deflateLevel: 9, colorType: 2 });

/** The picture without its margin, moved by (x, y). */
function cut(picture: PNG, x: number, y: number): PNG {
  const part = new PNG({ width: picture.width - 2 * MARGIN, height: picture.height - 2 * MARGIN });
  PNG.bitblt(picture, part, MARGIN + x, MARGIN + y, part.width, part.height, 0, 0);
  return part;
}

const differing = (a: PNG, b: PNG): number =>
  pixelmatch(a.data, b.data, undefined, a.width, a.height, { threshold: 0.2 }) / (a.width * a.height);

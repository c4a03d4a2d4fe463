/**
 * How large writing must be to be read from where the swimmers are. An angle of 16 arc minutes is the least, 20 to
 * 22 the preferred height of a character (ISO 9241 family, NUREG-0700).
 */
export const LEAST_ARC_MINUTES = 16;
export const PREFERRED_ARC_MINUTES = 20;

/** A screen as the layout needs to know it. */
export interface Screen {
  /** Width and height of the page, CSS pixels. */
  readonly width: number;
  readonly height: number;
  /** Of the picture, inches; 65 when nobody has said. */
  readonly diagonalInches?: number;
  /** From the screen to its farthest reader, metres; 10 when nobody has said. */
  readonly distanceM?: number;
}

const USUAL_DIAGONAL_INCHES = 65;
const USUAL_DISTANCE_M = 10;
const MM_PER_INCH = 25.4;
const ARC_MINUTES_PER_RADIAN = (180 * 60) / Math.PI;

/** Height, mm, of what is seen under `arcMinutes` from `distanceM` metres: h = 2 · d · tan(θ / 2). */
export const heightForAngle = (arcMinutes: number, distanceM: number): number =>
  2 * distanceM * 1000 * Math.tan(arcMinutes / ARC_MINUTES_PER_RADIAN / 2);

/** Arc minutes under which `heightMm` is seen from `distanceM` metres: θ = 2 · atan(h / 2d). */
export const angleOfHeight = (heightMm: number, distanceM: number): number =>
  2 * Math.atan(heightMm / (2 * distanceM * 1000)) * ARC_MINUTES_PER_RADIAN;

const mmPerPixel = ({ width, height, diagonalInches = USUAL_DIAGONAL_INCHES }: Screen): number =>
  (diagonalInches * MM_PER_INCH) / Math.hypot(width, height);

/** Arc minutes under which a character of `pixels` CSS pixels is seen from the screen's farthest reader. */
export const angleOnScreen = (pixels: number, screen: Screen): number =>
  angleOfHeight(pixels * mmPerPixel(screen), screen.distanceM ?? USUAL_DISTANCE_M);

/** Height in CSS pixels of a character that the screen's farthest reader sees under `arcMinutes`. */
export const pixelsForAngle = (arcMinutes: number, screen: Screen): number =>
  heightForAngle(arcMinutes, screen.distanceM ?? USUAL_DISTANCE_M) / mmPerPixel(screen);

/** From how far, metres, characters of `pixels` CSS pixels can be read, at the least angle. */
export const readableFrom = (pixels: number, screen: Screen): number =>
  (pixels * mmPerPixel(screen)) / heightForAngle(LEAST_ARC_MINUTES, 1);

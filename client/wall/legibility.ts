/**
 * How large writing must be to be read from where the swimmers are. An angle of 16 arc minutes is the least, 20 to
 * 22 the preferred height of a character (ISO 9241 family, NUREG-0700).
 */
export const LEAST_ARC_MINUTES = 16;
const PREFERRED_ARC_MINUTES = 20;

/** Angles of capitals and digits from the screen's farthest reader, arc minutes. */
interface Angles {
  readonly least: number;
  readonly preferred: number;
}

const LEAVING: Angles = { least: LEAST_ARC_MINUTES, preferred: PREFERRED_ARC_MINUTES };
const FAR: Angles = { least: LEAST_ARC_MINUTES, preferred: LEAST_ARC_MINUTES };
/** Read from a fifth, better from half of the distance: by whoever walks up to the wall. A convention of ours. */
const NEAR: Angles = { least: LEAST_ARC_MINUTES / 5, preferred: LEAST_ARC_MINUTES / 2 };

/**
 * What each text is for. The far ones must be read from the farthest place: below their least angle the wall says from
 * how far it can be read. The near ones are set smaller and quieter, and left out below theirs. A notice stands however
 * small it is: to keep it back would be worse.
 */
export const ANGLES = {
  clock: LEAVING,
  countdown: LEAVING,
  lane: LEAVING,
  reading: FAR,
  target: FAR,
  rep: FAR,
  name: FAR,
  message: FAR,
  set: NEAR,
  detail: NEAR,
  phase: NEAR,
  'time of day': NEAR,
  caption: NEAR,
  notice: { least: 0, preferred: NEAR.preferred },
} as const satisfies Readonly<Record<string, Angles>>;
export type TextRole = keyof typeof ANGLES;

export const isFar = (role: TextRole): boolean => ANGLES[role].least >= LEAST_ARC_MINUTES;

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

/** Where the farthest reader of a screen is, metres. */
export const farthestReaderM = ({ distanceM = USUAL_DISTANCE_M }: Screen): number => distanceM;

const mmPerPixel = ({ width, height, diagonalInches = USUAL_DIAGONAL_INCHES }: Screen): number =>
  (diagonalInches * MM_PER_INCH) / Math.hypot(width, height);

/** Arc minutes under which a character of `pixels` CSS pixels is seen from the screen's farthest reader. */
export const angleOnScreen = (pixels: number, screen: Screen): number =>
  angleOfHeight(pixels * mmPerPixel(screen), farthestReaderM(screen));

/** Height in CSS pixels of a character that the screen's farthest reader sees under `arcMinutes`. */
export const pixelsForAngle = (arcMinutes: number, screen: Screen): number =>
  heightForAngle(arcMinutes, farthestReaderM(screen)) / mmPerPixel(screen);

/** Shares of a rounding that make no difference to a reader. */
const ROUNDING = 1e-6;

/** Whether characters of `arcMinutes` may be shown in this role. */
export const isLargeEnough = (role: TextRole, arcMinutes: number): boolean =>
  arcMinutes >= ANGLES[role].least * (1 - ROUNDING);

/** From how far, metres, characters of `pixels` CSS pixels can be read, at the least angle. */
export const readableFrom = (pixels: number, screen: Screen): number =>
  (pixels * mmPerPixel(screen)) / heightForAngle(LEAST_ARC_MINUTES, 1);

/** `readable to 7.5 m` where that is less than the screen's farthest reader needs; empty where all is well. */
export function shortfallText(readableToM: number, screen: Screen): string {
  if (readableToM >= farthestReaderM(screen) * (1 - ROUNDING)) return '';
  return `readable to ${Math.floor(readableToM * 2) / 2} m`;
}

/** The same as a sentence with its cures, for who sets the screen up; empty where all is well. */
export function shortfallSentence(readableToM: number, screen: Screen): string {
  const short = shortfallText(readableToM, screen);
  if (short === '') return '';
  const { diagonalInches = USUAL_DIAGONAL_INCHES } = screen;
  const distanceM = farthestReaderM(screen);
  const enough = Math.ceil((diagonalInches * distanceM) / readableToM);
  return `${short}, not to ${distanceM} m: show fewer lanes here, add a second screen or take one of ${enough} inches`;
}

import { isolated } from '../../shared-types/isolated.ts';
import { type ClockFace, timeOfDay } from '../../shared-types/time.ts';
import type { WallInfo } from '../../shared-types/wire/walls.ts';

/** What the desk says of each wall. Pure. */

/** `wall 2`, `wall 2, Far end` */
export const calledOf = ({ number, settings }: Pick<WallInfo, 'number' | 'settings'>): string =>
  [`wall ${number}`, ...(settings ? [isolated(settings.name)] : [])].join(', ');

/** `connected since 17:05`, by the pool's clock. */
export function presenceWords({ connected, since }: WallInfo, face: ClockFace): string {
  const state = connected ? 'connected' : 'not connected';
  return since === null ? `${state} since the server started` : `${state} since ${timeOfDay(since, face)}`;
}

/** `lanes 4–6`, `lanes 1, 3`; empty when it shows all. */
function lanesWords(lanes: readonly number[] | null): string {
  if (lanes === null) return '';
  const sorted = [...lanes].sort((a, b) => a - b);
  const [first = 0, last = first] = [sorted[0], sorted[sorted.length - 1]];
  if (sorted.length === 1) return `lane ${first}`;
  return last - first === sorted.length - 1 ? `lanes ${first}–${last}` : `lanes ${sorted.join(', ')}`;
}

/** What has been set for it that differs from wall to wall: `far wall, lanes 4–6, lane 1 at the bottom`. */
export function setWords({ settings }: Pick<WallInfo, 'settings'>): string {
  if (!settings) return 'not set up';
  const { place, lanes, order, sound } = settings;
  return [
    `${place} wall`,
    lanesWords(lanes),
    order === 'last-on-top' ? 'lane 1 at the bottom' : '',
    sound.on ? 'sound' : '',
  ]
    .filter(Boolean)
    .join(', ');
}

export interface Readable {
  readonly words: string;
  /** What would make it readable from where it should be; empty when it is. */
  readonly cure: string;
}

/** From how far a wall can be read as it is now, and the cure where that is not far enough. */
export function readableWords({ connected, readableToM, seenFromM }: WallInfo): Readable {
  if (!connected || readableToM === null) return { words: 'not known', cure: '' };
  const words = `readable to ${Math.floor(readableToM)}\u00a0m`;
  if (seenFromM === null || readableToM >= seenFromM) return { words, cure: '' };
  return {
    words: `${words}, not to ${seenFromM}\u00a0m`,
    cure: 'Fewer lanes on this screen, a second screen or a bigger one would cure it.',
  };
}

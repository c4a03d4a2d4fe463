import type { RunState } from '../../shared-types/events.ts';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';
import { boundText, isUncertain } from '../common/clock-bound.ts';

const STATE_WORDS: Readonly<Record<RunState, string>> = {
  ready: 'ready to start',
  running: 'running',
  held: 'on hold',
  finished: 'finished',
};

export const stateWords = (state: RunState): string => STATE_WORDS[state];

/** [SYN5] How closely a screen's clock is known to agree with the server's, and whether that is too little. */
export function syncWords({ syncBoundMs }: Pick<ScreenInfo, 'syncBoundMs'>): {
  readonly words: string;
  readonly warn: boolean;
} {
  if (syncBoundMs === null) return { words: 'not measured yet', warn: false };
  const warn = isUncertain(syncBoundMs);
  return { words: `${warn ? 'only ' : ''}within ${boundText(syncBoundMs)}`, warn };
}

export const sizeWords = ({ width, height }: ScreenInfo): string =>
  width === null || height === null ? 'not known yet' : `${width} × ${height}`;

import type { RunState } from '../../shared-types/events.ts';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';

const STATE_WORDS: Readonly<Record<RunState, string>> = {
  ready: 'ready to start',
  running: 'running',
  held: 'on hold',
  finished: 'finished',
};

export const stateWords = (state: RunState): string => STATE_WORDS[state];

/** How closely a screen's clock is known to agree with the server's. */
export function syncWords({ syncBoundMs }: ScreenInfo): string {
  if (syncBoundMs === null) return 'not measured yet';
  return `within ${Math.max(1, Math.ceil(syncBoundMs))} ms`;
}

export const sizeWords = ({ width, height }: ScreenInfo): string =>
  width === null || height === null ? 'not known yet' : `${width} × ${height}`;

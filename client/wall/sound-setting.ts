/** Whether a wall sounds, and how much later (+) or earlier (−) than its clock says, ms. */
export interface SoundSetting {
  readonly on: boolean;
  /** What the screen's own way to its loudspeaker adds is taken off here: a television 40 ms late has −40. */
  readonly offsetMs: number;
}

/** An offset beyond this is a mistake, ms. */
const MOST_OFFSET_MS = 2000;

/** What the page's address asks for: `?sound=on&sound-offset=-40`. Off unless it says so. */
export function soundAskedBy(asked: URLSearchParams): SoundSetting {
  const offsetMs = Number(asked.get('sound-offset'));
  const isSensible = Math.abs(offsetMs) <= MOST_OFFSET_MS;
  return { on: asked.get('sound') === 'on', offsetMs: isSensible ? offsetMs : 0 };
}

import type { Tone } from '../../shared-types/board/tones.ts';

interface Plug {
  connect(to: Plug): unknown;
  disconnect(): void;
}

interface Oscillator extends Plug {
  type: OscillatorType;
  readonly frequency: { value: number };
  start(when?: number): void;
  stop(when?: number): void;
  addEventListener(event: 'ended', heard: () => void): void;
}

interface Volume extends Plug {
  readonly gain: {
    value: number;
    setValueAtTime(value: number, when: number): unknown;
    linearRampToValueAtTime(value: number, when: number): unknown;
  };
}

/** What is used of a browser's AudioContext; none of it needs a secure context. Its clock counts seconds. */
export interface SoundOutput {
  readonly state: string;
  readonly currentTime: number;
  /** From the context to the ear as far as the browser knows, s. */
  readonly outputLatency?: number;
  readonly destination: Plug;
  getOutputTimestamp?(): { contextTime?: number; performanceTime?: number };
  createOscillator(): Oscillator;
  createGain(): Volume;
  resume(): Promise<void>;
  suspend(): Promise<void>;
  addEventListener(event: 'statechange', heard: () => void): void;
}

/** Conventions of ours: far apart in length and a fifth in pitch, so that an echo does not make them alike. */
const SHAPES: Readonly<Record<Tone['kind'], { readonly hertz: number; readonly lastsS: number }>> = {
  short: { hertz: 880, lastsS: 0.12 },
  long: { hertz: 1320, lastsS: 0.6 },
};
/** The longest a tone lasts, s. */
export const LONGEST_TONE_S = SHAPES.long.lastsS;
const LOUDNESS = 0.8;
/** A tone that begins or ends all at once clicks, s. */
const RAMP_S = 0.005;

/** Below what a television's loudspeaker gives and 54 dB under full scale, but no silence. */
const UNHEARD = { hertz: 25, loudness: 0.002 };

/**
 * Has a tone sound from `startsAt` on, s on the output's clock.
 * @returns what takes it back, as long as it has not begun
 */
export function soundTone(output: SoundOutput, kind: Tone['kind'], startsAt: number): () => void {
  const { hertz, lastsS } = SHAPES[kind];
  const endsAt = startsAt + lastsS;
  const [oscillator, volume] = [output.createOscillator(), output.createGain()];
  oscillator.type = 'triangle';
  oscillator.frequency.value = hertz;
  volume.gain.setValueAtTime(0, startsAt);
  volume.gain.linearRampToValueAtTime(LOUDNESS, startsAt + RAMP_S);
  volume.gain.setValueAtTime(LOUDNESS, endsAt - RAMP_S);
  volume.gain.linearRampToValueAtTime(0, endsAt);
  oscillator.connect(volume);
  volume.connect(output.destination);
  oscillator.addEventListener('ended', () => volume.disconnect());
  oscillator.start(startsAt);
  oscillator.stop(endsAt);
  return () => oscillator.stop();
}

/** Televisions swallow the first moments of sound after silence: with this there is none while the output runs. */
export function keepFromSilence(output: SoundOutput): void {
  const [oscillator, volume] = [output.createOscillator(), output.createGain()];
  oscillator.frequency.value = UNHEARD.hertz;
  volume.gain.value = UNHEARD.loudness;
  oscillator.connect(volume);
  volume.connect(output.destination);
  oscillator.start();
}

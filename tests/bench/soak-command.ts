import { randomInt } from 'node:crypto';
import { CommandError, parseCommand, runCommand, wholeNumber } from '../../server/command-line.ts';
import { buildPages } from '../../server/pages.ts';
import { withBrowser } from './bench-browser.ts';
import { growthIn, heapAnHour, type Sample, sampleText } from './soak-growth.ts';
import { LEAST_FRAMES, type Renderer, soakFrames, soakMinutes } from './wall-soak.ts';

/** `npm run soak`: whether a wall that goes on for long holds ever more. */

const MOST_FRAMES = 100_000_000;
const TWELVE_HOURS = 432_000;
const MOST_MINUTES = 7 * 24 * 60;
const MOST_SEED = 2 ** 32 - 1;

const USAGE = `npm run soak -- [options]

Lets a wall go on and says what it holds meanwhile: heap, GL textures, DOM nodes, listeners. Needs a Chromium.

  --frames N      so many frames in accelerated time, ten a second (${TWELVE_HOURS}, which is twelve hours)
  --minutes N     so many minutes in real time instead, with a server
  --renderer R    webgl or canvas; both, one after the other, when neither is named
  --seed N        the same seed presses the same buttons
  --help          this

Exit status 1 with a sentence on standard error for each of them that grew.
`;

interface Request {
  readonly renderers: readonly Renderer[];
  readonly frames: number;
  /** Null: accelerated. */
  readonly minutes: number | null;
  readonly seed: number;
}

function readNumber(flag: string, text: string, most: number, least = 1): number {
  const number = wholeNumber(text, most);
  if (number !== null && number >= least) return number;
  throw new CommandError(`--${flag} "${text}" will not do: write a whole number from ${least} to ${most}`);
}

function readRenderers(text: string | undefined): readonly Renderer[] {
  if (text === undefined) return ['webgl', 'canvas'];
  if (text === 'webgl' || text === 'canvas') return [text];
  throw new CommandError(`--renderer "${text}" draws no wall: write webgl or canvas`);
}

function readArguments(args: string[]): Request | 'help' {
  const text = { type: 'string' } as const;
  const options = { frames: text, minutes: text, renderer: text, seed: text, help: { type: 'boolean' } } as const;
  const { values } = parseCommand({ args, options });
  if (values.help) return 'help';
  const { frames = String(TWELVE_HOURS), minutes, seed } = values;
  if (values.frames !== undefined && minutes !== undefined) {
    throw new CommandError('--frames are in accelerated time, --minutes in real time: write one of them');
  }
  return {
    renderers: readRenderers(values.renderer),
    frames: readNumber('frames', frames, MOST_FRAMES, LEAST_FRAMES),
    minutes: minutes === undefined ? null : readNumber('minutes', minutes, MOST_MINUTES),
    seed: seed === undefined ? randomInt(1, MOST_SEED) : readNumber('seed', seed, MOST_SEED),
  };
}

const minutesText = (ms: number): string => `${(ms / 60_000).toFixed(1)} min`;

/** @returns what grew */
async function soak({ frames, minutes, seed }: Request, renderer: Renderer): Promise<string[]> {
  const samples: Sample[] = [];
  const told = (sample: Sample): void => {
    samples.push(sample);
    console.log(`${renderer} · ${minutesText(sample.atMs)} · ${sample.draws} draws · ${sampleText(sample)}`);
  };
  await withBrowser((browser) =>
    minutes === null
      ? soakFrames(browser, renderer, { frames, seed }, told)
      : soakMinutes(browser, renderer, minutes, told),
  );
  console.log(`${renderer} · the heap grows by ${Math.round(heapAnHour(samples) / 1024)} KB an hour`);
  return growthIn(samples).map((sentence) => `${renderer}: ${sentence}`);
}

await runCommand(async (args) => {
  const request = readArguments(args);
  if (request === 'help') return USAGE;
  console.log(`seed ${request.seed}`);
  if (request.minutes !== null) await buildPages();
  const grown: string[] = [];
  for (const renderer of request.renderers) grown.push(...(await soak(request, renderer)));
  if (grown.length > 0) throw new CommandError(grown.join('\n'));
  return 'Nothing grew.\n';
});

import { CommandError, parseCommand, runCommand } from '../../server/command-line.ts';
import { type BenchOptions, compileBench } from './compile-bench.ts';
import { deskBench } from './desk-bench.ts';
import { floodBench } from './flood-bench.ts';
import type { Entry } from './measure.ts';
import { pushBench } from './push-bench.ts';
import { recoverBench } from './recover-bench.ts';
import { reportText } from './report.ts';
import { resultsBench } from './results-bench.ts';
import { syncBench } from './sync-bench.ts';
import { wallBench } from './wall-bench.ts';

/** `npm run bench`: how fast Farwall is on this machine, how right its clocks. Reports, never refuses. */

const GROUPS: Readonly<Record<string, (options: BenchOptions) => Entry[] | Promise<Entry[]>>> = {
  compile: compileBench,
  sync: syncBench,
  push: pushBench,
  flood: floodBench,
  recover: recoverBench,
  results: resultsBench,
  desk: deskBench,
  wall: wallBench,
};

const USAGE = `npm run bench -- [GROUP …] [options]

Measures how fast Farwall computes, tells its walls, also while it is flooded, starts, draws, answers about seasons and opens the desk's pages, and how right its clocks are. Groups: ${Object.keys(GROUPS).join(', ')}; all of them when none is named.

  --json      print one JSON object
  --quick     a few iterations only: proves that everything runs
  --seed N    where random choices begin; the same seed makes the same choices
  --help      this
`;

const MOST_SEED = 2 ** 32;

function readSeed(text: string): number {
  const seed = Number(text);
  if (!/^\d+$/.test(text) || seed >= MOST_SEED) {
    throw new CommandError(`--seed "${text}" is not a seed: write a whole number below ${MOST_SEED}`);
  }
  return seed;
}

function readGroups(names: readonly string[]): string[] {
  const unknown = names.find((name) => !Object.hasOwn(GROUPS, name));
  if (unknown === undefined) return names.length > 0 ? [...new Set(names)] : Object.keys(GROUPS);
  throw new CommandError(`there is no group "${unknown}" to measure: the groups are ${Object.keys(GROUPS).join(', ')}`);
}

await runCommand(async (args) => {
  const { values, positionals } = parseCommand({
    args,
    allowPositionals: true,
    options: {
      json: { type: 'boolean' },
      quick: { type: 'boolean' },
      seed: { type: 'string' },
      help: { type: 'boolean' },
    },
  });
  if (values.help) return USAGE;
  const names = readGroups(positionals);
  const seed = values.seed === undefined ? Math.floor(Math.random() * MOST_SEED) : readSeed(values.seed);
  const options = { seed, quick: values.quick ?? false };
  const groups: Record<string, readonly Entry[]> = {};
  // One after the other: they would slow each other down.
  for (const name of names) groups[name] = (await GROUPS[name]?.(options)) ?? [];
  const report = { node: process.version, ...options, groups };
  return values.json ? `${JSON.stringify(report, null, 1)}\n` : reportText(report);
});

import { CommandError, parseCommand, runCommand } from '../../server/command-line.ts';
import { type BenchOptions, compileBench } from './compile-bench.ts';
import type { Entry } from './measure.ts';
import { reportText } from './report.ts';
import { syncBench } from './sync-bench.ts';

/** `npm run bench`: how fast the computations are on this machine, how right the clocks. Reports, never refuses. */

const GROUPS: Readonly<Record<string, (options: BenchOptions) => Entry[]>> = {
  compile: compileBench,
  sync: syncBench,
};

const USAGE = `npm run bench -- [GROUP …] [options]

Measures how fast Farwall computes and how right its clocks are. Groups: ${Object.keys(GROUPS).join(', ')}; all of them when none is named.

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

runCommand((args) => {
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
  const groups = Object.fromEntries(names.map((name) => [name, GROUPS[name]?.(options) ?? []]));
  const report = { node: process.version, ...options, groups };
  return values.json ? `${JSON.stringify(report, null, 1)}\n` : reportText(report);
});

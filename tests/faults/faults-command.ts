import { spawnSync } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';

/**
 * `npm run faults -- --kills 200`, `-- --fuzz 200` or `-- --soak 12`, each with `--seed N`: the tests of kills.test.ts,
 * fuzz.test.ts and soak.test.ts with more kills, seeds (from N on) or hours.
 */

const PARTS = {
  kills: { test: 'kills', variable: 'FARWALL_KILLS' },
  fuzz: { test: 'fuzz', variable: 'FARWALL_FUZZ' },
  soak: { test: 'soak', variable: 'FARWALL_SOAK' },
} as const;

const text = { type: 'string' } as const;
const { values } = parseArgs({ options: { kills: text, fuzz: text, soak: text, seed: text } });

function fail(): never {
  console.error('Say one of --kills 200, --fuzz 200 and --soak 12 (hours), and --seed 17 if you like: whole numbers.');
  process.exit(1);
}

const wholeNumber = (written: string, least: number): number => {
  const number = Number(written);
  return Number.isInteger(number) && number >= least ? number : fail();
};

const asked = (['kills', 'fuzz', 'soak'] as const).filter((part) => values[part] !== undefined);
if (asked.length > 1) fail();
const part = asked[0] ?? 'kills';
const many = wholeNumber(values[part] ?? '200', 1);
const seed = values.seed === undefined ? randomInt(2 ** 31) : wholeNumber(values.seed, 0);

console.log(`${part} ${many}, seed ${seed}`);
const root = resolve(import.meta.dirname, '../..');
const vitest = resolve(root, 'node_modules/vitest/vitest.mjs');
const file = `tests/faults/${PARTS[part].test}.test.ts`;
const { status } = spawnSync(process.execPath, [vitest, 'run', '--project', 'quick', file], {
  cwd: root,
  stdio: 'inherit',
  env: { ...process.env, [PARTS[part].variable]: String(many), FARWALL_SEED: String(seed) },
});
process.exit(status ?? 1);

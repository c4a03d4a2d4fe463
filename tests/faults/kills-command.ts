import { spawnSync } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';

/** `npm run faults -- --kills 200 [--seed N]`: the test of kills.test.ts with more kills. */

const { values } = parseArgs({ options: { kills: { type: 'string', default: '200' }, seed: { type: 'string' } } });
const kills = Number(values.kills);
const seed = values.seed === undefined ? randomInt(2 ** 32) : Number(values.seed);
if (!Number.isInteger(kills) || kills < 1 || !Number.isInteger(seed) || seed < 0) {
  console.error('--kills and --seed are whole numbers, e.g. --kills 200 --seed 17');
  process.exit(1);
}
console.log(`${kills} kills, seed ${seed}`);
const root = resolve(import.meta.dirname, '../..');
const vitest = resolve(root, 'node_modules/vitest/vitest.mjs');
const { status } = spawnSync(process.execPath, [vitest, 'run', '--project', 'quick', 'tests/faults/kills.test.ts'], {
  cwd: root,
  stdio: 'inherit',
  env: { ...process.env, FARWALL_KILLS: String(kills), FARWALL_SEED: String(seed) },
});
process.exit(status ?? 1);

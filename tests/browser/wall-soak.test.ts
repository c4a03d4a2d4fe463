import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, inject, test } from 'vitest';
import { z } from 'zod';

/** `npm run bench -- wall` and `npm run soak`: that they run, and that a wall holds no more after 5,000 frames. */

const root = fileURLToPath(new URL('../../', import.meta.url));

function run(...args: string[]): { status: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, args, {
    cwd: root,
    encoding: 'utf8',
    env: { ...process.env, FARWALL_CHROMIUM: inject('chromium') },
  });
  return { status, out: stdout, err: stderr };
}

const reportSchema = z.object({
  groups: z.object({
    wall: z.array(z.object({ kind: z.literal('figure'), name: z.string(), value: z.number().positive() })),
  }),
});

test('the wall benchmark measures everything it names, drawn in all three ways', () => {
  const { status, out, err } = run('tests/bench/run.ts', 'wall', '--quick', '--json', '--seed', '7');
  expect(err).toBe('');
  expect(status).toBe(0);
  const names = reportSchema.parse(JSON.parse(out)).groups.wall.map(({ name }) => name);
  const ways = ['WebGL', 'canvas', 'plain elements'].flatMap((way) => [
    `640×360 · ${way} · draws while only countdowns move`,
    `640×360 · ${way} · 4× slower · script of a frame: p50`,
    `640×360 · ${way} · 4× slower · script of a frame: p99`,
    `640×360 · ${way} · 4× slower · main thread for a frame: mean`,
  ]);
  const first = ['WebGL', 'canvas'].map((way) => `640×360 · ${way} · 4× slower · first right picture`);
  const instants = ['only countdowns', 'markers too'].flatMap((moving) =>
    ['p50', 'p95'].map((share) => `1920×1080 · canvas · ${moving} · countdown after its instant: ${share}`),
  );
  expect(names.sort()).toEqual([...ways, ...first, ...instants, 'script that the wall loads, gzipped'].sort());
}, 240_000);

test('a wall that draws 5,000 frames of ever other practices and names holds no more at their end', () => {
  const { status, out, err } = run('tests/bench/soak-command.ts', '--frames', '5000', '--seed', '7');
  expect(err, out).toBe('');
  expect(status).toBe(0);
  expect(out).toContain('Nothing grew.');
}, 240_000);

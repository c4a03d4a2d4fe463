import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const cruiser = join(root, 'node_modules', 'dependency-cruiser', 'bin', 'dependency-cruiser.mjs');
const FOLDERS = ['client', 'server', 'shared-types', 'tests'];

interface Cruise {
  readonly modules: readonly { readonly source: string }[];
  readonly summary: { readonly violations: readonly { readonly rule: { readonly name: string } }[] };
}

function cruise(cwd: string): Cruise {
  const args = [cruiser, '--config', '.dependency-cruiser.cjs', '--output-type', 'json', ...FOLDERS];
  const { stdout } = spawnSync(process.execPath, args, { cwd, encoding: 'utf8', maxBuffer: 1 << 28 });
  return JSON.parse(stdout);
}

/** A small project with the real rules and these files. */
function project(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'farwall-boundaries-'));
  for (const name of ['.dependency-cruiser.cjs', 'tsconfig.json', 'package.json']) {
    cpSync(join(root, name), join(folder, name));
  }
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  for (const name of FOLDERS) mkdirSync(join(folder, name), { recursive: true });
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
  return folder;
}

const broken = (files: Readonly<Record<string, string>>): string[] =>
  cruise(project(files)).summary.violations.map(({ rule }) => rule.name);

describe('the rules of import', () => {
  it('see this project’s own modules', () => {
    const sources = cruise(root).modules.map(({ source }) => source);
    for (const folder of FOLDERS) {
      expect(sources.filter((source) => source.startsWith(`${folder}/`)).length).toBeGreaterThan(5);
    }
  }, 60_000);

  it.each([
    ['client-not-server', 'client/a.ts', "import { b } from '../server/b.ts';\nexport const a = b;\n", 'server/b.ts'],
    ['server-not-client', 'server/a.ts', "import { b } from '../client/b.ts';\nexport const a = b;\n", 'client/b.ts'],
    [
      'shared-types-alone',
      'shared-types/a.ts',
      "import type { b } from '../server/b.ts';\nexport type A = typeof b;\n",
      'server/b.ts',
    ],
    [
      'pure-stays-in-pure',
      'server/planning/a.ts',
      "import { b } from '../store/b.ts';\nexport const a = b;\n",
      'server/store/b.ts',
    ],
    [
      'screens-apart',
      'client/wall/a.ts',
      "import { b } from '../deck/b.ts';\nexport const a = b;\n",
      'client/deck/b.ts',
    ],
  ])('refuse %s', (rule, file, content, other) => {
    expect(broken({ [file]: content, [other]: 'export const b = 1;\n' })).toContain(rule);
  });

  it.each([
    ['pure-no-node', "import { readFileSync } from 'node:fs';\nexport const a = readFileSync;\n"],
    ['pure-few-packages', "import { io } from 'socket.io-client';\nexport const a = io;\n"],
  ])('refuse %s in pure code', (rule, content) => {
    expect(broken({ 'server/planning/a.ts': content })).toContain(rule);
  });
});

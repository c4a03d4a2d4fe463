import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { demoSquad, plan } from '../fixtures/planning.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const readme = readFileSync(join(root, 'README.md'), 'utf8');

const blocks = (language: string): string[] =>
  [...readme.matchAll(new RegExp(`^\`\`\`${language}\\n([\\s\\S]*?)^\`\`\``, 'gm'))].map(([, text]) => text ?? '');

const PACKAGE_SCRIPTS: Readonly<Record<string, string>> = JSON.parse(
  readFileSync(join(root, 'package.json'), 'utf8'),
).scripts;

describe('the README', () => {
  it('begins with the job in one paragraph', () => {
    const [title, paragraph] = readme.split('\n\n');
    expect(title).toBe('# Farwall');
    expect(paragraph).toMatch(/^A coach /);
  });

  it('has a practice that can be swum as it stands by the demo squad', () => {
    const practices = blocks('practice');
    expect(practices).toHaveLength(1);
    const { sheet, messages } = plan(practices[0] ?? '', demoSquad());
    expect(sheet?.lanes).toHaveLength(6);
    const unexpected = messages.filter(({ severity, code }) => severity !== 'info' && code !== 'caution');
    expect(unexpected).toEqual([]);
  });

  it('has forms of lines that can all be read', () => {
    const forms = [
      '8 x 50 free @ 1:10',
      '8 x 50 kick @ 1:10',
      '4 x 50 IM order @ 1:10',
      '4 x 50 own @ 1:10',
      '10 x :30 kick @ 1:00',
      '10/9/8 x 50 @ 1:10/1:20/1:30',
      '4 x 50 @ 1:10 at 90% of 200 pace',
      '4 x 50 @ 1:10 hold 31.5',
      '4 x 50 @ 1:10 from 85% to 100% of 200 pace by rep',
      '4 x 50 at 200 pace rest :20',
      '4 x 25 on go',
      '4 x 25 from a dive on go by heat max',
      '4 x 25 @ 2:00 with pulley 12 kg',
      '4 x 25 @ 2:00 with fins + paddles :10 apart',
      '3 x (4 x 50 @ :50 + 100 @ 2:00)',
    ];
    for (const form of forms) {
      expect(plan(form, demoSquad()).messages.filter(({ severity }) => severity === 'error')).toEqual([]);
    }
  });

  it('has commands that work: every npm script it names exists, and the sheet command prints a sheet', () => {
    const named = [...readme.matchAll(/npm run (?:--silent )?([a-z]+)/g)].map(([, name]) => name ?? '');
    for (const name of named) expect(Object.keys(PACKAGE_SCRIPTS)).toContain(name);
    const command = /npm run --silent sheet -- (.+)/.exec(readme)?.[1] ?? '';
    const args = [join(root, 'server', 'sheet-command.ts'), ...command.split(' ')];
    const { status, stdout } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' });
    expect(status).toBe(0);
    expect(stdout).toContain('Lane 1 · group A');
  });

  it('names flags that its commands know', () => {
    const helpOf = (file: string): string =>
      spawnSync(process.execPath, [join(root, 'server', file), '--help'], { encoding: 'utf8' }).stdout;
    const help = ['main.ts', 'sheet-command.ts', 'lanes-command.ts', 'rehearse-command.ts'].map(helpOf).join('');
    const flags = [...readme.matchAll(/^\| (`--[^|]+)\|/gm)].flatMap(([, cell]) => cell?.match(/--[a-z-]+/g) ?? []);
    expect(flags.length).toBeGreaterThan(10);
    for (const flag of flags) expect(help).toContain(flag);
  });

  it('shows a picture that is there', () => {
    const picture = /!\[[^\]]+\]\(([^)]+)\)/.exec(readme)?.[1] ?? '';
    expect(existsSync(join(root, picture))).toBe(true);
  });
});

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { audited, verdictOf } from '../supply/audit.ts';
import { licenceOf, licenceRows, licencesOf } from '../supply/licences.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const guide = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');
const manifest = z
  .object({ dependencies: z.record(z.string(), z.string()) })
  .parse(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')));

/** Permissive: they ask for no more than to be named. OFL is for typefaces. */
const PERMISSIVE = ['0BSD', 'Apache-2.0', 'BlueOak-1.0.0', 'BSD-2-Clause', 'BSD-3-Clause', 'ISC', 'MIT', 'OFL-1.1'];

describe('what Farwall is made of', () => {
  const rows = [...guide.matchAll(/^\| `([^`]+)` +\| ([\d.]+) +\| (\S+) +\| (.+?) +\|$/gm)];

  test('each production package has a row in the guide, with its version, licence and reason, and no other has', () => {
    const told = rows.map(([, name = '', version = '', licence = '', why = '']) => {
      expect(why.length, name).toBeGreaterThan(20);
      return [name, version, licence];
    });
    const installed = Object.entries(manifest.dependencies).map(([name, version]) => [
      name,
      version,
      licenceOf(root, `node_modules/${name}`),
    ]);
    expect(told.sort()).toEqual(installed.sort());
  });

  test('versions are exact, and the lock file has the hash of each package and no address', () => {
    for (const version of Object.values(manifest.dependencies)) expect(version).toMatch(/^\d+\.\d+\.\d+$/);
    const lock = readFileSync(join(root, 'package-lock.json'), 'utf8');
    expect(lock).not.toContain('"resolved"');
    const { packages } = z
      .object({ packages: z.record(z.string(), z.object({ integrity: z.string().optional() })) })
      .parse(JSON.parse(lock));
    const unhashed = Object.entries(packages).filter(([folder, { integrity }]) => folder !== '' && !integrity);
    expect(unhashed).toEqual([]);
  });

  test('every package that is installed to run it has a permissive licence, and the guide lists them all', () => {
    expect(
      licencesOf(root)
        .map(([licence]) => licence)
        .filter((licence) => !PERMISSIVE.includes(licence)),
    ).toEqual([]);
    for (const row of licenceRows(root)) expect(guide).toContain(row);
  });
});

const report = (vulnerabilities: Record<string, unknown>): string =>
  JSON.stringify({ auditReportVersion: 2, vulnerabilities, metadata: {} });
const found = (name: string, severity: string) => ({
  [name]: { name, severity, via: [{ title: 'Reads too far', url: 'https://advisories.test/1' }, 'another'] },
});
const NOTHING = audited(report({}));

describe('the audit of packages', () => {
  test('passes without a word where nothing is known against any', () => {
    expect(verdictOf(NOTHING, NOTHING)).toEqual({ passes: true, lines: [] });
  });

  test('fails for what is grave in production, with what and where to read on', () => {
    const grave = audited(report({ ...found('runs', 'high'), ...found('also', 'low') }));
    expect(verdictOf(grave, grave)).toEqual({
      passes: false,
      lines: [
        'npm audit, to be mended before anything else: runs: high, Reads too far (https://advisories.test/1)',
        'npm audit: also: low, Reads too far (https://advisories.test/1)',
      ],
    });
  });

  test('tells what is against packages that only build and test, and passes', () => {
    const builds = audited(report(found('builds', 'critical')));
    expect(verdictOf(NOTHING, builds)).toEqual({
      passes: true,
      lines: ['npm audit: builds: critical, Reads too far (https://advisories.test/1)'],
    });
  });

  test.for([
    [
      'the registry’s refusal',
      JSON.stringify({ message: '405 Method Not Allowed', statusCode: 405 }),
      '405 Method Not',
    ],
    ['rubbish', '<html>', 'no report'],
    ['nothing', '', 'no report'],
    ['a report of another kind', JSON.stringify({ auditReportVersion: 9, vulnerabilities: {} }), 'no report'],
    ['silence', null, 'in time'],
  ] as const)('is skipped and says so after %s', ([, json, why]) => {
    const { passes, lines } = verdictOf(audited(json), NOTHING);
    expect([passes, lines.length]).toEqual([true, 1]);
    expect(lines[0]).toContain('npm audit was skipped');
    expect(lines[0]).toContain(why);
  });
});

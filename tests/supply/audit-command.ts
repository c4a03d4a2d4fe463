import { execFile } from 'node:child_process';
import { audited, verdictOf } from './audit.ts';

/** `npm run audit`: asks the registry about the packages in the lock file. Without an answer it says so and passes. */

const WITHIN_MS = 20_000;
const MOST_BYTES = 32 * 1024 * 1024;

/** What npm prints, whatever its exit status; null when it did not answer in time. */
function npmAudit(...flags: readonly string[]): Promise<string | null> {
  return new Promise((resolve) => {
    const args = ['audit', '--json', '--fetch-retries=0', `--fetch-timeout=${WITHIN_MS}`, ...flags];
    execFile(
      'npm',
      args,
      { timeout: WITHIN_MS, maxBuffer: MOST_BYTES, shell: process.platform === 'win32' },
      (error, out) => resolve(error?.killed ? null : out),
    );
  });
}

const [production, all] = await Promise.all([npmAudit('--omit=dev'), npmAudit()]);
const { passes, lines } = verdictOf(audited(production), audited(all));
for (const line of lines) console.log(line);
if (!passes) process.exitCode = 1;

import { execFileSync, spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Where the browser tests and benchmarks get their Chromium: an environment variable, an installed one, Debian's package when root. */

const VARIABLE = 'FARWALL_CHROMIUM';
const NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome', 'chrome'];
const ELSEWHERE = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

const NONE = `A Chromium is needed and none was found. Install one (on Debian: apt-get install chromium), or set ${VARIABLE} to the path of a Chromium or Chrome.`;

export const CHROMIUM_FLAGS = [
  '--no-sandbox',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
] as const;

/**
 * The path of a Chromium to test with; on Debian as root it is installed when there is none.
 * @throws Error with one sentence saying what to do
 */
export function findChromium(): string {
  const named = process.env[VARIABLE];
  if (named) {
    if (!isProgram(named)) throw new Error(`${VARIABLE} is ${named}, which is not a program.`);
    return named;
  }
  const found = installed() ?? (canInstall() ? install() : undefined);
  if (!found) throw new Error(NONE);
  return found;
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

function installed(): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter);
  const candidates = NAMES.flatMap((name) => folders.map((folder) => join(folder, name)));
  return [...candidates, ...ELSEWHERE].find(isProgram);
}

const canInstall = (): boolean =>
  process.getuid?.() === 0 && existsSync('/etc/debian_version') && spawnSync('apt-get', ['--version']).status === 0;

function install(): string | undefined {
  console.log('No Chromium found: installing Debian’s package "chromium" …');
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  try {
    execFileSync('apt-get', ['update', '-q'], { env, stdio: 'ignore' });
    execFileSync('apt-get', ['install', '-q', '-y', '--no-install-recommends', 'chromium'], { env, stdio: 'ignore' });
  } catch {
    throw new Error(`Installing Debian's package "chromium" failed. ${NONE}`);
  }
  return installed();
}

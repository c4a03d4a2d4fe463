import { spawn } from 'node:child_process';
import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { runServer, withDemo, withRun } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const COMMAND = resolve(import.meta.dirname, '../../server/backup-command.ts');

interface Said {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

function backup(...args: string[]): Promise<Said> {
  const child = spawn(process.execPath, [COMMAND, ...args]);
  let [stdout, stderr] = ['', ''];
  child.stdout.on('data', (text) => {
    stdout += text;
  });
  child.stderr.on('data', (text) => {
    stderr += text;
  });
  return new Promise((done) => child.on('close', (status) => done({ status, stdout, stderr })));
}

/** A data folder with nothing but the invented squad. */
async function demoFolder(): Promise<string> {
  const server = await runServer();
  await withDemo(server);
  await server.farwall.close();
  return server.folder;
}

/** How many swimmers a backup has, once it is put in place. */
function swimmersIn(file: string): number {
  const folder = temporaryFolder();
  copyFileSync(file, join(folder, 'farwall.db'));
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  const { length } = opened.store.squad.squad().swimmers;
  opened.store.close();
  return length;
}

describe('[FLT6] npm run backup', () => {
  test('without a server makes one in the data folder, and leaves the database as it is', async () => {
    const folder = await demoFolder();
    const before = readFileSync(join(folder, 'farwall.db'));
    const { status, stdout } = await backup('--data', folder);
    expect(status).toBe(0);
    expect(dirname(stdout.trim())).toBe(join(folder, 'backups'));
    expect(swimmersIn(stdout.trim())).toBeGreaterThan(5);
    expect(readFileSync(join(folder, 'farwall.db')).equals(before)).toBe(true);
  });

  test('into a folder of the coach removes nothing there, however many there are', async () => {
    const folder = await demoFolder();
    const to = temporaryFolder();
    const old = Array.from({ length: 9 }, (_, day) => `farwall-2026010${day + 1}-080000.db`);
    for (const name of old) writeFileSync(join(to, name), 'an old one');
    const { status, stdout } = await backup('--data', folder, '--to', to);
    expect(status).toBe(0);
    expect(swimmersIn(stdout.trim())).toBeGreaterThan(5);
    expect(readdirSync(to)).toHaveLength(10);
    expect(existsSync(join(folder, 'backups'))).toBe(false);
  });

  test('with the server running asks it for one', async () => {
    const server = await runServer();
    await withDemo(server);
    const port = String(server.farwall.port);
    const made = await backup('--data', server.folder, '--port', port);
    expect([made.status, made.stderr]).toEqual([0, '']);
    expect(dirname(made.stdout.trim())).toBe(join(server.folder, 'backups'));
    const to = temporaryFolder();
    const elsewhere = await backup('--data', server.folder, '--port', port, '--to', to);
    expect(elsewhere.status).toBe(0);
    expect(swimmersIn(elsewhere.stdout.trim())).toBe(swimmersIn(made.stdout.trim()));
    expect(readdirSync(to)).toHaveLength(1);
  });

  test('while a practice runs says that one is made afterwards', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const deck = server.screen('deck');
    await deck.hello();
    await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now()));
    const refused = await backup('--data', server.folder, '--port', String(server.farwall.port));
    expect(refused).toEqual({
      status: 1,
      stdout: '',
      stderr: 'A practice is running: no backup is made meanwhile. One is made by itself when it is finished.\n',
    });
  });

  test('that cannot be made says why in one sentence', async () => {
    const nowhere = temporaryFolder();
    const none = await backup('--data', nowhere);
    expect([none.status, none.stderr]).toEqual([
      1,
      `there is no database "${join(nowhere, 'farwall.db')}": name its folder with --data\n`,
    ]);
    const damaged = temporaryFolder();
    writeFileSync(join(damaged, 'farwall.db'), 'no database '.repeat(1000));
    expect((await backup('--data', damaged)).stderr).toMatch(/^the database ".*" cannot be read \(.*\)\n$/);
    const [used, other] = [await runServer(), await runServer()];
    await withDemo(used);
    const wrong = await backup('--data', used.folder, '--port', String(other.farwall.port));
    expect(wrong.stderr).toMatch(/is not the one that uses ".*": name the port of that one with --port\n$/);
    await other.farwall.close();
    const silent = await backup('--data', used.folder, '--port', String(other.farwall.port));
    expect(silent.stderr).toMatch(/^".*" is in use, but no Farwall answers at .*: name the port /);
    expect((await backup('--too', 'x')).stderr).toMatch(/^Unknown option '--too'/);
    expect((await backup('--help')).stdout).toMatch(/npm run backup -- /);
  });
});

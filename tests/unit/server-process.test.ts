import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { ask } from '../fixtures/running-server.ts';
import { ServerProcess } from '../fixtures/server-process.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

/** What a start that cannot succeed says, which must be one line and all it does. */
async function refusalOf(...args: string[]): Promise<string> {
  const server = new ServerProcess(args);
  const status = await server.ended();
  expect([status, server.stdout]).toEqual([1, '']);
  expect(server.stderr.trimEnd().split('\n')).toHaveLength(1);
  return server.stderr.trimEnd();
}

/** A port that something else listens on. */
function takenPort(): Promise<number> {
  const other = createServer();
  onTestFinished(() => void other.close());
  return new Promise((resolve) => {
    other.listen(0, '127.0.0.1', () => {
      const address = other.address();
      resolve(typeof address === 'object' && address ? address.port : 0);
    });
  });
}

describe('the server, started by hand,', () => {
  test('prints the addresses to open, with the port it really has, and answers there', async () => {
    const server = new ServerProcess(['--port', '0', '--data', join(temporaryFolder(), 'new', 'data')]);
    const url = await server.address();
    const { port } = new URL(url);
    for (const page of ['wall', 'deck', 'desk']) expect(server.stdout).toContain(`http://localhost:${port}/${page}\n`);
    expect(server.stdout).toContain(`  pair  http://localhost:${port}/pair#key=`);
    const health = { ok: true, database: 'ok', run: null, screens: [] };
    expect((await ask(url, 'GET', '/health')).body).toMatchObject(health);
  });

  test('on this machine alone says that others cannot reach it', async () => {
    const server = new ServerProcess(['--port', '0', '--host', '127.0.0.1', '--data', temporaryFolder()]);
    await server.address();
    expect(server.stdout).toContain('Other devices cannot reach it');
    expect(server.stdout.match(/http:/g)).toHaveLength(4);
  });

  test.skipIf(process.platform === 'win32')('keeps what it stores from other users of the machine', async () => {
    const folder = join(temporaryFolder(), 'data');
    const server = new ServerProcess(['--port', '0', '--data', folder]);
    await server.address();
    for (const name of ['.', 'farwall.db', 'farwall.db-wal', 'running.json']) {
      expect([name, statSync(join(folder, name)).mode & 0o077]).toEqual([name, 0]);
    }
  });

  test('takes its settings from the environment', async () => {
    const folder = join(temporaryFolder(), 'from the environment');
    const server = new ServerProcess([], { FARWALL_PORT: '0', FARWALL_DATA: folder });
    await server.address();
    expect(existsSync(join(folder, 'farwall.db'))).toBe(true);
  });

  test('[FLT5] ends within two seconds of SIGINT', async () => {
    const server = new ServerProcess(['--port', '0', '--data', temporaryFolder()]);
    await server.address();
    const askedAt = performance.now();
    expect(await server.signal('SIGINT')).toBe(0);
    expect(performance.now() - askedAt).toBeLessThan(2000);
  });
});

describe('bad input', () => {
  test('--help answers and does nothing else', async () => {
    const folder = join(temporaryFolder(), 'data');
    const server = new ServerProcess(['--help', '--data', folder]);
    expect(await server.ended()).toBe(0);
    expect(server.stdout).toMatch(/--port PORT[\s\S]*--timezone ZONE/);
    expect(existsSync(folder)).toBe(false);
  });

  test('an unknown flag, a bad port or a bad time zone is one sentence, and nothing is made', async () => {
    const folder = join(temporaryFolder(), 'data');
    expect(await refusalOf('--data', folder, '--prot', '1')).toBe("Unknown option '--prot'; --help lists the flags.");
    expect(await refusalOf('--data', folder, '--port', '99999')).toMatch(/^"99999" is not a port; write /);
    expect(await refusalOf('--data', folder, '--timezone', 'Poolside')).toMatch(/^"Poolside" is not a time zone; /);
    expect(existsSync(folder)).toBe(false);
  });

  test('a taken port or an address of another machine is one sentence, and nothing is made', async () => {
    const folder = join(temporaryFolder(), 'data');
    const port = await takenPort();
    expect(await refusalOf('--data', folder, '--port', String(port))).toBe(
      `Port ${port} is taken: stop what uses it, or name another with --port.`,
    );
    expect(await refusalOf('--data', folder, '--port', '0', '--host', '192.0.2.1')).toBe(
      '"192.0.2.1" is not an address of this machine: name one that is with --host, e.g. 127.0.0.1.',
    );
    expect(existsSync(folder)).toBe(false);
  });

  test('a data folder or database that cannot be used is one sentence, and is left as it is', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'farwall.db');
    writeFileSync(file, 'not a database, whatever its name says '.repeat(100));
    const before = readFileSync(file);
    expect(await refusalOf('--port', '0', '--data', file)).toMatch(
      /^The data folder ".*" cannot be used, a file is in/,
    );
    expect(await refusalOf('--port', '0', '--data', folder)).toMatch(/^The database ".*" is damaged and was left as/);
    expect(readFileSync(file).equals(before)).toBe(true);
  });
});

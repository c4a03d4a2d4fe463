import { readFileSync } from 'node:fs';
import { request } from 'node:https';
import { join, resolve } from 'node:path';
import { io } from 'socket.io-client';
import { describe, expect, onTestFinished, test } from 'vitest';
import { readTls, type TlsFiles } from '../../server/tls.ts';
import { NodeProcess } from '../fixtures/node-process.ts';
import { runServer } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const fixture = (name: string): string => resolve(import.meta.dirname, '../fixtures/tls', name);

/** Signed by itself, for pool.test, localhost and 127.0.0.1, good for a hundred years; its key protects nothing. */
const FILES: TlsFiles = { cert: fixture('cert.pem'), key: fixture('key.pem') };
const CA = readFileSync(FILES.cert);
const NOW = Date.UTC(2027, 0, 15);

const refusal = (files: TlsFiles, now = NOW): string => {
  const read = readTls(files, now);
  return read.ok ? 'taken' : read.message;
};

/** Asks by https, trusting that certificate alone. */
function askSecurely(url: string, method: string, body: string, headers: Record<string, string>) {
  return new Promise<{ status: number; headers: NodeJS.Dict<string | string[]> }>((answered, failed) => {
    const asked = request(url, { method, headers, ca: CA }, (answer) => {
      answer.resume().on('end', () => answered({ status: answer.statusCode ?? 0, headers: answer.headers }));
    });
    asked.on('error', failed);
    asked.end(body);
  });
}

describe('with a certificate', () => {
  test('pages, websockets and cookies go by https alone', async () => {
    const server = await runServer({ tls: FILES });
    const origin = { origin: server.url };
    const body = JSON.stringify({ code: server.farwall.ownerKey, name: 'Desk' });
    const json = { ...origin, 'content-type': 'application/json' };
    const paired = await askSecurely(`${server.url}/api/devices`, 'POST', body, json);
    expect(paired.status).toBe(200);
    const cookie = String(paired.headers['set-cookie']);
    expect(cookie).toContain('; Secure');
    const { host } = new URL(server.url);
    expect(paired.headers['content-security-policy']).toContain(`connect-src 'self' wss://${host}`);
    const extraHeaders = { ...origin, cookie: cookie.split(';')[0] ?? '' };
    const socket = io(server.url, { transports: ['websocket'], forceNew: true, ca: CA.toString(), extraHeaders });
    onTestFinished(() => void socket.disconnect());
    await new Promise<void>((connected, failed) => {
      socket.on('connect', connected);
      socket.on('connect_error', failed);
    });
    expect(server.farwall.addresses.here).toMatch(/^https:/);
  });

  test('the backup command finds the running server', async () => {
    const server = await runServer({ tls: FILES });
    const script = resolve(import.meta.dirname, '../../server/backup-command.ts');
    const backup = new NodeProcess(script, ['--data', server.folder, '--port', String(server.farwall.port)]);
    expect([await backup.ended(), backup.stderr]).toEqual([0, '']);
    expect(backup.stdout.trim()).toContain(join(server.folder, 'backups'));
  });
});

describe('a certificate', () => {
  test('is taken with its key, as long as it is good', () => {
    expect(refusal(FILES)).toBe('taken');
    expect(readTls(null, NOW)).toEqual({ ok: true, secure: null });
    expect(refusal(FILES, Date.UTC(2300, 0, 1))).toMatch(/was good until .*; have it renewed\.$/);
  });

  test('that cannot be used is told in one sentence with the cure', () => {
    const nowhere = join(temporaryFolder(), 'nowhere.pem');
    expect(refusal({ ...FILES, cert: nowhere })).toMatch(/^--cert: ".*nowhere.pem" cannot be read; name/);
    expect(refusal({ ...FILES, key: nowhere })).toMatch(/^--key: ".*nowhere.pem" cannot be read; name/);
    expect(refusal({ ...FILES, cert: FILES.key })).toMatch(/is not a certificate in PEM/);
    expect(refusal({ ...FILES, key: FILES.cert })).toMatch(/is not a key in PEM/);
    expect(refusal({ ...FILES, key: fixture('key-of-another.pem') })).toMatch(/do not belong together/);
  });
});

import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { runServer } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

/** Pages as a build leaves them, each saying its name. */
function builtPages(): string {
  const folder = join(temporaryFolder(), 'dist');
  for (const part of ['', 'wall', 'deck', 'desk', 'assets']) {
    mkdirSync(join(folder, part), { recursive: true });
    writeFileSync(join(folder, part, 'index.html'), part === '' ? 'choose' : part);
  }
  writeFileSync(join(folder, 'assets', 'wall-0a1b2c.js'), 'export {};');
  writeFileSync(join(folder, '..', 'secret'), 'not for the web');
  return folder;
}

test('each page has its address, with or without a slash, and no browser keeps it', async () => {
  const folder = builtPages();
  const server = await runServer({ pages: async () => folder });
  for (const [path, page] of [
    ['/', 'choose'],
    ['/wall', 'wall'],
    ['/wall/', 'wall'],
    ['/deck?lanes=1-3', 'deck'],
    ['/desk', 'desk'],
  ] as const) {
    const { status, bytes, headers } = await server.ask('GET', path);
    expect([path, status, bytes.toString(), headers['cache-control']]).toEqual([path, 200, page, 'no-store']);
    expect(headers['content-type']).toMatch(/^text\/html/);
  }
});

test('what pages load is named by its content and kept for ever', async () => {
  const folder = builtPages();
  const server = await runServer({ pages: async () => folder });
  const { status, headers } = await server.ask('GET', '/assets/wall-0a1b2c.js');
  expect([status, headers['cache-control']]).toEqual([200, 'public, max-age=31536000, immutable']);
  expect((await server.ask('GET', '/assets/wall-gone.js')).status).toBe(404);
});

test('what pages load is sent packed to browsers that can unpack it, where the build has packed it', async () => {
  const folder = builtPages();
  const packed = gzipSync('export {};');
  writeFileSync(join(folder, 'assets', 'wall-0a1b2c.js.gz'), packed);
  writeFileSync(join(folder, 'assets', 'deck-3d4e5f.js'), 'export {};');
  const server = await runServer({ pages: async () => folder });
  const headers = { 'accept-encoding': 'gzip, deflate' };
  const wall = await server.ask('GET', '/assets/wall-0a1b2c.js', { headers });
  expect([wall.status, wall.headers['content-encoding'], wall.headers.vary]).toEqual([200, 'gzip', 'accept-encoding']);
  expect([wall.bytes, wall.headers['content-type']]).toEqual([packed, 'application/javascript; charset=utf-8']);
  expect(wall.headers['cache-control']).toBe('public, max-age=31536000, immutable');
  const deck = await server.ask('GET', '/assets/deck-3d4e5f.js', { headers });
  expect([deck.bytes.toString(), deck.headers['content-encoding']]).toEqual(['export {};', undefined]);
  expect((await server.ask('GET', '/assets/wall-0a1b2c.js')).bytes.toString()).toBe('export {};');
});

test('nothing else of the disk is served', async () => {
  const folder = builtPages();
  const server = await runServer({ pages: async () => folder });
  for (const path of [
    '/secret',
    '/assets/..%2f..%2fsecret',
    '/assets/%2e%2e/%2e%2e/secret',
    '/assets/',
    '/wall/index.html',
  ]) {
    const { status, bytes } = await server.ask('GET', path);
    expect([path, status >= 400, bytes.includes('not for the web')]).toEqual([path, true, false]);
  }
});

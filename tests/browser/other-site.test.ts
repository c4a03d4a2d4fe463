import { once } from 'node:events';
import { createServer } from 'node:http';
import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { type RunningServer, runServer } from '../fixtures/running-server.ts';
import { useChromium } from './chrome.ts';

/** A page of another site, open in the browser of a coach who is paired as an owner. */

const browser = useChromium('--host-resolver-rules=MAP pool.test 127.0.0.1, MAP evil.test 127.0.0.1');

/** Serves one page under the name evil.test. @returns its address */
async function otherSite(html: string): Promise<string> {
  const site = createServer((_request, response) => response.setHeader('content-type', 'text/html').end(html));
  site.listen(0, '127.0.0.1');
  onTestFinished(() => void site.close());
  await once(site, 'listening');
  const address = site.address();
  return `http://evil.test:${typeof address === 'object' && address ? address.port : 0}/`;
}

async function openBoth(html: (pool: string) => string): Promise<{ server: RunningServer; page: Page; pool: string }> {
  const server = await runServer({ pages: async () => PAGES_FOLDER, allowedHosts: ['pool.test'] });
  const pool = server.url.replace('127.0.0.1', 'pool.test');
  const context = await browser().newContext();
  onTestFinished(() => context.close());
  const page = await context.newPage();
  // It is paired: the same browser opens the desk.
  await page.goto(`${pool}/desk`);
  await page.waitForSelector('[data-desk] [data-link="live"]');
  await page.goto(await otherSite(html(pool)));
  return { server, page, pool };
}

test('a page of another site reads nothing and changes nothing with the coach’s cookie', async () => {
  const { server, page, pool } = await openBoth(() => '<!doctype html><title>Elsewhere</title>');
  const came = await page.evaluate(async (there) => {
    const asked = (init: RequestInit, path: string) =>
      fetch(`${there}${path}`, { credentials: 'include', ...init }).then(
        ({ status, type }) => `${type} ${status}`,
        () => 'refused',
      );
    const socket = new WebSocket(`${there.replace('http', 'ws')}/socket.io/?EIO=4&transport=websocket`);
    const opened = new Promise((resolve) => {
      socket.onopen = () => resolve('opened');
      socket.onerror = () => resolve('refused');
    });
    return [
      await asked({}, '/api/squad'),
      await asked({ method: 'DELETE' }, '/api/squad/swimmers/none'),
      await asked({ method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' }, '/api/demo'),
      await opened,
    ];
  }, pool);
  expect(came).toEqual(['refused', 'refused', 'refused', 'refused']);
  expect((await server.ask('GET', '/api/practices')).body).toEqual([]);
});

test('a form of another site is refused', async () => {
  const { server, page } = await openBoth(
    (pool) => `<!doctype html><form action="${pool}/api/demo" method="post"><button>Win</button></form>`,
  );
  await page.click('button');
  await page.waitForURL('**/api/demo');
  expect(await page.textContent('body')).toContain('wrong-origin');
  expect((await server.ask('GET', '/api/practices')).body).toEqual([]);
});

test('no page of another site shows ours in a frame', async () => {
  const { page } = await openBoth((pool) => `<!doctype html><iframe src="${pool}/desk"></iframe>`);
  const frame = page.frames().find((each) => each !== page.mainFrame());
  await expect.poll(() => frame?.url()).toContain('chrome-error:');
});

test('a link from another site opens the desk all the same: the cookie is found when our own page asks', async () => {
  const { page, pool } = await openBoth((there) => `<!doctype html><a href="${there}/desk">The desk</a>`);
  await page.click('a');
  await page.waitForSelector('[data-desk] [data-link="live"]');
  expect(page.url()).toBe(`${pool}/desk`);
});

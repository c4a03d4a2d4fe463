import type { Browser, Page } from 'playwright-core';
import { onTestFinished } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import type { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';

/** A server with the demo's squad. */
export async function withSquad(): Promise<RunningServer<HandMachineClock>> {
  const server = await runServer({ pages: async () => PAGES_FOLDER });
  await withDemo(server);
  return server;
}

/** The squad's page of the desk. */
export async function openSquad(
  browser: Browser,
  { url }: RunningServer,
  colorScheme: 'light' | 'dark' = 'light',
): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk#squad`);
  await page.waitForSelector('.squad-lane');
  return page;
}

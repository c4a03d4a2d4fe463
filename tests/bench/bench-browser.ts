import type { Browser, BrowserContext, CDPSession, Page } from 'playwright-core';
import { CommandError } from '../../server/command-line.ts';
import { CHROMIUM_FLAGS, findChromium } from '../browser/find-chromium.ts';
import { ownersCookies } from '../fixtures/paired.ts';

const FLAGS = [
  ...CHROMIUM_FLAGS,
  // Without a screen there is no GPU: the processor draws WebGL.
  '--enable-unsafe-swiftshader',
  // A page that a benchmark answers for is from nowhere, and may not open a socket to this machine otherwise.
  '--disable-features=LocalNetworkAccessChecks',
];

function pathOfChromium(): string {
  try {
    return findChromium();
  } catch (error) {
    throw new CommandError(error instanceof Error ? error.message : String(error));
  }
}

/** Gives a piece of work a browser, closed when that is over. @throws CommandError when there is none to be had */
export async function withBrowser<T>(work: (browser: Browser) => Promise<T>): Promise<T> {
  const executablePath = pathOfChromium();
  // Only who measures a page waits for it to load.
  const { chromium } = await import('playwright-core');
  const browser = await chromium.launch({ executablePath, args: FLAGS });
  try {
    return await work(browser);
  } finally {
    await browser.close();
  }
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** A page of a device of its own, with a line to the browser's inside. */
export interface InspectedPage {
  readonly context: BrowserContext;
  readonly page: Page;
  readonly devtools: CDPSession;
}

/** Gives a piece of work an empty page, closed when that is over. */
export async function withPage<T>(
  browser: Browser,
  viewport: Size,
  work: (inspected: InspectedPage) => Promise<T>,
): Promise<T> {
  const context = await browser.newContext({ viewport });
  await context.addCookies(ownersCookies());
  try {
    const page = await context.newPage();
    const devtools = await context.newCDPSession(page);
    // What else the machine does meanwhile is not the page's.
    await devtools.send('Performance.enable', { timeDomain: 'threadTicks' });
    return await work({ context, page, devtools });
  } finally {
    await context.close();
  }
}

/** The browser's own count of a page since it was opened, seconds or bytes. @see https://chromedevtools.github.io/devtools-protocol/tot/Performance/ */
export async function metricOf({ devtools }: InspectedPage, name: 'TaskDuration' | 'JSHeapUsedSize'): Promise<number> {
  const { metrics } = await devtools.send('Performance.getMetrics');
  return metrics.find((metric) => metric.name === name)?.value ?? Number.NaN;
}

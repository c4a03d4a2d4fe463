import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, inject } from 'vitest';
import { z } from 'zod';
import { ownersCookies } from '../fixtures/paired.ts';
import { CHROMIUM_FLAGS } from './find-chromium.ts';

const FLAGS = [
  ...CHROMIUM_FLAGS,
  // 127.0.0.1 counts as a secure context, a name on plain http does not.
  '--host-resolver-rules=MAP pool.test 127.0.0.1',
];

/** Every context of the browser is a device that is paired, as the tests' own requests are, with all servers there are. */
function withOwnersCookies(browser: Browser): Browser {
  const newContext = browser.newContext.bind(browser);
  browser.newContext = async (options) => {
    const context = await newContext(options);
    await context.addCookies(ownersCookies());
    return context;
  };
  return browser;
}

/** One Chromium for a test file, with further flags. @returns what gives it, once the tests run */
export function useChromium(...flags: readonly string[]): () => Browser {
  let browser: Browser | null = null;
  beforeAll(async () => {
    browser = withOwnersCookies(
      await chromium.launch({ executablePath: inject('chromium'), args: [...FLAGS, ...flags] }),
    );
  });
  afterAll(() => browser?.close());
  return () => {
    if (!browser) throw new Error('the browser is not open yet');
    return browser;
  };
}

/** What the browser holds against a page from now on: errors of its script, breaches of its security policy. */
export function complaintsOf(page: Page): string[] {
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (said) => {
    if (said.type() === 'error' && !said.text().startsWith('Failed to load resource')) complaints.push(said.text());
  });
  return complaints;
}

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core'), 'utf8');
const axeAnswerSchema = z.object({
  violations: z.array(
    z.object({ id: z.string(), impact: z.string().nullable(), nodes: z.array(z.object({ html: z.string() })) }),
  ),
});

/** What axe finds serious or worse, in short. */
export async function seriousFaults(page: Page): Promise<string[]> {
  await page.evaluate(`${AXE};0`);
  const found = axeAnswerSchema.parse(await page.evaluate('axe.run(document, { resultTypes: ["violations"] })'));
  return found.violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 120)}`);
}

import type { Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';
import { Season } from '../fixtures/swum-season.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

/** Wednesday 6 January 2027, 18:00 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 18);
const TITLE = 'Wednesday: best average';

const browser = useChromium();

interface Opened {
  readonly server: RunningServer<HandMachineClock>;
  readonly page: Page;
  readonly complaints: string[];
}

async function openToday(colorScheme: 'light' | 'dark'): Promise<Opened> {
  const machine = new HandMachineClock({ wallMs: WEDNESDAY });
  const server = await runServer({ machine, pages: async () => PAGES_FOLDER });
  const practices = await withDemo(server);
  const own = practices.find(({ title }) => title === TITLE);
  if (!own) throw new Error('the demo has no such practice');
  server.farwall.store.plan.replace('2027-01-06', [own.id]);
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  const complaints = complaintsOf(page);
  await page.goto(`${server.url}/desk#today`);
  await page.waitForSelector('[data-put-on]');
  return { server, page, complaints };
}

describe('today on the desk', () => {
  test.for(['light', 'dark'] as const)(
    'what is planned goes on the wall at a press, and each lane says what it does (%s)',
    async (scheme) => {
      const { server, page, complaints } = await openToday(scheme);
      await page.getByRole('button', { name: `Put on the wall: ${TITLE}` }).click();
      await page.waitForSelector('[data-live-state="ready"]');
      expect(await page.textContent('[data-live-title]')).toBe(TITLE);
      expect(await page.locator('[data-lane-now]').count()).toBe(6);
      expect(await page.locator('[data-lane-now="1"]').textContent()).toContain('ready');
      const season = new Season(server.farwall, {
        now: server.farwall.clock.now,
        pass: (byMs) => server.machine.pass(byMs),
      });
      expect(season.press('start')).toBe(true);
      await page.waitForSelector('[data-live-state="running"]');
      await expect.poll(() => page.locator('[data-lane-now="1"]').textContent()).toMatch(/swimming|about to leave/);
      expect(await seriousFaults(page)).toEqual([]);
      expect(complaints).toEqual([]);
    },
  );

  test('who is here is ticked lane by lane', async () => {
    const { server, page } = await openToday('light');
    const [first] = server.farwall.store.squad.squad().swimmers;
    await page.getByRole('checkbox', { name: `${first?.name} is here today` }).click();
    await page.getByText('23 of 24 swimmers are here today', { exact: false }).waitFor();
    expect([...server.farwall.store.absences.on('2027-01-06')]).toEqual([first?.id]);
    expect(await seriousFaults(page)).toEqual([]);
  });
});

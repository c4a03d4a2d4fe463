import type { BrowserContext, Page } from 'playwright-core';
import type { RunningServer } from '../fixtures/running-server.ts';
import { complaintsOf } from './chrome.ts';

/** A deck, and a switch in its line to the server. */
export class TestDeck {
  readonly page: Page;
  readonly complaints: string[];
  isCut = false;
  readonly #lines: { close(): Promise<void> }[] = [];

  private constructor(page: Page) {
    this.page = page;
    this.complaints = complaintsOf(page);
  }

  static async on(context: BrowserContext, server: RunningServer): Promise<TestDeck> {
    const deck = new TestDeck(await context.newPage());
    await deck.page.routeWebSocket(/socket\.io/, (route) => {
      if (deck.isCut) return void route.close();
      route.connectToServer();
      deck.#lines.push(route);
    });
    await deck.page.goto(`${server.url.replace('127.0.0.1', 'pool.test')}/deck`);
    await deck.live();
    return deck;
  }

  live(): Promise<unknown> {
    return this.page.waitForSelector('[data-deck][data-link="live"][data-told="true"]');
  }

  /** The tablet loses the network. */
  async cut(): Promise<void> {
    this.isCut = true;
    await Promise.all(this.#lines.splice(0).map((line) => line.close()));
    await this.page.waitForSelector('[data-deck][data-link="alone"]');
  }

  async press(kind: string, when?: string): Promise<void> {
    const timed = when === undefined ? '' : `[data-when="${when}"]`;
    await this.page.locator(`[data-press="${kind}"]${timed}:enabled`).tap();
  }

  async start(): Promise<void> {
    await this.press('start', 'now');
    await this.page.waitForSelector('[data-deck][data-state="running"]');
    await this.page.waitForSelector('[data-press="hold"]:enabled');
  }

  /** Takes the time of the next swimmer of a lane. */
  async time(lane: number): Promise<void> {
    await this.page.locator(`[data-lane="${lane}"] [data-press="time"]:enabled`).tap();
    await this.page.waitForSelector(`[data-lane="${lane}"] [data-last-time]:not(:empty)`, { state: 'attached' });
  }

  async lastTime(lane: number): Promise<string> {
    return (await this.page.textContent(`[data-lane="${lane}"] [data-last-time]`)) ?? '';
  }

  /** `3 times taken are kept`, when the deck says so. */
  keeps(words: string): Promise<void> {
    return this.page.locator('[data-kept]').getByText(words, { exact: false }).waitFor();
  }
}

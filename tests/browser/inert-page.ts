import type { Browser, Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { complaintsOf } from './chrome.ts';
import { differenceBetween } from './pictures.ts';

/** A page, and all that a text it shows might have made it do. */
export class InertPage {
  readonly page: Page;
  readonly #complaints: string[];
  readonly #dialogs: string[] = [];
  readonly #elsewhere: string[] = [];

  private constructor(page: Page, origin: string) {
    this.page = page;
    this.#complaints = complaintsOf(page);
    page.on('dialog', (dialog) => {
      this.#dialogs.push(dialog.message());
      void dialog.dismiss();
    });
    page.on('request', (request) => {
      const { protocol, origin: asked } = new URL(request.url());
      const isOwn = asked === origin || protocol === 'data:' || protocol === 'blob:';
      if (!isOwn) this.#elsewhere.push(request.url());
    });
  }

  static async on(browser: Browser, address: string, { width = 1280, height = 900, hasTouch = false } = {}) {
    const context = await browser.newContext({ viewport: { width, height }, hasTouch });
    onTestFinished(() => context.close());
    const page = await context.newPage();
    const inert = new InertPage(page, new URL(address).origin);
    // What asks for the printer is given its paper, and keeps it until that is taken away.
    await page.addInitScript(`window.print = () => dispatchEvent(new Event('beforeprint'))`);
    await page.goto(address);
    return inert;
  }

  /** Nothing that a text says has been done, and what it would have made of the page is not there. */
  async isInert(): Promise<void> {
    const made = await this.page.evaluate(() => {
      const here = [...document.querySelectorAll('img, svg[onload], script:not([src]), iframe, b > u')];
      const handlers = [...document.querySelectorAll('[onerror], [onload]')];
      const links = [...document.querySelectorAll('a[href]')].filter(
        (link) => link instanceof HTMLAnchorElement && link.origin !== location.origin,
      );
      return { pwned: 'pwned' in window, made: [...here, ...handlers, ...links].map(({ outerHTML }) => outerHTML) };
    });
    expect(made).toEqual({ pwned: false, made: [] });
    expect(this.#dialogs).toEqual([]);
    expect(this.#elsewhere).toEqual([]);
    expect(this.#complaints).toEqual([]);
  }

  /** Each of these stands there, sign by sign, and has done nothing. */
  async tells(texts: readonly string[], where = 'body'): Promise<void> {
    await expect.poll(() => this.#missing(texts, where), { timeout: 10_000 }).toEqual([]);
    await this.isInert();
  }

  /** Whether a picture of this is the same without the marks that are piled up elsewhere on the page. */
  async staysClearOfMarks(seen: string): Promise<void> {
    const place = this.page.locator(seen).first();
    const piled = await place.screenshot();
    await this.page.evaluate(() => {
      const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      for (let text = texts.nextNode(); text; text = texts.nextNode()) {
        text.nodeValue = (text.nodeValue ?? '').replace(/[\u0301\u0323]{3,}/g, '');
      }
    });
    expect(differenceBetween(piled, await place.screenshot())).toBe(0);
  }

  /** What has been asked for is on paper: these stand there, and a whole PDF can be made of the page. */
  async prints(texts: readonly string[]): Promise<void> {
    await this.tells(texts, '.paper');
    await this.page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await this.page.pdf({ format: 'A4' });
    await this.isInert();
  }

  #missing(texts: readonly string[], where: string): Promise<string[]> {
    return this.page.evaluate(
      ([wanted, selector]) => {
        const places = [...document.querySelectorAll(selector)];
        const fields = [...document.querySelectorAll('input, textarea, select')].map((field) =>
          field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement ? field.value : '',
        );
        const told = [...places.map(({ textContent }) => textContent ?? ''), ...fields].join('\n');
        return wanted.filter((text) => !told.includes(text));
      },
      [texts, where] as const,
    );
  }
}

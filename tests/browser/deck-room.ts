import type { Page } from 'playwright-core';

/** Whether a deck has room for fingers and words on the devices it is for. */

/** In CSS pixels, with the least that is pressed. */
export const DEVICES = {
  'a tablet lying': { width: 1024, height: 768, target: 96 },
  'a tablet standing': { width: 768, height: 1024, target: 96 },
  'a phone': { width: 390, height: 844, target: 64 },
} as const;

/** What of the page's buttons is too small, too close to another, or not on the screen. */
export function crampedButtons(page: Page, target: number): Promise<string[]> {
  return page.evaluate((least) => {
    const all = [...document.querySelectorAll('[data-press]')].map((button) => ({
      name: button.getAttribute('aria-label') ?? button.textContent,
      box: button.getBoundingClientRect(),
    }));
    // The lanes are out of sight while a panel is open.
    const buttons = all.filter(({ box }) => box.width > 0);
    const faults = buttons.flatMap(({ name, box }) => [
      ...(Math.min(box.width, box.height) < least ? [`${name} is ${box.width} × ${box.height}`] : []),
      ...(box.right > innerWidth || box.bottom > innerHeight || box.top < 0 ? [`${name} is not on the screen`] : []),
    ]);
    for (const [place, { name, box }] of buttons.entries()) {
      for (const other of buttons.slice(place + 1)) {
        const across = Math.max(box.left - other.box.right, other.box.left - box.right);
        const down = Math.max(box.top - other.box.bottom, other.box.top - box.bottom);
        if (Math.max(across, down) < 15.5) faults.push(`${name} is close to ${other.name}`);
      }
    }
    return faults;
  }, target);
}

/** Places to type a time in that are smaller than a finger needs, or closer together. */
export const smallCells = (page: Page, target: number): Promise<string[]> =>
  page.evaluate((least) => {
    const cells = [...document.querySelectorAll('.cell')].map((cell) => cell.getBoundingClientRect());
    const small = cells.filter(({ width, height }) => Math.min(width, height) < least);
    const close = cells.filter((cell, place) => {
      const next = cells[place + 1];
      return next !== undefined && Math.max(next.left - cell.right, next.top - cell.bottom) < 15.5;
    });
    const none = cells.length === 0 ? ['there are none'] : [];
    return [
      ...none,
      ...small.map(({ width, height }) => `${width} × ${height}`),
      ...close.map(({ left }) => `${left}`),
    ];
  }, target);

/** Buttons whose words are wider or higher than they are. */
export const clippedWords = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('[data-press]')]
      .filter((button) => button.scrollWidth > button.clientWidth + 1 || button.scrollHeight > button.clientHeight + 1)
      .map((button) => button.getAttribute('aria-label') ?? button.textContent ?? ''),
  );

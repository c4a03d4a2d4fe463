import type { Page } from 'playwright-core';

/** What a walk through a page with Tab has found wrong. */
export interface Walk {
  /** How many had the focus. */
  readonly stops: number;
  /** What can be pressed or written in, can be seen, and never had the focus. */
  readonly missed: readonly string[];
  /** What had the focus without a ring, or where nobody could see it. */
  readonly unseen: readonly string[];
}

/** More than any page of the desk has. */
const MOST_STOPS = 600;

interface Stop {
  readonly what: string;
  readonly isText: boolean;
  readonly isOld: boolean;
  readonly fault: string | null;
}

/** Run in the page: marks what has the focus, also in a shadow root, and says what is wrong with how it is shown. */
function atStop(): Stop | null {
  let element = document.activeElement;
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
  if (!(element instanceof HTMLElement) || element === document.body) return null;
  const isOld = element.hasAttribute('data-walked');
  element.setAttribute('data-walked', '');
  const box = element.getBoundingClientRect();
  const root = element.getRootNode();
  const host = root instanceof ShadowRoot ? root.host : null;
  const around = element.closest('.file-button') ?? host ?? element;

  const { outlineStyle, outlineWidth } = getComputedStyle(around);
  // A frame that is laid over what has the focus is as good.
  const frame = getComputedStyle(around, '::after');
  const ringWidth = outlineStyle === 'none' ? '0' : outlineWidth;
  const frameWidth = frame.content === 'none' ? '0' : frame.borderTopWidth;
  const hasRing = Math.max(Number.parseFloat(ringWidth), Number.parseFloat(frameWidth)) >= 2;
  const [x, y] = [
    (Math.max(box.left, 0) + Math.min(box.right, innerWidth)) / 2,
    (Math.max(box.top, 0) + Math.min(box.bottom, innerHeight)) / 2,
  ];
  const top = document.elementFromPoint(x, y);
  const isOnTop = top !== null && (around.contains(top) || top.contains(around));
  const fault = hasRing ? (isOnTop ? null : `is covered by ${top?.outerHTML.slice(0, 60)}`) : 'has no ring';
  return { what: element.outerHTML.slice(0, 120), isText: element.isContentEditable, isOld, fault };
}

/** Run in the page: what was never marked. */
function neverReached(): string[] {
  const inside = document.querySelector('dialog[open]') ?? document.body;
  const kinds = 'a[href], button, input, select, textarea, summary, [tabindex="0"], [contenteditable="true"]';
  const roots: ParentNode[] = [
    inside,
    ...[...inside.querySelectorAll('*')].flatMap(({ shadowRoot }) => shadowRoot ?? []),
  ];
  return roots
    .flatMap((root) => [...root.querySelectorAll<HTMLElement>(kinds)])
    .filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.matches(':disabled'))
    .filter((one) => !one.hasAttribute('data-walked'))
    .map((one) => one.outerHTML.slice(0, 120));
}

/** Presses Tab from the start of a page on until the focus has come round. */
export async function walkWithTab(page: Page): Promise<Walk> {
  await page.evaluate(() => {
    for (const one of document.querySelectorAll('[data-walked]')) one.removeAttribute('data-walked');
    // Where the focus was last is where Tab goes on from, also when that is there no more.
    const start = document.createElement('span');
    start.tabIndex = -1;
    (document.querySelector('dialog[open]') ?? document.body).prepend(start);
    start.focus();
    start.remove();
  });
  const unseen: string[] = [];
  let [stops, before] = [0, ''];
  for (let pressed = 0; pressed < MOST_STOPS; pressed += 1) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(atStop);
    if (!stop) break;
    // A field for a date has the focus three times, for day, month and year.
    if (stop.isOld && stop.what !== before) break;
    if (!stop.isOld) stops += 1;
    if (!stop.isOld && stop.fault !== null) unseen.push(`${stop.what} ${stop.fault}`);
    before = stop.what;
    if (stop.isText) await page.keyboard.press('Escape');
  }
  return { stops, missed: await page.evaluate(neverReached), unseen };
}

import type { Locator, Page } from 'playwright-core';

/** A finger on the glass, moved by hand. */
export async function fingerOn(page: Page, place: Locator) {
  const box = await place.boundingBox();
  if (!box) throw new Error('nothing there to touch');
  const devtools = await page.context().newCDPSession(page);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const send = (
    type: 'touchStart' | 'touchMove' | 'touchEnd' | 'touchCancel',
    touchPoints: { x: number; y: number }[],
  ) => devtools.send('Input.dispatchTouchEvent', { type, touchPoints });
  return {
    down: () => send('touchStart', [{ x, y }]),
    slideOff: () => send('touchMove', [{ x, y: box.y - 60 }]),
    up: () => send('touchEnd', []),
    takenAway: () => send('touchCancel', []),
  };
}

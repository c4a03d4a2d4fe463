import type { Page } from 'playwright-core';
import { z } from 'zod';

/**
 * Times a page's frames from outside: the probe is put in before the page's own script and takes the place of what that
 * calls, so that no page has to measure itself.
 */

/** What the probe notes down in the page. */
const probeSchema = z.object({
  /** What each frame's callback took in which something was drawn, ms. */
  frames: z.array(z.number()),
  draws: z.number(),
  /** WebGL textures that there are. */
  textures: z.number(),
  /** When the first frame was over after which the mirror showed lane 1 swimming the awaited rep, ms since navigation. */
  firstRightMs: z.number().nullable(),
});
type Probed = z.infer<typeof probeSchema>;

/** Runs in the page, so it may use nothing from outside. */
function install(rep: string): void {
  const probe: Probed = { frames: [], draws: 0, textures: 0, firstRightMs: null };
  const drawn = (): void => {
    probe.draws += 1;
  };
  const isRight = (): boolean => {
    const lane = document.querySelector<HTMLElement>('[data-board][data-link="live"] [data-lane="1"]');
    return lane?.dataset.rep === rep && lane.dataset.phase === 'swimming';
  };
  const request = window.requestAnimationFrame.bind(window);
  const requestTimed = (callback: FrameRequestCallback): number =>
    request((frameMs) => {
      const before = probe.draws;
      const from = performance.now();
      callback(frameMs);
      const to = performance.now();
      if (probe.draws === before) return;
      probe.frames.push(to - from);
      if (probe.firstRightMs === null && isRight()) probe.firstRightMs = to;
    });
  // Pixi clears its canvas once for each picture; a page without one says so by an event.
  const { clear, createTexture, deleteTexture } = WebGL2RenderingContext.prototype;
  const { clearRect } = CanvasRenderingContext2D.prototype;
  Object.assign(WebGL2RenderingContext.prototype, {
    clear(this: WebGL2RenderingContext, mask: number): void {
      drawn();
      clear.call(this, mask);
    },
    createTexture(this: WebGL2RenderingContext): WebGLTexture {
      probe.textures += 1;
      return createTexture.call(this);
    },
    deleteTexture(this: WebGL2RenderingContext, texture: WebGLTexture | null): void {
      if (texture) probe.textures -= 1;
      deleteTexture.call(this, texture);
    },
  });
  Object.assign(CanvasRenderingContext2D.prototype, {
    clearRect(this: CanvasRenderingContext2D, x: number, y: number, width: number, height: number): void {
      drawn();
      clearRect.call(this, x, y, width, height);
    },
  });
  window.addEventListener('drawn', drawn);
  Object.assign(window, { requestAnimationFrame: requestTimed, farwallProbe: probe });
}

/** Puts the probe into every document the page will open. @param rep of lane 1 that a right picture shows */
export const putProbe = (page: Page, rep = ''): Promise<unknown> => page.addInitScript(install, rep);

export const readProbe = async (page: Page): Promise<Probed> => probeSchema.parse(await page.evaluate('farwallProbe'));

/** Counts frames and draws from now on. */
export const resetProbe = (page: Page): Promise<unknown> =>
  page.evaluate('farwallProbe.frames.length = 0, farwallProbe.draws = 0');

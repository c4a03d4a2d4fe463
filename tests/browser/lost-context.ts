import type { JSHandle } from 'playwright-core';

/**
 * Takes the graphics context of a canvas away, as a driver that starts anew does.
 * @returns what gives it back; both when the page has heard of it
 */
export async function loseContext(canvas: JSHandle<HTMLCanvasElement>): Promise<() => Promise<void>> {
  // A lost context does not give out what could restore it.
  const taken = await canvas.evaluateHandle(async (lost) => {
    const found = lost.getContext('webgl2')?.getExtension('WEBGL_lose_context');
    if (!found) throw new Error('it is not drawn on with WebGL');
    const heard = new Promise((resolve) => lost.addEventListener('webglcontextlost', resolve, { once: true }));
    found.loseContext();
    await heard;
    // Given back within the event, it would be refused.
    await new Promise((resolve) => setTimeout(resolve));
    return found;
  });
  return () =>
    canvas.evaluate(async (lost, given) => {
      const heard = new Promise((resolve) => lost.addEventListener('webglcontextrestored', resolve, { once: true }));
      given.restoreContext();
      await heard;
    }, taken);
}

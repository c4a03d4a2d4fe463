/** How the wall is drawn. `plain`: not at all; the words of the mirror are shown instead. */
const RENDERERS = ['webgl', 'canvas'] as const;
export type RendererName = (typeof RENDERERS)[number];

/** Software renderers by the names they give themselves: slower with WebGL than with a canvas. */
const SOFTWARE = /swiftshader|llvmpipe|software|microsoft basic render/i;

/** What the browser says draws its WebGL; null when there is none. */
export function graphicsName(): string | null {
  const gl = document.createElement('canvas').getContext('webgl');
  if (!gl) return null;
  const unmasked = gl.getExtension('WEBGL_debug_renderer_info');
  const name: unknown = gl.getParameter(unmasked ? unmasked.UNMASKED_RENDERER_WEBGL : gl.RENDERER);
  gl.getExtension('WEBGL_lose_context')?.loseContext();
  return typeof name === 'string' ? name : '';
}

/** The address of the same wall, drawn on a canvas: it has no context to lose, and so is not loaded again for ever. */
export function onCanvas(address: string): string {
  const changed = new URL(address);
  changed.searchParams.set('renderer', 'canvas');
  return changed.href;
}

/** The renderer that the page's own address asks for, if it does. */
export const rendererAsked = (asked: string | null): RendererName | undefined =>
  RENDERERS.find((name) => name === asked);

/** WebGL with a real GPU, the canvas without. */
export const rendererFor = (graphics: string | null): RendererName =>
  graphics === null || SOFTWARE.test(graphics) ? 'canvas' : 'webgl';

import 'pixi.js/unsafe-eval';
import 'pixi.js/graphics';
import { BrowserAdapter, CanvasRenderer, DOMAdapter } from 'pixi.js';

type NewCanvas = typeof BrowserAdapter.createCanvas;

/** A canvas that draws no WebGL. */
const plainCanvas: NewCanvas = (width, height) => {
  const canvas = BrowserAdapter.createCanvas(width, height);
  const getContext = canvas.getContext.bind(canvas);
  const plain = (kind: string, options?: CanvasRenderingContext2DSettings): unknown =>
    kind === '2d' ? getContext(kind, options) : null;
  return Object.assign(canvas, { getContext: plain });
};

/**
 * Pixi asks a WebGL context what shaders may hold, also where it needs none; without a GPU a browser takes longer to
 * make one than to draw a picture.
 */
export function newRenderer(): CanvasRenderer {
  DOMAdapter.set({ ...BrowserAdapter, createCanvas: plainCanvas });
  return new CanvasRenderer();
}

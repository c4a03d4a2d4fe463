import { Container, type Renderer } from 'pixi.js';
import { PALETTE } from '../common/palette.ts';
import type { Screen } from './legibility.ts';
import type { RendererName } from './renderer-choice.ts';
import { Scene } from './scene.ts';
import { FACE, QUIET_WEIGHT, WEIGHT } from './type-metrics.ts';

/** A wall waits no longer than this for its typeface: late in ours is worse than on time in another. */
const FONT_WITHIN_MS = 3000;

/**
 * What pixi draws with and where it draws. Its own `Application` brings a ticker and a watch on the window's size, which
 * a wall does itself.
 */
interface Stage {
  readonly renderer: Renderer;
  readonly canvas: HTMLCanvasElement;
  readonly stage: Container;
}

/** What a wall draws with; absent where pixi cannot start, and the mirror's words are all there is. */
export interface Drawing {
  readonly app: Stage;
  readonly scene: Scene;
}

export async function loadTypeface(): Promise<void> {
  // The face comes in two files; one that came after the first Ż was drawn would come too late for that name.
  const weights = [WEIGHT, QUIET_WEIGHT].map((weight) => document.fonts.load(`${weight} 40px "${FACE}"`, 'A0×Ż'));
  const late = new Promise((resolve) => setTimeout(resolve, FONT_WITHIN_MS));
  await Promise.race([Promise.allSettled(weights), late]);
}

type Size = Pick<Screen, 'width' | 'height'>;

interface Means {
  readonly renderer: RendererName;
  /** Device pixels per CSS pixel. */
  readonly resolution: number;
}

/** Only the one a wall draws with is loaded. */
async function rendererNamed(name: RendererName): Promise<Renderer> {
  const { newRenderer } = await (name === 'webgl' ? import('./webgl-renderer.ts') : import('./canvas-renderer.ts'));
  return newRenderer();
}

/** Puts the canvas a wall draws on into the page. @returns null when pixi cannot draw here */
export async function startDrawing(page: HTMLElement, screen: Size, means: Means): Promise<Drawing | null> {
  try {
    const renderer = await rendererNamed(means.renderer);
    await renderer.init({
      width: screen.width,
      height: screen.height,
      resolution: means.resolution,
      autoDensity: true,
      antialias: true,
      backgroundColor: PALETTE.ink,
      // No pointer, no accessibility layer, no filters: a wall has none of them.
      skipExtensionImports: true,
    });
    const { canvas } = renderer;
    canvas.setAttribute('aria-hidden', 'true');
    page.append(canvas);
    const stage = new Container();
    const scene = new Scene(means.resolution);
    stage.addChild(scene.stage);
    return { app: { renderer, canvas, stage }, scene };
  } catch (error) {
    console.error('The wall cannot be drawn here; its words are shown instead.', error);
    return null;
  }
}

import { Application } from 'pixi.js';
import 'pixi.js/graphics';
import { PALETTE } from '../common/palette.ts';
import type { Screen } from './legibility.ts';
import type { RendererName } from './renderer-choice.ts';
import { Scene } from './scene.ts';
import { FACE, QUIET_WEIGHT, WEIGHT } from './type-metrics.ts';

/** A wall waits no longer than this for its typeface: late in ours is worse than on time in another. */
const FONT_WITHIN_MS = 3000;

/** What a wall draws with; absent where pixi cannot start, and the mirror's words are all there is. */
export interface Drawing {
  readonly app: Application;
  readonly scene: Scene;
}

export async function loadTypeface(): Promise<void> {
  // The face comes in two files; one that came after the first Ż was drawn would come too late for that name.
  const weights = [WEIGHT, QUIET_WEIGHT].map((weight) => document.fonts.load(`${weight} 40px "${FACE}"`, 'A0×Ż'));
  const late = new Promise((resolve) => setTimeout(resolve, FONT_WITHIN_MS));
  await Promise.race([Promise.allSettled(weights), late]);
}

interface Means {
  readonly renderer: RendererName;
  /** Device pixels per CSS pixel. */
  readonly resolution: number;
}

/** Puts the canvas a wall draws on into the page. @returns null when pixi cannot draw here */
export async function startDrawing(page: HTMLElement, screen: Screen, means: Means): Promise<Drawing | null> {
  const { renderer, resolution } = means;
  const app = new Application();
  try {
    await app.init({
      preference: [renderer],
      width: screen.width,
      height: screen.height,
      resolution,
      autoDensity: true,
      antialias: true,
      backgroundColor: PALETTE.ink,
      autoStart: false,
      sharedTicker: false,
      // No pointer, no accessibility layer, no filters: a wall has none of them.
      skipExtensionImports: true,
    });
  } catch (error) {
    console.error('The wall cannot be drawn here; its words are shown instead.', error);
    return null;
  }
  app.canvas.setAttribute('aria-hidden', 'true');
  page.append(app.canvas);
  const scene = new Scene(resolution);
  app.stage.addChild(scene.stage);
  return { app, scene };
}

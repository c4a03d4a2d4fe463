import { Application } from 'pixi.js';
import 'pixi.js/graphics';
import { PALETTE } from '../common/palette.ts';
import type { Screen } from './legibility.ts';
import type { RendererName } from './renderer-choice.ts';
import { Scene } from './scene.ts';
import type { Drawing } from './wall.ts';

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

import { type Drawing, loadTypeface, startDrawing } from '../../../client/wall/drawing.ts';
import { layOut } from '../../../client/wall/lay-out.ts';
import type { Screen } from '../../../client/wall/legibility.ts';
import { Mirror } from '../../../client/wall/mirror.ts';
import type { RendererName } from '../../../client/wall/renderer-choice.ts';
import type { Board } from '../../../shared-types/board/board.ts';

/** A page that draws the boards it is given with the wall's own code: no server, no clock. */

export interface Picture {
  readonly board: Board;
  readonly screen: Screen;
  readonly notice: string;
}

declare global {
  interface Window {
    /** @returns the picture as base64 of a PNG, its longer side `longest` pixels */
    drawScene(picture: Picture, renderer: 'canvas' | 'webgl', longest: number): Promise<string>;
    /** What scenes are drawn on, once one has been drawn. */
    drawnOn(): Promise<HTMLCanvasElement>;
    /** Shows the words that stand where nothing can be drawn. */
    showPlain(picture: Picture): void;
  }
}

const page = document.getElementById('page');
if (!page) throw new Error('no page');

let drawing: Promise<Drawing> | null = null;

/** A page draws with one renderer only, as the wall does. */
async function startedWith(renderer: RendererName, screen: Screen): Promise<Drawing> {
  await loadTypeface();
  const made = await startDrawing(document.createElement('div'), screen, { renderer, resolution: 1 });
  if (!made || made.app.renderer.name !== renderer) throw new Error(`no ${renderer} here`);
  return made;
}

function small(picture: HTMLCanvasElement, longest: number): string {
  const canvas = document.createElement('canvas');
  const scale = longest / Math.max(picture.width, picture.height);
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  const pen = canvas.getContext('2d');
  if (!pen) throw new Error('this browser draws no canvas');
  pen.imageSmoothingQuality = 'high';
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  const pixels = pen.getImageData(0, 0, canvas.width, canvas.height);
  // Sixteen shades of each colour: the kept files are half as large.
  pixels.data.forEach((value, place) => {
    pixels.data[place] = Math.round(value / 17) * 17;
  });
  pen.putImageData(pixels, 0, 0);
  return canvas.toDataURL('image/png').replace(/^[^,]*,/, '');
}

window.drawScene = async ({ board, screen, notice }, renderer, longest) => {
  drawing ??= startedWith(renderer, screen);
  const { app, scene } = await drawing;
  app.renderer.resize(screen.width, screen.height, 1);
  scene.renew(1);
  scene.show(layOut(board, screen, notice));
  scene.move(board.lanes);
  app.renderer.render(app.stage);
  return small(app.canvas, longest);
};

window.drawnOn = async () => {
  const { app } = (await drawing) ?? {};
  if (!app) throw new Error('nothing has been drawn yet');
  return app.canvas;
};

window.showPlain = ({ board, notice }) => {
  const mirror = new Mirror();
  page.replaceChildren(mirror.element);
  mirror.enlarge(true);
  mirror.show(board, 'live', notice);
};

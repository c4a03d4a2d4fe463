import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import './wall.css';
import { computed } from '@preact/signals-core';
import type { DeviceId } from '../../shared-types/brand.ts';
import { timeOfDay } from '../../shared-types/time.ts';
import { fetchJson } from '../common/fetch-json.ts';
import { deviceStorage, tabStorage } from '../common/ids.ts';
import { leaveWhenUnpaired } from '../common/let-in.ts';
import { openLink } from '../common/link.ts';
import { browserParts } from '../common/link-parts.ts';
import type { Link } from '../common/live.ts';
import { ContextLosses } from './context-loss.ts';
import { type Drawing, loadTypeface, startDrawing } from './drawing.ts';
import { browserTiming } from './frame-loop.ts';
import { farthestReaderM, type Screen } from './legibility.ts';
import { Mirror } from './mirror.ts';
import { graphicsName, onCanvas, rendererAsked, rendererFor } from './renderer-choice.ts';
import { seenFrom } from './set-up.ts';
import { WallSound } from './sound.ts';
import type { SoundOutput } from './sound-output.ts';
import { soundAskedBy } from './sound-setting.ts';
import { Wall } from './wall.ts';
import { wallIdOf } from './wall-id.ts';

const REPORT_EVERY_MS = 5000;
const DRAWN_WITHIN_MS = 500;
const TOLD_WITHIN_MS = 1000;
const SOUND_EVERY_MS = 250;
const ANSWERS_WITHIN_MS = 3000;

const asked = new URLSearchParams(location.search);

const sizeNow = (): Pick<Screen, 'width' | 'height'> => ({
  width: Math.max(1, window.innerWidth),
  height: Math.max(1, window.innerHeight),
});

const screenNow = ({ wall }: Link): Screen => ({ ...sizeNow(), ...seenFrom(wall.value, asked) });

const resolutionNow = (): number => Math.min(2, Math.max(1, Math.round(window.devicePixelRatio)));

function keepDrawn(wall: Wall, link: Link, drawing: Drawing | null): void {
  const redraw = (): void => wall.redraw();
  const renew = (): void => wall.resize(screenNow(link), resolutionNow());
  link.wall.subscribe(() => wall.seenAs(screenNow(link)));
  window.addEventListener('resize', renew);
  window.addEventListener('pageshow', redraw);
  document.addEventListener('visibilitychange', redraw);
  // A canvas without WebGL can be lost too, and all pictures with it; browsers give it back, but empty.
  drawing?.app.canvas.addEventListener('contextrestored', renew);
}

const serverAnswers = (): Promise<boolean> =>
  fetchJson('/health', ANSWERS_WITHIN_MS).then(
    () => true,
    () => false,
  );

/** While the graphics context is lost the words stand in; what was drawn for it does not come back by itself. */
function keepContext(mirror: Mirror, wall: Wall, link: Link, { app: { canvas } }: Drawing): void {
  const losses = new ContextLosses({
    now: () => performance.now(),
    later: browserTiming.later,
    serverAnswers,
    startAgain: () => location.replace(onCanvas(location.href)),
  });
  const draws = (canDraw: boolean): void => {
    mirror.enlarge(!canDraw);
    wall.canDraw(canDraw);
  };
  canvas.addEventListener('webglcontextlost', () => {
    losses.lost();
    draws(false);
  });
  canvas.addEventListener('webglcontextrestored', () => {
    losses.restored();
    draws(true);
    wall.resize(screenNow(link), resolutionNow());
  });
}

function keepReporting(wall: Wall, link: Link, renderer: string): void {
  const report = (): void => {
    const { width, height } = wall.screen;
    const { readableToM } = wall;
    link.report({
      syncBoundMs: link.clock.boundMs(),
      width: Math.round(width),
      height: Math.round(height),
      renderer,
      seenFromM: farthestReaderM(wall.screen),
      ...(readableToM === null ? {} : { readableToM }),
    });
  };
  report();
  setInterval(report, REPORT_EVERY_MS);
  // When it has been set up otherwise it can be read from elsewhere, as soon as that has been drawn.
  link.wall.subscribe(() => void setTimeout(report, DRAWN_WITHIN_MS));
}

const thisWallsId = (): DeviceId =>
  wallIdOf({
    device: deviceStorage(),
    tab: tabStorage(),
    page: window,
    wallNow: () => Date.now(),
    every: (everyMs, call) => void setInterval(call, everyMs),
  });

/** @returns null where the browser cannot sound */
function openOutput(): SoundOutput | null {
  try {
    return new AudioContext();
  } catch (error) {
    console.error('The wall cannot sound here.', error);
    return null;
  }
}

/** As the desk has set it, else as the page's address says. */
function keepSounding({ clock, practice, wall }: Link): WallSound {
  const asksFor = soundAskedBy(asked);
  const setting = computed(() => wall.value?.settings?.sound ?? asksFor);
  const sound = new WallSound({ setting, practice, clock, pageNow: () => performance.now(), openOutput });
  setInterval(() => sound.refresh(), SOUND_EVERY_MS);
  // A finger's pointerdown does not count as a press with browsers, its pointerup does.
  for (const press of ['pointerup', 'click', 'keydown']) window.addEventListener(press, () => sound.press());
  return sound;
}

/** When it is known what is on the wall: a picture of the clock alone would only hold up that one. Not for long. */
function whenTold({ told }: Link): Promise<unknown> {
  return new Promise<void>((resolve) => {
    setTimeout(resolve, TOLD_WITHIN_MS);
    told.subscribe((isTold) => isTold && resolve());
  });
}

async function start(page: HTMLElement): Promise<void> {
  // What comes from the server is asked for first: a browser may take long over its own storage.
  const preferred = rendererAsked(asked.get('renderer')) ?? rendererFor(graphicsName());
  const resolution = resolutionNow();
  const starting = startDrawing(page, sizeNow(), { renderer: preferred, resolution });
  const typeface = loadTypeface();
  const link = openLink({ role: 'wall', parts: browserParts(thisWallsId()) });
  leaveWhenUnpaired(link, 'wall');
  // A browser takes long over its first time of day: it does so while the server is asked.
  timeOfDay(link.clock.now(), { timezone: 'UTC', trimMs: 0 });
  const sound = keepSounding(link);
  const mirror = new Mirror();
  page.append(mirror.element);
  const drawing = await starting;
  await typeface;
  mirror.enlarge(drawing === null);
  const renderer = drawing ? drawing.app.renderer.name : 'plain';
  mirror.element.dataset.renderer = renderer;
  await whenTold(link);
  const screen = screenNow(link);
  drawing?.app.renderer.resize(screen.width, screen.height, resolution);
  const wall = new Wall(link, mirror, drawing, screen, sound.notice);
  keepDrawn(wall, link, drawing);
  if (drawing) keepContext(mirror, wall, link, drawing);
  wall.redraw();
  keepReporting(wall, link, renderer);
}

const page = document.getElementById('page');
if (page) void start(page);

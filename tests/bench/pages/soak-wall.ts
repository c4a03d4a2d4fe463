import { type Signal, signal } from '@preact/signals-core';
import { z } from 'zod';
import type { LinkState, LivePractice } from '../../../client/common/live.ts';
import { startDrawing } from '../../../client/wall/drawing.ts';
import { Mirror } from '../../../client/wall/mirror.ts';
import { rendererAsked } from '../../../client/wall/renderer-choice.ts';
import { type Followed, Wall } from '../../../client/wall/wall.ts';
import { instant } from '../../../shared-types/brand.ts';
import { runSchema } from '../../../shared-types/events.ts';
import { sheetSchema } from '../../../shared-types/sheet.ts';
import { labelsSchema, type Settings } from '../../../shared-types/wire/from-server.ts';
import { HandTime } from './hand-time.ts';

/** The real wall without a server: what is on it is told by the benchmark, time goes by as the benchmark says. */

const shownSchema = z
  .object({ run: runSchema, labels: labelsSchema, /** Absent: the last one. */ sheet: sheetSchema.optional() })
  .nullable();

const FRAME_EVERY_MS = 100;
/** Large and near enough that everybody's name is shown. */
const NEAR = { diagonalInches: 100, distanceM: 5 } as const;
/** The processor draws: of each eight by eight dots only one. Everything else is as on a real screen. */
const RESOLUTION = 1 / 8;
const SETTINGS: Settings = { timezone: 'UTC', trimMs: 0, gridMs: 5000, leadInMs: 3000 };

/** @param poolFrom the pool instant at which time begins to go by */
function followedAt(time: HandTime, poolFrom: number, practice: Signal<LivePractice | null>): Followed {
  const pageFrom = time.nowMs;
  const at = (pageMs: number) => instant(poolFrom + pageMs - pageFrom);
  return {
    clock: { now: () => at(time.nowMs), shownAt: at, at, boundMs: () => 1 },
    state: signal<LinkState>('live'),
    refusal: signal<string | null>(null),
    settings: signal(SETTINGS),
    practice,
    wall: signal(null),
    identify: signal(null),
  };
}

async function start(page: HTMLElement): Promise<void> {
  const asked = new URLSearchParams(location.search);
  const screen = { width: window.innerWidth, height: window.innerHeight, ...NEAR };
  const drawing = await startDrawing(page, screen, {
    renderer: rendererAsked(asked.get('renderer')) ?? 'canvas',
    resolution: RESOLUTION,
  });
  if (!drawing) throw new Error('this browser cannot draw a wall');
  const mirror = new Mirror();
  page.append(mirror.element);
  const practice = signal<LivePractice | null>(null);
  const time = new HandTime();
  new Wall(followedAt(time, Number(asked.get('from')), practice), mirror, drawing, screen, signal(''));
  const show = (told: unknown): void => {
    const shown = shownSchema.parse(told);
    const sheet = shown?.sheet ?? practice.value?.sheet;
    practice.value = shown && sheet ? { run: shown.run, labels: shown.labels, sheet } : null;
  };
  Object.assign(window, { farwallSoak: { show, advance: (frames: number) => time.advance(frames, FRAME_EVERY_MS) } });
  mirror.element.dataset.renderer = drawing.app.renderer.name;
}

const page = document.getElementById('page');
if (page) void start(page);

import { type Signal, useSignal } from '@preact/signals';
import { type LaneNumber, laneNumberSchema, type SwimmerId } from '../../shared-types/brand.ts';
import type { Move } from './lane-moves.ts';

/** How near to its edge the area begins to scroll, and by how much a movement then scrolls it, CSS px. */
const EDGE = 70;
const SCROLL = 24;

interface Dragged {
  readonly swimmer: SwimmerId;
  /** Where they would go; null: nowhere, let go there nothing changes. */
  readonly to: { readonly lane: LaneNumber | null; readonly place: number } | null;
}

export interface LaneDrag {
  readonly dragged: Signal<Dragged | null>;
  begin(swimmer: SwimmerId): void;
  /** The pointer is at this point of the window. */
  over(x: number, y: number): void;
  /** @returns the move it has come to, if any */
  drop(): Move | null;
  cancel(): void;
}

const laneIn = (written: string | undefined): LaneNumber | null =>
  laneNumberSchema.safeParse(Number(written)).data ?? null;

/** Where a swimmer let go at this point would swim: before the first row whose middle is below it. */
function placeAt(x: number, y: number, swimmer: SwimmerId): Dragged['to'] {
  const lane = document.elementFromPoint(x, y)?.closest<HTMLElement>('[data-lane-drop]');
  if (!lane) return null;
  const rows = [...lane.querySelectorAll<HTMLElement>('[data-swimmer]')].filter(
    ({ dataset }) => dataset.swimmer !== swimmer,
  );
  const place = rows.filter((row) => {
    const { top, height } = row.getBoundingClientRect();
    return top + height / 2 < y;
  }).length;
  return { lane: laneIn(lane.dataset.laneDrop), place };
}

/** It is the area of the desk that scrolls, not the page. */
function scrollNearEdge(y: number): void {
  const area = document.querySelector('[data-lane-drop]')?.closest('.area');
  if (!area) return;
  const { top, bottom } = area.getBoundingClientRect();
  if (y < top + EDGE) area.scrollBy(0, -SCROLL);
  else if (y > bottom - EDGE) area.scrollBy(0, SCROLL);
}

/** A swimmer who is carried from lane to lane with the pointer. */
export function useLaneDrag(): LaneDrag {
  const dragged = useSignal<Dragged | null>(null);
  return {
    dragged,
    begin: (swimmer) => {
      dragged.value = { swimmer, to: null };
    },
    over: (x, y) => {
      const now = dragged.peek();
      if (!now) return;
      scrollNearEdge(y);
      dragged.value = { ...now, to: placeAt(x, y, now.swimmer) };
    },
    drop: () => {
      const now = dragged.peek();
      dragged.value = null;
      return now?.to ? { swimmer: now.swimmer, ...now.to } : null;
    },
    cancel: () => {
      dragged.value = null;
    },
  };
}

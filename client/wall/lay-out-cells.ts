import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { LEAVING_MS } from '../../shared-types/board/phase.ts';
import type { LaneSwimmer } from '../../shared-types/board/timed-rep.ts';
import type { Instant } from '../../shared-types/brand.ts';
import type { ColourRole } from '../common/palette.ts';
import { type BandGrid, CELL_GAP, cellWidthOf, LINE_PITCH, type Widths } from './band-grid.ts';
import { type Box, figures, words } from './boxes.ts';
import { type Place, shade } from './lay-out-own-line.ts';
import { abbreviated } from './type-metrics.ts';
import { featuredOf, holdOf, laneLeftAt, runningText } from './words.ts';

/** Who holds what: everybody, or the one the band has room for. */
export function cellBoxes(place: Place): Box[] {
  const { grid, columns, targetsTop } = place;
  const shown = shownIn(place);
  return shown.flatMap((swimmer, nth) => {
    const x = columns.cellLefts[nth % grid.columns] ?? 0;
    const y = targetsTop + Math.floor(nth / grid.columns) * grid.targetCap * LINE_PITCH;
    return cell(place, swimmer, nth, x, y);
  });
}

/** Everybody; or the leader and whoever is next to leave; or, with room for one, the one that matters now. */
function shownIn({ lane, at, grid: { detail, columns, rows } }: Place): readonly LaneSwimmer[] {
  if (detail === 'everyone') return lane.swimmers;
  const [leader] = lane.swimmers;
  if (!leader) return [];
  const featured = featuredOf(lane);
  // Somebody without a target would leave a line empty that has no room for names beside targets.
  if (detail === 'line') return [holdOf(leader, at) || !featured ? leader : featured];
  if (columns * rows === 1) return featured ? [featured] : [];
  return featured && featured !== leader ? [leader, featured] : [leader];
}

const isTurn = ({ lane: { turn } }: Place, { swimmer, leavesAt }: LaneSwimmer): boolean =>
  turn !== null && turn.swimmer === swimmer && turn.leavesAt === leavesAt;

/** After the lane's first swimmer has left, only the mark of whoever is next changes, in the last seconds. */
function isLeavingAlone(place: Place, swimmer: LaneSwimmer): boolean {
  // Without names nobody could tell whose mark it is when only one is shown.
  if (
    place.grid.detail === 'line' ||
    place.inverted ||
    place.held ||
    swimmer.leavesAt === null ||
    !isTurn(place, swimmer)
  )
    return false;
  const inMs = swimmer.leavesAt - place.at;
  return inMs > 0 && inMs <= LEAVING_MS;
}

function cell(place: Place, swimmer: LaneSwimmer, nth: number, x: number, y: number): Box[] {
  const { grid, screen, lane } = place;
  const { widths, gap, targetCap: cap } = grid;
  const id = `lane${lane.lane}.swimmer${nth}`;
  const lit = isLeavingAlone(place, swimmer);
  const inkOr = (colour: ColourRole): ColourRole => (lit ? 'ink' : shade(place, colour));
  const lefts = partsOf(widths, gap * CELL_GAP, x);
  const { name, passing, target, own } = written(place, swimmer);
  const spot = { cap, y } as const;
  const right = { ...spot, role: 'target', align: 'right' } as const;
  const boxes: Box[] = [
    words(screen, {
      ...spot,
      id: `${id}.name`,
      role: 'name',
      text: name,
      x,
      colour: inkOr(isTurn(place, swimmer) ? 'paper' : 'quiet'),
    }),
    figures(screen, {
      ...spot,
      id: `${id}.passing`,
      role: 'target',
      text: passing,
      x: lefts.passing,
      colour: inkOr('quiet'),
    }),
    figures(screen, {
      ...right,
      id: `${id}.target`,
      text: target,
      x: lefts.target + widths.target,
      colour: inkOr('paper'),
    }),
    figures(screen, { ...right, id: `${id}.own`, text: own, x: lefts.own + widths.own, colour: inkOr('swim') }),
  ].filter(({ text }) => text !== '');
  if (!lit || boxes.length === 0) return boxes;
  const pad = cap * 0.16;
  const under = { x: x - pad, y: y - pad, width: cellWidthOf(widths, gap) + pad * 2, height: cap + pad * 2 };
  return [{ kind: 'panel', id: `${id}.lit`, ...under, radius: cap * 0.2, colour: 'leave' }, ...boxes];
}

/** Left edges of the parts of a cell at `x`, `between` apart. */
function partsOf(
  { name, passing, target }: Widths,
  between: number,
  x: number,
): { passing: number; target: number; own: number } {
  const after = (left: number, width: number): number => left + (width > 0 ? width + between : 0);
  const passingX = after(x, name);
  const targetX = after(passingX, passing);
  return { passing: passingX, target: targetX, own: after(targetX, target) };
}

/** The own send-off that a swimmer's time counts from. The leader's goes on for the others where they have none. */
function ownLeftAt(lane: LaneBoard, { swimmer, order }: LaneSwimmer, { detail }: BandGrid): Instant | null {
  if (detail === 'leader' && order === 1) return laneLeftAt(lane);
  return lane.times.find((time) => time.swimmer === swimmer)?.leftAt ?? null;
}

/** What a cell says; empty where there is nothing or no room. */
function written(
  { grid, lane, at }: Place,
  swimmer: LaneSwimmer,
): Record<'name' | 'passing' | 'target' | 'own', string> {
  const { widths, gap, targetCap: cap } = grid;
  const hold = holdOf(swimmer, at);
  const withPassing = widths.passing > 0;
  const leftAt = widths.own > 0 ? ownLeftAt(lane, swimmer, grid) : null;
  const own = leftAt === null ? '' : runningText(at - leftAt);
  // The name also has the room of a target that there is not.
  const nameWidth = hold || own !== '' ? widths.name : cellWidthOf(widths, gap);
  return {
    name: nameWidth > 0 && swimmer.label !== '' ? abbreviated(swimmer.label, nameWidth, cap) : '',
    passing: withPassing ? (hold?.passing ?? []).join(' ') : '',
    target: (withPassing ? hold?.main : hold?.next) ?? '',
    own,
  };
}

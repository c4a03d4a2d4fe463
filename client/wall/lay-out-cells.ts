import type { LaneSwimmer } from '../../shared-types/board/lane.ts';
import { LEAVING_MS } from '../../shared-types/board/phase.ts';
import { CELL_GAP, cellWidthOf, LINE_PITCH } from './band-grid.ts';
import { type Box, figures, words } from './boxes.ts';
import { type Place, shade } from './lay-out-own-line.ts';
import { clipped } from './type-metrics.ts';
import { featuredOf, holdOf } from './words.ts';

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
  const strong = lit ? 'ink' : shade(place, 'paper');
  const quiet = lit ? 'ink' : shade(place, isTurn(place, swimmer) ? 'paper' : 'quiet');
  const passingX = x + (widths.name > 0 ? widths.name + gap * CELL_GAP : 0);
  const targetX = passingX + (widths.passing > 0 ? widths.passing + gap * CELL_GAP : 0) + widths.target;
  const hold = holdOf(swimmer, place.at);
  const withPassing = widths.passing > 0;
  const passing = withPassing ? (hold?.passing ?? []).join(' ') : '';
  const target = (withPassing ? hold?.main : hold?.next) ?? '';
  // The name also has the room of a target that there is not.
  const nameWidth = hold ? widths.name : cellWidthOf(widths, gap);
  const name = nameWidth > 0 ? clipped(swimmer.label, nameWidth, cap) : '';
  const writing: Box[] = [
    ...(name === '' ? [] : [words(screen, { id: `${id}.name`, role: 'name', text: name, cap, x, y, colour: quiet })]),
    ...(passing === ''
      ? []
      : [
          figures(screen, {
            id: `${id}.passing`,
            role: 'target',
            text: passing,
            cap,
            x: passingX,
            y,
            colour: shade(place, 'quiet'),
          }),
        ]),
    ...(target === ''
      ? []
      : [
          figures(screen, {
            id: `${id}.target`,
            role: 'target',
            text: target,
            cap,
            x: targetX,
            y,
            align: 'right',
            colour: strong,
          }),
        ]),
  ];
  if (!lit || writing.length === 0) return writing;
  const pad = cap * 0.16;
  const under = { x: x - pad, y: y - pad, width: cellWidthOf(widths, gap) + pad * 2, height: cap + pad * 2 };
  return [{ kind: 'panel', id: `${id}.lit`, ...under, radius: cap * 0.2, colour: 'leave' }, ...writing];
}

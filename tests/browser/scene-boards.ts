import { type Board, boardAt, idleBoard } from '../../shared-types/board/board.ts';
import { instant } from '../../shared-types/brand.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { Coach, type Press, TOP } from '../fixtures/coach.ts';
import { best, pool25, sheetOf, swimmer } from '../fixtures/planning.ts';

/** Boards of whole practices at an instant, for pictures of the wall. */

const NAMES = ['Ines', 'Marek', 'Tova', 'Ruben', 'Yara', 'Oskar', 'Greta', 'Noor', 'Pavel', 'Alba', 'Jun', 'Zofia'];
export const LONG_NAMES = ['Maximiliane-Theodora', 'Ørjan', 'Wilhelmina', 'Zoë', 'Bartholomäus', 'Iñigo', 'Żaneta'];

/** Seconds after the start was pressed, and what is pressed then. */
type Pressed = readonly [seconds: number, press: Press];

export interface BoardPlan {
  readonly text: string;
  readonly lanes: number;
  /** In each lane. */
  readonly swimmers: number;
  readonly names?: readonly string[];
  /** Without any reference time nobody has a target. */
  readonly untimed?: boolean;
  /** Absent: nobody has pressed start. Seconds after that press; the first lanes leave at :05. */
  readonly at?: number;
  readonly presses?: readonly Pressed[];
  /** Lane 1 at the bottom. */
  readonly reversed?: boolean;
  /** Seen from the other end of the pool. */
  readonly mirrored?: boolean;
}

const FACE = { timezone: 'UTC', trimMs: 0 };

/** 200 free in 1:56 and slower, evenly from lane to lane and from swimmer to swimmer. */
const squadOf = ({ lanes, swimmers, names = NAMES, untimed = false }: BoardPlan): Squad => ({
  swimmers: Array.from({ length: lanes * swimmers }, (_, place) => {
    const lane = Math.floor(place / swimmers) + 1;
    const group = 'ABC'[Math.floor(((lane - 1) * 3) / lanes)] ?? 'C';
    const time = formatSwimTime(116_000 + place * 900, 2);
    return swimmer(names[place % names.length] ?? '', lane, group, untimed ? [] : [best('200 free', time)]);
  }),
});

export function boardOfPlan(plan: BoardPlan): Board {
  const squad = squadOf(plan);
  const coach = new Coach(sheetOf(plan.text, squad, { ...pool25, lanes: plan.lanes }));
  if (plan.at !== undefined) coach.press({ kind: 'start' }, 0);
  for (const [seconds, press] of plan.presses ?? []) {
    const answer = coach.press(press, seconds);
    if (!answer.ok) throw new Error(answer.message);
  }
  const labels = Object.fromEntries(squad.swimmers.map(({ id, name }) => [id, name]));
  const lanes = Array.from({ length: plan.lanes }, (_, place) => (plan.reversed ? plan.lanes - place : place + 1));
  const at = instant(TOP + (plan.at ?? -20) * 1000);
  const rightEnd = plan.mirrored ? 'near' : 'far';
  return boardAt(coach.sheet, coach.run, at, { labels, face: FACE, lanes, rightEnd });
}

/** Nothing on the wall, so many seconds past a minute. */
export const emptyBoard = (seconds: number): Board => idleBoard(instant(TOP + seconds * 1000), FACE);

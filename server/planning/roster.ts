import { type LaneNumber, laneNumber, type Ms, ms } from '../../shared-types/brand.ts';
import { type Message, mention } from '../../shared-types/message.ts';
import type { Pool } from '../../shared-types/pool.ts';
import { LIMITS } from '../../shared-types/practice.ts';
import type { Squad, Swimmer } from '../../shared-types/squad.ts';

/** One lane as it will be swum: who, in which order, at which pace group's send-offs. */
export interface RosterLane {
  readonly lane: LaneNumber;
  readonly group: string;
  readonly apartMs: Ms;
  /** In the order in which they leave. */
  readonly swimmers: readonly Swimmer[];
}

export interface Roster {
  readonly lanes: readonly RosterLane[];
  /** By name, A the fastest. */
  readonly groups: readonly string[];
  readonly messages: readonly Message[];
}

const squadMessage = (
  severity: Message['severity'],
  code: Message['code'],
  text: string,
  lane?: LaneNumber,
): Message => ({
  severity,
  code,
  line: 1,
  column: 1,
  ...(lane === undefined ? {} : { lane }),
  text,
});

/** Who leaves before whom: by the order written, then (equal or none) as listed. */
export const byOrder = (a: Swimmer, b: Swimmer): number =>
  (a.order ?? Number.MAX_VALUE) - (b.order ?? Number.MAX_VALUE);

/**
 * The lanes of the squad's swimmers. Who has no lane is left out; when nobody has one, the pool's lanes are planned
 * empty, all of group A, so that a practice can be written before there is a squad.
 */
export function rosterOf(squad: Squad, pool: Pool): Roster {
  const messages: Message[] = [];
  const byLane = new Map<LaneNumber, Swimmer[]>();
  for (const swimmer of squad.swimmers) {
    if (swimmer.lane === undefined) continue;
    if (swimmer.lane > pool.lanes) messages.push(outsidePool(swimmer, swimmer.lane, pool));
    else byLane.set(swimmer.lane, [...(byLane.get(swimmer.lane) ?? []), swimmer]);
  }
  const apartMs = ms(pool.apartMs);
  const lanes = [...byLane]
    .sort(([a], [b]) => a - b)
    .map(([lane, swimmers]) => {
      messages.push(...checkLane(lane, swimmers));
      return { lane, group: swimmers[0]?.group ?? 'A', apartMs, swimmers: [...swimmers].sort(byOrder) };
    });
  if (lanes.length === 0) return emptyRoster(pool, messages);
  return { lanes, groups: [...new Set(lanes.map(({ group }) => group))].sort(), messages };
}

function emptyRoster(pool: Pool, messages: readonly Message[]): Roster {
  const lanes = Array.from({ length: pool.lanes }, (_, place) => ({
    lane: laneNumber(place + 1),
    group: 'A',
    apartMs: ms(pool.apartMs),
    swimmers: [],
  }));
  const text = `nobody has a lane yet: the sheet is for ${pool.lanes} empty lanes of one group, without targets`;
  return { lanes, groups: ['A'], messages: [...messages, squadMessage('info', 'note', text)] };
}

const outsidePool = (swimmer: Swimmer, lane: LaneNumber, pool: Pool): Message => ({
  ...squadMessage(
    'error',
    'too-much',
    `${mention(swimmer.id)} is in lane ${lane}; the pool has ${pool.lanes} lanes`,
    lane,
  ),
  fix: `give the pool ${lane} lanes, or the swimmer another lane`,
});

function checkLane(lane: LaneNumber, swimmers: readonly Swimmer[]): Message[] {
  const groups = [...new Set(swimmers.map(({ group }) => group ?? 'A'))].sort();
  const problems: Message[] = [];
  if (groups.length > 1) {
    const text = `lane ${lane} has swimmers of pace groups ${groups.join(' and ')}; a lane swims in one group`;
    problems.push(squadMessage('error', 'group-count', text, lane));
  }
  if (swimmers.length > LIMITS.swimmersPerLane) {
    const text = `lane ${lane} has ${swimmers.length} swimmers; at most ${LIMITS.swimmersPerLane}`;
    problems.push(squadMessage('error', 'too-much', text, lane));
  }
  return problems;
}

import type { LaneNumber } from '../../../shared-types/brand.ts';
import type { Message } from '../../../shared-types/message.ts';
import type { End, Pool } from '../../../shared-types/pool.ts';
import { LIMITS, type SetItem } from '../../../shared-types/practice.ts';
import type { SheetSet, Target } from '../../../shared-types/sheet.ts';
import type { Roster, RosterLane } from '../roster.ts';
import { type Amendments, NO_AMENDMENTS } from './amendments.ts';
import { type Draft, draftLanes } from './drafts.ts';
import type { Rounds } from './rounds.ts';

/** Where in the practice an item is expanded. */
export interface Spot {
  readonly section: number;
  readonly lanes: readonly RosterLane[];
  readonly rounds: Rounds;
}

/** What compiling gathers on its way through the text. Lives for one compilation only. */
export class Gathering {
  readonly roster: Roster;
  readonly pool: Pool;
  readonly drafts: Draft[] = [];
  readonly sets: SheetSet[] = [];
  readonly amendments: Amendments;
  readonly targets: Target[] = [];
  readonly messages: Message[] = [];
  readonly ends = new Map<LaneNumber, End>();
  /** Index into `sets` of each set line, shared by its rounds. */
  readonly setIndices = new Map<SetItem, number>();
  readonly setKeys = new Map<SetItem, string>();
  private readonly setsOnLine = new Map<number, number>();
  private readonly targetIndices = new Map<string, number>();
  /** The same by the very object: most reps of a set share theirs. */
  private readonly internedTargets = new Map<Target, number>();
  private readonly ids = new Map<string, number>();
  private readonly reps = new Map<LaneNumber, number>();
  private readonly said = new Set<string>();
  private laneRepSwimmers = 0;
  private exceeded = false;
  private skipping = false;
  private pauses = 0;

  /** @param targets those of the sheet that this one follows: they keep their places */
  constructor(roster: Roster, pool: Pool, amendments: Amendments = NO_AMENDMENTS, targets: readonly Target[] = []) {
    this.roster = roster;
    this.pool = pool;
    this.amendments = amendments;
    for (const target of targets) this.intern(target);
  }

  /** Adds what happens next; says so once when the lanes do more besides swimming than anybody could. */
  add(draft: Draft): void {
    this.drafts.push(this.skipping ? { ...draft, skipped: true } : draft);
    if (draft.kind === 'rep' || this.exceeded) return;
    this.pauses += draftLanes(draft).length;
    if (this.pauses <= LIMITS.pauses) return;
    this.exceeded = true;
    const text = `more than ${LIMITS.pauses.toLocaleString('en')} rests, waits and meetings of lanes in one practice`;
    this.say({ severity: 'error', code: 'too-much', line: draft.line, column: 1, text });
  }

  /** Whatever is added meanwhile is of a set that is skipped; nothing is said about it. */
  whileSkipping(expand: () => void): void {
    this.skipping = true;
    expand();
    this.skipping = false;
  }

  /** Adds a message unless the same line has said the same. */
  say(message: Message): void {
    if (this.skipping) return;
    const key = `${message.code} ${message.line} ${message.column} ${message.lane ?? ''} ${message.text}`;
    if (this.said.has(key)) return;
    this.said.add(key);
    this.messages.push(message);
  }

  /** Keeps a target once, however many reps it is for. @returns its index */
  intern(target: Target): number {
    const same = this.internedTargets.get(target);
    if (same !== undefined) return same;
    const key = JSON.stringify(target);
    const known = this.targetIndices.get(key);
    const place = known ?? this.targets.push(target) - 1;
    this.targetIndices.set(key, place);
    this.internedTargets.set(target, place);
    return place;
  }

  /** `12`, or for the second set of an inline line `12b`: what step ids begin with. */
  setKey(set: SetItem): string {
    const known = this.setKeys.get(set);
    if (known !== undefined) return known;
    const before = this.setsOnLine.get(set.line) ?? 0;
    this.setsOnLine.set(set.line, before + 1);
    const key = before === 0 ? String(set.line) : `${set.line}${String.fromCharCode('a'.charCodeAt(0) + before)}`;
    this.setKeys.set(set, key);
    return key;
  }

  /** The id, made different from those already given. */
  freshId(id: string): string {
    const used = this.ids.get(id) ?? 0;
    this.ids.set(id, used + 1);
    return used === 0 ? id : `${id}.${used + 1}`;
  }

  /** Counts a lane's reps; says so once and returns true when the practice has grown beyond the limits. */
  tooMuch(set: SetItem, lane: RosterLane, reps: number): boolean {
    const laneReps = (this.reps.get(lane.lane) ?? 0) + reps;
    this.reps.set(lane.lane, laneReps);
    this.laneRepSwimmers += reps * Math.max(1, lane.swimmers.length);
    if (laneReps <= LIMITS.repsPerLane && this.laneRepSwimmers <= LIMITS.laneRepSwimmers) return false;
    if (this.exceeded) return true;
    this.exceeded = true;
    const number = (n: number): string => n.toLocaleString('en');
    const text =
      laneReps > LIMITS.repsPerLane
        ? `${number(laneReps)} reps in lane ${lane.lane}; at most ${number(LIMITS.repsPerLane)} reps a lane`
        : `more than ${number(LIMITS.laneRepSwimmers)} reps × swimmers in one practice`;
    this.say({ severity: 'error', code: 'too-much', line: set.line, column: set.column, text });
    return true;
  }

  /** Whether the practice has grown beyond the limits: nothing more is expanded then. */
  overLimit(): boolean {
    return this.exceeded;
  }
}

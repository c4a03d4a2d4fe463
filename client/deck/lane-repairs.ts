import type { CommandId, Instant, LaneNumber } from '../../shared-types/brand.ts';
import type { Mark } from '../../shared-types/marks.ts';
import type { Marking } from '../common/live.ts';
import { isStanding, lastPressedIn } from './lane-marks.ts';

/** What was done to a lane's times on this page, and how it is undone. */

/** Something done, the newest of which undo takes back. */
export type Done =
  | { readonly kind: 'take' | 'miss' | 'assign' | 'swap'; readonly mark: CommandId; readonly at: Instant }
  | { readonly kind: 'type'; readonly mark: CommandId; readonly instead: readonly CommandId[]; readonly at: Instant }
  | { readonly kind: 'clear'; readonly instead: readonly CommandId[]; readonly at: Instant };

/** So soon after another one a press on the same button is a drop of water, ms. */
const SAME_PRESS_MS = 700;

/** What undoes something done. */
export function undoing(done: Done): Marking[] {
  switch (done.kind) {
    case 'take':
    case 'miss':
      return [{ kind: 'void', mark: done.mark }];
    case 'assign':
      return [{ kind: 'restore', mark: done.mark }];
    case 'swap':
      // It was taken back, then put in again behind the other.
      return [
        { kind: 'restore', mark: done.mark },
        { kind: 'restore', mark: done.mark },
      ];
    case 'type':
      return [{ kind: 'void', mark: done.mark }, ...done.instead.map((mark): Marking => ({ kind: 'restore', mark }))];
    case 'clear':
      return done.instead.map((mark): Marking => ({ kind: 'restore', mark }));
  }
}

/** Everything done to one lane's times, oldest first. */
export class LaneRepairs {
  #done: readonly Done[] = [];
  #pressed = { button: '', at: Number.NEGATIVE_INFINITY };
  /** A time that undo took back, for as long as nothing else was done. */
  takenBack: { readonly mark: CommandId; readonly at: Instant } | null = null;

  /** Whether this is a press of its own, not one more on the same button too soon after the last. */
  isPress(button: string, at: Instant): boolean {
    const last = this.#pressed;
    if (last.button === button && Math.abs(at - last.at) < SAME_PRESS_MS) return false;
    this.#pressed = { button, at };
    return true;
  }

  did(done: Done): void {
    this.#done = [...this.#done, done];
    this.takenBack = null;
  }

  /**
   * What undo takes back next: the newest thing done here that still stands, or the lane's newest time when that came
   * later, from whatever device.
   */
  newest(marks: readonly Mark[], lane: LaneNumber): Done | null {
    const stands = new Set(marks.filter(isStanding).map(({ id }) => id));
    const own = this.#done.filter((done) => !('mark' in done) || stands.has(done.mark));
    const done = own[own.length - 1] ?? null;
    const last = lastPressedIn(
      marks.filter(({ typed }) => !typed),
      lane,
    );
    const isKnown = own.some((one) => 'mark' in one && one.mark === last?.id);
    if (!last || isKnown || (done && done.at >= last.pressedAt)) return done;
    return { kind: 'take', mark: last.id, at: last.pressedAt };
  }

  undid(done: Done, at: Instant): void {
    this.#done = this.#done.filter((one) => one !== done);
    this.takenBack = done.kind === 'take' ? { mark: done.mark, at } : null;
  }
}

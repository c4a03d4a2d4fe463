import type { CommandId, RunId } from '../../shared-types/brand.ts';
import { type Answer, answerSchema, type Command, commandSchema } from '../../shared-types/commands.ts';
import type { MarkCommand } from '../../shared-types/marks.ts';
import { DepartureWatch } from './departure-watch.ts';
import type { FuzzWorld } from './fuzz-world.ts';
import type { SimulatedPage } from './simulated-screen.ts';

interface Made {
  readonly id: CommandId;
  readonly kind: MarkCommand['kind'];
}

/** Of an instant: 0.0002 ms, and some to spare. */
export const ROUNDING_MS = 1e-3;

/** What was seen of a world while it went on, to be held against what it has come to. */
export class FuzzRecord {
  /** Presses that were answered. */
  readonly answered: { readonly command: Command; readonly answer: Answer }[] = [];
  /** Marks and repairs that went into an outbox. */
  readonly made: Made[] = [];
  readonly #shown = new WeakMap<SimulatedPage, number>();
  /** By how much the pool's clock is ahead of the machine's at the last look; null when nothing was under way then. */
  #underWayAheadMs: number | null = null;
  readonly #departures = new Map<RunId, DepartureWatch>();

  /** To be called whenever a page has been answered. */
  readonly onAnswer = (event: string, payload: unknown, told: unknown): void => {
    const answer = answerSchema.safeParse(told);
    if (event === 'command' && answer.success) {
      this.answered.push({ command: commandSchema.parse(payload), answer: answer.data });
    }
  };

  get runs(): readonly RunId[] {
    return [...this.#departures.keys()];
  }

  putOn(run: RunId): void {
    this.#departures.set(run, new DepartureWatch(run));
  }

  /** @throws Error when a clock has gone back, the pool's was set under way, or somebody's send-off has changed */
  look(world: FuzzWorld): void {
    this.lookAtClocks(world);
    if (!world.server.isUp) return;
    const { run } = world.server.keeper;
    if (run) this.#departures.get(run.id)?.look(world.server);
    this.#lookAtPool(world, run?.state === 'running' || run?.state === 'held');
  }

  /** While a practice is under way the pool's clock goes on as it did, whatever becomes of the machine's time of day. */
  #lookAtPool({ server, time }: FuzzWorld, isUnderWay: boolean): void {
    const aheadMs = server.clock.now() - time.nowMs;
    const setByMs = this.#underWayAheadMs === null ? 0 : aheadMs - this.#underWayAheadMs;
    if (isUnderWay && Math.abs(setByMs) > ROUNDING_MS) throw new Error(`the pool's clock was set by ${setByMs} ms`);
    this.#underWayAheadMs = isUnderWay ? aheadMs : null;
  }

  lookAtAllRuns({ server }: FuzzWorld): void {
    for (const watch of this.#departures.values()) watch.look(server);
  }

  /** [SYN4] Once there is an estimate. @throws Error when a shown clock has gone back */
  lookAtClocks({ screens }: FuzzWorld): void {
    screens.forEach(({ page, isAsleep, role }, place) => {
      if (isAsleep) return;
      const last = this.#shown.get(page);
      if (last === undefined && page.link.clock.boundMs() === null) return;
      const shown = page.link.clock.now();
      if (last !== undefined && shown < last)
        throw new Error(`screen ${place}, a ${role}, went back from ${last} to ${shown}`);
      this.#shown.set(page, shown);
    });
  }
}

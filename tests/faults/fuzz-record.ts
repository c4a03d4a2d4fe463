import type { CommandId, RunId } from '../../shared-types/brand.ts';
import { type Answer, answerSchema, type Command, commandSchema } from '../../shared-types/commands.ts';
import { DepartureWatch } from './departure-watch.ts';
import type { FuzzWorld } from './fuzz-world.ts';
import type { SimulatedPage } from './simulated-screen.ts';

interface Made {
  readonly id: CommandId;
  readonly run: RunId;
  readonly kind: 'mark' | 'assign' | 'void' | 'restore';
}

/** What was seen of a world while it went on, to be held against what it has come to. */
export class FuzzRecord {
  /** Presses that were answered. */
  readonly answered: { readonly command: Command; readonly answer: Answer }[] = [];
  /** Marks and repairs that went into an outbox. */
  readonly made: Made[] = [];
  readonly #shown = new WeakMap<SimulatedPage, number>();
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

  /** @throws Error when a clock has gone back or somebody's send-off has changed */
  look(world: FuzzWorld): void {
    this.#lookAtClocks(world);
    const run = world.server.isUp ? world.server.keeper.run?.id : undefined;
    if (run !== undefined) this.#departures.get(run)?.look(world.server);
  }

  lookAtAllRuns({ server }: FuzzWorld): void {
    for (const watch of this.#departures.values()) watch.look(server);
  }

  /** [SYN4] Once there is an estimate. */
  #lookAtClocks({ screens }: FuzzWorld): void {
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

import { type ReadonlySignal, signal } from '@preact/signals-core';
import type { SheetHash } from '../../shared-types/brand.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import { foldEvent } from '../../shared-types/fold.ts';
import { type Sheet, sheetSchema } from '../../shared-types/sheet.ts';
import type { LiveRun } from '../../shared-types/wire/from-server.ts';
import type { LinkParts } from './link-parts.ts';
import type { LivePractice } from './live.ts';

/** How long after a sheet could not be had it is asked for again, ms. */
const ASK_AGAIN_MS = 1000;

/** The run on the wall as this page has followed it, and its sheet. */
export class FollowedRun {
  readonly #parts: Pick<LinkParts, 'fetchJson' | 'later'>;
  readonly #sheetPath: (hash: SheetHash) => string;
  readonly #shown = signal<LivePractice | null>(null);
  readonly #told = signal(false);
  #live: LiveRun | null = null;
  #sheet: { readonly hash: SheetHash; readonly sheet: Sheet } | null = null;
  #asking: SheetHash | null = null;

  constructor(parts: Pick<LinkParts, 'fetchJson' | 'later'>, sheetPath: (hash: SheetHash) => string) {
    this.#parts = parts;
    this.#sheetPath = sheetPath;
  }

  /**
   * The run with the sheet it moves along. [CMD7] While another version of its sheet is on its way the lanes go on as
   * they did: a board that is blank, or that lays a run over a sheet which is not its own, would be worse.
   */
  get practice(): ReadonlySignal<LivePractice | null> {
    return this.#shown;
  }

  /** Whether it is known what is on the wall: nothing, or a run with its sheet. From then on it stays true. */
  get told(): ReadonlySignal<boolean> {
    return this.#told;
  }

  /** As far as it has been followed, which may be further than what is shown. */
  get run(): LiveRun['run'] {
    return this.#live?.run ?? null;
  }

  /** Another run is on the wall, or none, or the same one as the server has it. */
  replace(live: LiveRun): void {
    this.#live = live;
    this.#show();
    this.#wantSheet();
  }

  /**
   * [RUN2] Folds one more event.
   * @returns false when it does not follow what this page knows: then the server has to be asked for the whole state
   */
  follow(event: RunEvent): boolean {
    const live = this.#live;
    if (live?.run?.id !== event.run || event.seq > live.run.seq + 1) return false;
    if (event.seq > live.run.seq) this.replace({ ...live, run: foldEvent(live.run, event) });
    return true;
  }

  #show(): void {
    const { run = null, labels = {} } = this.#live ?? {};
    const { hash, sheet } = this.#sheet ?? {};
    if (run && sheet && hash === run.sheet) this.#shown.value = { run, sheet, labels };
    else if (this.#shown.value?.run.id !== run?.id) this.#shown.value = null;
    if (!run || this.#shown.value) this.#told.value = true;
  }

  #wantSheet(): void {
    const wanted = this.run?.sheet;
    if (!wanted || this.#sheet?.hash === wanted || this.#asking === wanted) return;
    this.#asking = wanted;
    this.#parts
      .fetchJson(this.#sheetPath(wanted))
      .then((answer) => sheetSchema.parse(answer))
      .then(
        (sheet) => this.#take(wanted, sheet),
        () => this.#parts.later(ASK_AGAIN_MS, () => this.#giveUp(wanted)),
      );
  }

  #take(hash: SheetHash, sheet: Sheet): void {
    if (this.#asking === hash) this.#asking = null;
    if (this.run?.sheet !== hash) return;
    this.#sheet = { hash, sheet };
    this.#show();
  }

  #giveUp(hash: SheetHash): void {
    if (this.#asking === hash) this.#asking = null;
    this.#wantSheet();
  }
}

import { type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import type { StoredOf } from '../../shared-types/wire/privacy.ts';
import { failure, type KnownFailure } from '../failure.ts';
import type { Note } from '../log.ts';
import type { Store } from '../store/store.ts';
import { sweep } from './retention.ts';
import type { RunKeeper } from './run-keeper.ts';
import { unmarked } from './unmarked.ts';

const NOT_OVER = failure('still-running', 'A practice is on the wall and not over; nobody was deleted.', {
  fix: 'Finish it on the deck, or take it off the wall, then delete for good.',
});
const NO_SWIMMER = failure('no-such-swimmer', 'Nothing is stored of this swimmer.', {
  fix: 'Look at who is in the squad now.',
});

export interface DeletionParts {
  readonly store: Store;
  readonly keeper: Pick<RunKeeper, 'run' | 'storedAnew'>;
  /** On the pool's clock, ms since 1970. */
  readonly now: () => number;
  readonly newId: () => string;
  readonly log: (error: unknown) => void;
  readonly note: Note;
}

/** What there is of a swimmer that a deletion would take; null when nothing is stored under a name. */
export function storedOf({ store }: Pick<DeletionParts, 'store'>, id: SwimmerId): StoredOf | null {
  const name = store.storedOf.nameOf(id);
  if (name === null) return null;
  const swimmer = store.storedOf.inSquad(id);
  const short = swimmer?.short;
  return {
    name,
    references: (swimmer?.references.length ?? 0) + (swimmer?.means?.length ?? 0),
    practices: store.erasure.pinnedIn(id).length,
    times: store.storedOf.times(id),
    loads: store.storedOf.rows(id).loads?.length ?? 0,
    mentions: store.storedOf.mentions(short === undefined ? [name] : [name, short]),
  };
}

/**
 * Takes a swimmer out of everything for good. A practice that is not over has them in its lanes, so it has to be over, or
 * off the wall.
 * @throws Error of node:sqlite when it cannot be written down: then nothing is deleted
 */
export function deleteForGood(
  parts: DeletionParts,
  id: SwimmerId,
): { readonly ok: true; readonly gone: StoredOf } | KnownFailure {
  const { store, keeper, now, newId, log, note } = parts;
  const gone = storedOf(parts, id);
  if (!gone) return NO_SWIMMER;
  if (keeper.run && keeper.run.state !== 'finished') return NOT_OVER;
  store.erasure.erase(id, gone.name, now(), (events) => unmarked(events, id, swimmerIdSchema.parse(newId())));
  keeper.storedAnew();
  note({ what: 'deleted', swimmer: id });
  sweep(store, log);
  return { ok: true, gone };
}

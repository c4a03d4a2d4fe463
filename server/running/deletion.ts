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
export const NO_SWIMMER = failure('no-such-swimmer', 'Nothing is stored of this swimmer.', {
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

type Deletion = { readonly ok: true; readonly stored: StoredOf } | KnownFailure;

/** What there is of a swimmer that a deletion would take, as long as there may be one. */
export function deletionOf({ store, keeper }: Pick<DeletionParts, 'store' | 'keeper'>, id: SwimmerId): Deletion {
  const name = store.storedOf.nameOf(id);
  if (name === null) return NO_SWIMMER;
  if (keeper.run && keeper.run.state !== 'finished') return NOT_OVER;
  const swimmer = store.storedOf.inSquad(id);
  const short = swimmer?.short;
  const stored = {
    name,
    references: (swimmer?.references.length ?? 0) + (swimmer?.means?.length ?? 0),
    practices: store.erasure.pinnedIn(id).length,
    times: store.storedOf.times(id),
    loads: store.storedOf.rows(id).loads?.length ?? 0,
    mentions: store.storedOf.mentions(short === undefined ? [name] : [name, short]),
  };
  return { ok: true, stored };
}

/**
 * Takes a swimmer out of everything for good. A practice that is not over has them in its lanes, so it has to be over, or
 * off the wall.
 * @returns what is gone
 * @throws Error of node:sqlite when it cannot be written down: then nothing is deleted
 */
export function deleteForGood(parts: DeletionParts, id: SwimmerId): Deletion {
  const { store, keeper, now, newId, log, note } = parts;
  const deletion = deletionOf(parts, id);
  if (!deletion.ok) return deletion;
  const { name } = deletion.stored;
  store.erasure.erase(id, name, now(), (events) => unmarked(events, id, swimmerIdSchema.parse(newId())));
  keeper.storedAnew();
  note({ what: 'deleted', swimmer: id });
  sweep(store, log);
  return deletion;
}

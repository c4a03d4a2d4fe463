import { randomId } from '../../server/ids.ts';
import type { Store } from '../../server/store/store.ts';
import { titleOf } from '../../server/title.ts';
import { practiceIdSchema } from '../../shared-types/brand.ts';
import type { StoredPractice } from '../../shared-types/wire/desk.ts';
import { poolOf, practiceOf, type Size, squadOf } from './workloads.ts';

/**
 * Stores a practice of this size with the squad and the pool it is for.
 * @param text another practice for them
 * @throws Error when there is one already
 */
export function storePractice(
  store: Store,
  size: Size,
  savedAt: number,
  text: string = practiceOf(size.reps),
): StoredPractice {
  store.pool.savePool(poolOf(size));
  store.squad.replace(squadOf(size), false);
  const id = practiceIdSchema.parse(randomId());
  const saved = store.practices.save({ id, text, title: titleOf(text), baseVersion: 0, savedAt, demo: false });
  if (!saved.ok) throw new Error('the practice was saved before');
  return saved.practice;
}

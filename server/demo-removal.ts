import type { Run } from '../shared-types/events.ts';
import type { DemoRestored, RemovedDemo } from '../shared-types/wire/desk.ts';
import { MOST_A_DAY } from '../shared-types/wire/plan.ts';
import { failure, type KnownFailure } from './failure.ts';
import type { Removed } from './store/demo-store.ts';
import type { Store } from './store/store.ts';

const NO_DEMO = failure('no-demo', 'There is nothing of the demo here that could be removed.', {
  fix: 'Practices that somebody has changed are no longer of the demo: delete them one by one.',
});
const BEING_SWUM = failure('still-running', 'A practice of the demo is on the wall and under way.', {
  fix: 'Finish it on the deck, then remove the demo.',
});
const NOTHING: Removed = { swimmers: [], stayed: [], practices: [], planned: [], runs: [] };

/** What there is of the demo: its squad unless another was loaded, and the practices that nobody has saved anew. Who was added to its squad is not of it. */
function present(store: Store): Removed {
  const swimmers = store.squad.ofDemo();
  const own = new Set(swimmers.map(({ id }) => id));
  const stayed = store.squad.squad().swimmers.flatMap(({ id }) => (own.has(id) ? [] : [id]));
  const practices = store.practices.list().flatMap(({ id, demo }) => (demo ? [id] : []));
  const planned = practices.flatMap((practice) => store.plan.daysOf(practice).map((of) => ({ ...of, practice })));
  return { swimmers, stayed, practices, planned, runs: store.runs.ofDemo() };
}

/** Whether the practice on the wall is one of those, or was put there for the demo's swimmers. */
function isOnWall(store: Store, { practices }: Removed): boolean {
  const live = store.runs.liveRun();
  return live !== null && (live.pinned.demo === true || practices.includes(live.practice));
}

/** Also what an earlier removal has left to be brought back; of two squads the newer one. */
const together = (before: Removed, { swimmers, stayed, practices, planned, runs }: Removed): Removed => ({
  ...(swimmers.length > 0 ? { swimmers, stayed } : { swimmers: before.swimmers, stayed: before.stayed }),
  practices: [...new Set([...before.practices, ...practices])],
  planned: [...before.planned, ...planned],
  runs: [...new Set([...before.runs, ...runs])],
});

function takeOut(store: Store, { swimmers, practices, planned, runs }: Removed, at: number): void {
  for (const { id } of swimmers) store.squad.remove(id);
  for (const practice of practices) store.practices.delete(practice, at);
  for (const day of new Set(planned.map((one) => one.day))) {
    const stay = store.plan.on(day).filter((practice) => !practices.includes(practice));
    store.plan.replace(day, stay);
  }
  for (const run of runs) store.runs.countAs(run, { rehearsed: true });
}

interface Wall {
  readonly run: Run | null;
  takeOff(): unknown;
}

/**
 * Takes the demo out of squad, library and week's plan, and off the wall unless it is being swum there. What somebody has
 * made of it stays, and so do all results; those of the demo's swimmers count as rehearsed from then on, for nobody
 * swam. All of that can be brought back.
 */
export function removeDemo(store: Store, wall: Wall, at: number): { ok: true } | KnownFailure {
  const removed = present(store);
  if (removed.swimmers.length === 0 && removed.practices.length === 0) return NO_DEMO;
  const wasOnWall = isOnWall(store, removed);
  if (wasOnWall && (wall.run?.state === 'running' || wall.run?.state === 'held')) return BEING_SWUM;
  store.inTransaction(() => {
    takeOut(store, removed, at);
    store.demo.keep({ removedAt: at, removed: together(store.demo.removed()?.removed ?? NOTHING, removed) });
  });
  if (wasOnWall) wall.takeOff();
  return { ok: true };
}

function planAgain(store: Store, { day, place, practice }: Removed['planned'][number]): void {
  const now = store.plan.on(day);
  if (now.includes(practice) || now.length >= MOST_A_DAY) return;
  store.plan.replace(day, now.toSpliced(place, 0, practice));
}

/** Puts everything back where it was; another squad that was loaded meanwhile stays. */
export function bringBackDemo(store: Store): DemoRestored | null {
  const kept = store.demo.removed()?.removed;
  if (!kept) return null;
  return store.inTransaction(() => {
    const isFree = store.squad.squad().swimmers.every(({ id }) => kept.stayed.includes(id));
    if (isFree) for (const swimmer of kept.swimmers) store.squad.add(swimmer, true);
    for (const practice of kept.practices) store.practices.restore(practice);
    for (const one of kept.planned.toSorted((a, b) => a.place - b.place)) planAgain(store, one);
    for (const run of kept.runs) store.runs.countAs(run, { rehearsed: false });
    store.demo.forget();
    return { swimmers: isFree ? kept.swimmers.length : 0, practices: kept.practices.length };
  });
}

/** What was removed last, in figures. @param isToday whether an instant is of the day that it is on the pool's clock */
export function removedDemo(store: Store, isToday: (at: number) => boolean): RemovedDemo | null {
  const known = store.demo.removed();
  if (!known || !isToday(known.removedAt)) return null;
  const { swimmers, practices, planned, runs } = known.removed;
  return {
    swimmers: swimmers.length,
    practices: practices.length,
    planned: planned.length,
    runs: runs.length,
    kept: store.practices.demoChanged(),
  };
}

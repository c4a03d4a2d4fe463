import { randomId } from '../../server/ids.ts';
import { loadingOf } from '../../server/running/loading.ts';
import { RunKeeper } from '../../server/running/run-keeper.ts';
import type { StoredRun } from '../../server/store/run-store.ts';
import type { Store } from '../../server/store/store.ts';
import { commandIdSchema, instant, runIdSchema } from '../../shared-types/brand.ts';
import { type Command, commandSchema } from '../../shared-types/commands.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import { storePractice } from './stored-practice.ts';
import { TWO_HOURS } from './workloads.ts';

/** A stored run, to be stored again under other ids. */
export interface PressedRun {
  readonly stored: StoredRun;
  readonly sheetText: string;
  readonly commands: readonly Command[];
  /** What each of them became. */
  readonly events: readonly RunEvent[];
}

/** How long after each other buttons are pressed, ms: two thousand presses are more than one of the two hours. */
const BETWEEN_PRESSES_MS = 2000;

/** So many presses more than accepted ones, at most: the last is then not long ago. */
const MOST_REFUSED = 0.1;

/** What is pressed by turns: lane after lane is put off and back between two holds. */
function pressAt(place: number): object {
  const lane = (Math.floor(place / 4) % TWO_HOURS.lanes) + 1;
  const presses = [
    { kind: 'hold' },
    { kind: 'resume', when: 'now' },
    { kind: 'shift', lane, byMs: 5000 },
    { kind: 'shift', lane, byMs: -5000 },
  ];
  return place === 0 ? { kind: 'start', when: 'now' } : (presses[place % presses.length] ?? {});
}

/**
 * Puts a two-hour practice for ten lanes on the wall and presses buttons until so many presses have been accepted. It
 * is still under way then.
 * @param store an empty one
 */
export function pressedRun(store: Store, events: number): PressedRun {
  const madeAt = Date.now();
  let now = madeAt - Math.round(events * (1 + MOST_REFUSED) * BETWEEN_PRESSES_MS);
  const practice = storePractice(store, TWO_HOURS, now);
  const planned = loadingOf(practice, store.squad.squad(), store.pool.pool());
  if (!planned.ok) throw new Error(planned.message);
  const { loading } = planned;
  const keeper = new RunKeeper({ store, now: () => instant(now), newId: randomId, log: fail });
  keeper.load(loading, false);
  const device = randomId();
  const commands: Command[] = [];
  // In one transaction: nothing has to be on disk before the last is.
  store.inTransaction(() => {
    for (let place = 0; commands.length < events; place += 1) {
      now += BETWEEN_PRESSES_MS;
      const { id: run, seq: basedOnSeq } = keeper.run ?? {};
      const envelope = { id: randomId(), device, run, basedOnSeq, pressedAt: now };
      const command = commandSchema.parse({ ...envelope, ...pressAt(place) });
      if (keeper.command(command).ok) commands.push(command);
      if (now > madeAt) throw new Error('too many presses are refused');
    }
  });
  const stored = store.runs.liveRun();
  if (!stored) throw new Error('nothing is on the wall');
  return { stored, sheetText: loading.sheetText, commands, events: store.runs.eventsOf(stored.id) };
}

const hex = (number: number): string => number.toString(16).padStart(16, '0');

function fail(error: unknown): never {
  throw error;
}

/**
 * Stores the run once more, as another with commands of its own. That is then the one on the wall.
 * @param number of this copy, from 1: the ids of its commands ascend with it, so that thousands are stored quickly
 */
export function storeAgain(store: Store, { stored, sheetText, commands, events }: PressedRun, number: number): void {
  const run = runIdSchema.parse(randomId());
  store.inTransaction(() => {
    store.runs.putOnWall({ ...stored, id: run }, sheetText);
    for (const [place, event] of events.entries()) {
      const known = commands[place];
      if (!known) throw new Error(`no command made event ${event.seq}`);
      const id = commandIdSchema.parse(`${hex(number)}${hex(event.seq)}`);
      store.runs.append({ ...known, id, run }, { ok: true, seq: event.seq }, { ...event, run, command: id });
    }
  });
}

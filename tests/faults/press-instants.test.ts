import { describe, expect, it } from 'vitest';
import type { CommandId, Instant } from '../../shared-types/brand.ts';
import { foldMarks, NO_MARKS } from '../../shared-types/marks.ts';
import { LONG_TEXT, SQUAD } from './fuzz-practices.ts';
import { FuzzWorld, scattered } from './fuzz-world.ts';
import { inMemoryFolder } from './memory-folder.ts';
import type { NetworkTraits } from './simulated-network.ts';

const SEEDS = [1, 2, 3, 4];
const PRESSES_A_SEED = 300;
/** The estimate of a page's clock owes nothing before this, ms. */
const SETTLING_MS = 30_000;
/** At most so long from one press to the next, ms. */
const PRESSES_WITHIN_MS = 2000;
/** Instants travel in whole milliseconds. */
const ROUNDING_MS = 0.5;

/** A cheap access point in the same hall, and a radio as bad as they get; the figures are invented. */
const GOOD_WIFI: NetworkTraits = { delayMs: 1.5, jitterMs: 3, failingShare: 0 };
const BAD_RADIO: NetworkTraits = { delayMs: 3, jitterMs: 200, failingShare: 0.1 };

interface Pressed {
  readonly seed: number;
  /** How far the stored instant is from that of the press on the pool's true clock, ms. */
  readonly errorMs: number;
  /** What the deck's clock said of its own error at the press, ms. */
  readonly boundMs: number | null;
}

interface TruePress {
  readonly id: CommandId;
  readonly at: Instant;
  readonly boundMs: number | null;
}

/** Presses of a deck at any moment of a practice, with the pool's true clock at each. */
async function pressesOf(world: FuzzWorld, random: () => number): Promise<TruePress[]> {
  const [deck] = world.decks;
  if (!deck) throw new Error('there is no deck');
  const presses: TruePress[] = [];
  while (presses.length < PRESSES_A_SEED) {
    await world.pass(PRESSES_WITHIN_MS * random());
    const pressedAt = deck.page.pressedAt();
    const [left] = deck.link.times.departuresAt(pressedAt);
    if (!left) continue;
    const { swimmer, step, pass } = left;
    const boundMs = deck.link.clock.boundMs();
    const id = deck.link.times.mark({ kind: 'mark', swimmer, step, pass, distance: 50, pressedAt });
    if (id !== null) presses.push({ id, at: world.server.clock.now(), boundMs });
  }
  return presses;
}

/** So many presses with each seed, as they were stored. */
async function storedPresses(traits: NetworkTraits): Promise<Pressed[]> {
  const all: Pressed[] = [];
  for (const seed of SEEDS) {
    await inMemoryFolder(async (folder) => {
      const random = scattered(seed);
      const world = new FuzzWorld(folder, { decks: 1, walls: 0, traits }, random);
      const run = world.server.putOnWall('A practice', LONG_TEXT, SQUAD);
      await world.pass(SETTLING_MS);
      const [deck] = world.decks;
      void deck?.link.press({ kind: 'start', when: 'now', pressedAt: deck.page.pressedAt() });
      const presses = await pressesOf(world, random);
      // As long as the outbox may need on such a line.
      await world.pass(SETTLING_MS);
      const { entries } = foldMarks(NO_MARKS, world.server.store.marks.eventsOf(run));
      for (const { id, at, boundMs } of presses) {
        all.push({ seed, errorMs: Math.abs((entries.get(id)?.pressedAt ?? Number.POSITIVE_INFINITY) - at), boundMs });
      }
      world.server.close();
    });
  }
  return all.sort((one, other) => one.errorMs - other.errorMs);
}

const beyondBound = (presses: readonly Pressed[]): Pressed[] =>
  presses.filter(({ errorMs, boundMs }) => boundMs === null || errorMs > boundMs + ROUNDING_MS);

describe('the instant of a press as the server stores it', () => {
  it('[CMD5] [SYN2] with 200 ms jitter both ways: never further from the true one than the clock’s bound', async () => {
    const presses = await storedPresses(BAD_RADIO);
    expect(presses).toHaveLength(SEEDS.length * PRESSES_A_SEED);
    expect(beyondBound(presses)).toEqual([]);
  });

  it('[CMD5] [SYN2] on a good Wi-Fi: 99 of 100 within 10 ms, none beyond the bound', async () => {
    const presses = await storedPresses(GOOD_WIFI);
    expect(beyondBound(presses)).toEqual([]);
    const p99 = presses[Math.ceil(presses.length * 0.99) - 1];
    expect(p99?.errorMs, `seed ${p99?.seed}`).toBeLessThanOrEqual(10);
  });
});

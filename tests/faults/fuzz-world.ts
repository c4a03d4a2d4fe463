import { mkdirSync } from 'node:fs';
import { type CommandId, commandIdSchema, type DeviceId, deviceIdSchema } from '../../shared-types/brand.ts';
import type { Role } from '../../shared-types/wire/protocol.ts';
import { seeded } from '../bench/seeded.ts';
import { countedIds } from '../fixtures/planning.ts';
import { KeptStorage } from './kept-storage.ts';
import { SimulatedDevice } from './simulated-device.ts';
import { type Mischief, type NetworkTraits, NO_MISCHIEF, SimulatedNetwork } from './simulated-network.ts';
import { type OnAnswer, SimulatedScreen } from './simulated-screen.ts';
import { SimulatedServer } from './simulated-server.ts';
import { SimulatedTime } from './simulated-time.ts';

/** Seeds next to each other give numbers that have nothing to do with each other. */
export const scattered = (seed: number): (() => number) => seeded(Math.imul(seed, 0x9e37_79b1) ^ 0x5bd1_e995);

const MOST_DRIFT_PPM = 50;

export interface WorldForm {
  readonly decks: number;
  readonly walls: number;
  readonly mischief?: Mischief;
  /** The same for all screens; drawn for each when absent. */
  readonly traits?: NetworkTraits;
}

/** From a cable to a bad radio. */
const drawnTraits = (random: () => number): NetworkTraits => ({
  delayMs: 0.5 + 10 * random(),
  jitterMs: 150 * random() ** 3,
  failingShare: 0.1 * random(),
});

/** A pool in memory: the real server but for its network, and screens with their real links. */
export class FuzzWorld {
  readonly time = new SimulatedTime();
  readonly server: SimulatedServer;
  readonly screens: readonly SimulatedScreen[];
  readonly #mischief: Mischief;

  /** @param folder for the server's databases */
  constructor(folder: string, form: WorldForm, random: () => number, onAnswer: OnAnswer = () => {}) {
    mkdirSync(folder, { recursive: true });
    const newId = countedIds();
    this.server = new SimulatedServer(this.time.machine, folder, newId);
    this.#mischief = form.mischief ?? NO_MISCHIEF;
    const shared = new KeptStorage();
    const screen = (role: Role, place: number): SimulatedScreen => {
      const network = new SimulatedNetwork(this.time, form.traits ?? drawnTraits(random), random);
      const driftPpm = MOST_DRIFT_PPM * (2 * random() - 1);
      const device = new SimulatedDevice(this.time, {
        driftPpm,
        wallAheadMs: 1_800_000_000_000 + 4000 * (random() - 0.5),
      });
      const id: DeviceId = deviceIdSchema.parse(newId());
      const newCommandId = (): CommandId => commandIdSchema.parse(newId());
      // The second and the third deck are two tabs of one browser.
      const storage = role === 'deck' && place > 0 ? shared : new KeptStorage();
      return new SimulatedScreen({ role, id, device, network, server: this.server, storage, newCommandId, onAnswer });
    };
    this.screens = [
      ...Array.from({ length: form.decks }, (_, place) => screen('deck', place)),
      ...Array.from({ length: form.walls }, (_, place) => screen('wall', place)),
    ];
    this.meddle();
  }

  /** From now on whole messages are messed with as the world's form says. */
  meddle(): void {
    for (const { network } of this.screens) network.mischief = this.#mischief;
  }

  get decks(): readonly SimulatedScreen[] {
    return this.screens.filter(({ role }) => role === 'deck');
  }

  pass(byMs: number): Promise<void> {
    return this.time.pass(byMs);
  }

  /** Everything is up, awake and connected again, or will soon be; nobody messes with messages any more. */
  mend(): void {
    this.server.start();
    for (const screen of this.screens) {
      screen.network.mischief = NO_MISCHIEF;
      screen.network.mend();
      screen.wake();
    }
  }
}

import type { Instant } from '../../shared-types/brand.ts';
import type { Addresses } from '../addresses.ts';
import type { PoolClock } from '../clock.ts';
import type { LocalKeeper } from '../local-key.ts';
import type { Note } from '../log.ts';
import type { RunKeeper } from '../running/run-keeper.ts';
import type { Backups } from '../store/backups.ts';
import type { Store } from '../store/store.ts';
import type { Secure } from '../tls.ts';
import type { Devices } from './devices.ts';
import type { Limits } from './limits.ts';
import type { OpenPages } from './open-pages.ts';
import type { Pairing } from './pairing.ts';
import type { Screens } from './screens.ts';
import type { Walls } from './walls.ts';

/** What the routes and sockets work with. */
export interface WebParts {
  readonly store: Store;
  readonly keeper: RunKeeper;
  readonly backups: Backups;
  readonly clock: PoolClock;
  /** When the server started, on the pool's clock. */
  readonly startedAt: Instant;
  readonly screens: Screens;
  readonly walls: Walls;
  readonly devices: Devices;
  readonly pairing: Pairing;
  readonly pages: OpenPages;
  readonly newId: () => string;
  /** IANA name. */
  readonly timezone: string;
  readonly allowedHosts: readonly string[];
  /** For commands on the server's own machine; null: there is none. */
  readonly local: LocalKeeper | null;
  /** Once it listens. */
  readonly addresses: () => Addresses;
  readonly limits: Limits;
  /** Null: plain http. */
  readonly secure: Secure | null;
  /** Where the built pages lie; null when they have not been built. */
  readonly pagesFolder: string | null;
  /** Takes note of a bug or of trouble with the machine. */
  readonly log: (error: unknown) => void;
  /** Takes note of what happens as it should. */
  readonly note: Note;
}

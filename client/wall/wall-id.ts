import { z } from 'zod';
import { type DeviceId, deviceIdSchema } from '../../shared-types/brand.ts';
import { newDeviceId } from '../common/ids.ts';

/** What a wall's id is kept in; null where the browser forbids it. */
type Kept = Pick<Storage, 'getItem' | 'setItem'> | null;

export interface WallIdParts {
  /** Shared by all walls of this browser, and still there when it has been restarted. */
  readonly device: Kept;
  /** This tab's own. */
  readonly tab: Kept;
  readonly page: Pick<Window, 'addEventListener'>;
  /** The device's time of day, ms since 1970. */
  readonly wallNow: () => number;
  /** Calls again and again. */
  readonly every: (ms: number, call: () => void) => void;
}

const STORED_AS = 'farwall-walls';
/** An open wall says so often that its id is in use. */
const SAY_EVERY_MS = 2000;
/** After so long without a word an id is free: its page was cut off, as when a television is switched off. */
const FREE_AFTER_MS = 5000;
/** So many walls at most keep their ids in one browser. */
const MOST_KEPT = 12;

/** Ids of this browser's walls, in the order they were first used, with when each last said that it is in use (0: it is not). */
const keptSchema = z.array(z.object({ id: deviceIdSchema, usedAt: z.number() }));
type KeptIds = z.infer<typeof keptSchema>;

function read(storage: Kept): KeptIds {
  try {
    return keptSchema.parse(JSON.parse(storage?.getItem(STORED_AS) ?? '[]'));
  } catch {
    return [];
  }
}

function write(storage: Kept, key: string, value: string): void {
  try {
    storage?.setItem(key, value);
  } catch {
    // A full storage: the wall then is another one after a restart.
  }
}

/** Says when this id was last in use. */
function say(storage: Kept, id: DeviceId, usedAt: number): void {
  const known = read(storage);
  const ids = known.some((one) => one.id === id) ? known : [...known, { id, usedAt }];
  const now = ids.map((one) => (one.id === id ? { id, usedAt } : one));
  write(storage, STORED_AS, JSON.stringify(now.slice(0, MOST_KEPT)));
}

/**
 * A wall's id: the same after a reload, and, where the browser stores anything, after a restart of browser or device.
 * Several walls in one browser, as for two televisions at one computer, each keep their own.
 */
export function wallIdOf({ device, tab, page, wallNow, every }: WallIdParts): DeviceId {
  const known = read(device);
  // A clock that went back, as in a television without a battery, must not keep an id taken.
  const isFree = ({ usedAt }: KeptIds[number]): boolean => Math.abs(wallNow() - usedAt) > FREE_AFTER_MS;
  const tabs = deviceIdSchema.safeParse(tab?.getItem(STORED_AS)).data;
  // A tab that is duplicated copies the storage of an open page: then the id in it is taken.
  const own = known.some((one) => one.id === tabs && !isFree(one)) ? undefined : tabs;
  const id = own ?? known.find(isFree)?.id ?? newDeviceId();
  const use = (): void => say(device, id, wallNow());
  use();
  write(tab, STORED_AS, id);
  every(SAY_EVERY_MS, use);
  page.addEventListener('pagehide', () => say(device, id, 0));
  page.addEventListener('pageshow', use);
  return id;
}

import {
  type CommandId,
  commandIdSchema,
  type DeviceId,
  deviceIdSchema,
  hexOf,
  type PracticeId,
  practiceIdSchema,
  type SwimmerId,
  swimmerIdSchema,
} from '../../shared-types/brand.ts';

/** 128 random bits in hex. `crypto.randomUUID` is missing on plain http, `getRandomValues` is not. */
const randomHex = (): string => hexOf(crypto.getRandomValues(new Uint8Array(16)));

export const newCommandId = (): CommandId => commandIdSchema.parse(randomHex());
export const newDeviceId = (): DeviceId => deviceIdSchema.parse(randomHex());
export const newPracticeId = (): PracticeId => practiceIdSchema.parse(randomHex());
export const newSwimmerId = (): SwimmerId => swimmerIdSchema.parse(randomHex());

const STORED_AS = 'farwall-device';

/**
 * This page's device id: the same after a reload, another in every tab. It lies in the tab's storage only while the
 * page is away: a tab that is duplicated copies the storage of an open page and so finds no id in it.
 */
export function deviceIdOf(storage: Storage | null, page: Pick<Window, 'addEventListener'>): DeviceId {
  const kept = deviceIdSchema.safeParse(storage?.getItem(STORED_AS));
  const device = kept.success ? kept.data : newDeviceId();
  storage?.removeItem(STORED_AS);
  page.addEventListener('pagehide', () => storage?.setItem(STORED_AS, device));
  page.addEventListener('pageshow', () => storage?.removeItem(STORED_AS));
  return device;
}

/** The storage that all pages of this device share, or null where the browser forbids it. */
export function deviceStorage(): Storage | null {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}

/** The tab's storage, or null where the browser forbids it. */
export function tabStorage(): Storage | null {
  try {
    return window.sessionStorage;
  } catch {
    return null;
  }
}

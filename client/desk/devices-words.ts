import { type Instant, instant } from '../../shared-types/brand.ts';
import { type ClockFace, timeOfDay } from '../../shared-types/time.ts';
import { type Access, PAGES } from '../../shared-types/wire/access.ts';
import type { PairedDevice, ShownCode } from '../../shared-types/wire/pairing.ts';
import { ROLES } from '../../shared-types/wire/protocol.ts';
import { counted } from './counted.ts';
import { shortDay } from './days.ts';

const HERE = new Set(['localhost', '127.0.0.1', '[::1]']);

/** Where other devices find the server that this desk was opened from, the likeliest first. */
export function placesOf(
  { hostname, origin }: Pick<Location, 'hostname' | 'origin'>,
  addresses: readonly string[],
): readonly string[] {
  return HERE.has(hostname) ? addresses : [...new Set([origin, ...addresses])];
}

const firstPage = (access: Access): string => `/${ROLES.find((role) => PAGES[role] === access) ?? 'desk'}`;

/** What a camera opens: the page that pairs, with the code behind the `#`, which no log of a server ever sees. */
export const pairingAddress = (place: string, { access, code }: ShownCode): string =>
  `${place}/pair?to=${firstPage(access)}#code=${code}`;

/** `today at 17:05`, `15 Jan`. */
function whenWords(at: number, now: Instant, face: ClockFace): string {
  const day = shortDay(at, face);
  return day === shortDay(now, face) ? `today at ${timeOfDay(instant(at), face)}` : day;
}

/** `2 pages open`, else when it was here last: `today at 17:05`, `15 Jan`. */
export const seenWords = ({ pages, seenAt }: PairedDevice, now: Instant, face: ClockFace): string =>
  pages > 0 ? `${counted(pages, 'page')} open` : whenWords(seenAt, now, face);

/** `owner, since 15 Jan`. */
export const pairedWords = ({ access, pairedAt }: PairedDevice, now: Instant, face: ClockFace): string =>
  `${access}, since ${whenWords(pairedAt, now, face)}`;

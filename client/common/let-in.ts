import type { ReadonlySignal } from '@preact/signals-core';
import type { Role } from '../../shared-types/wire/protocol.ts';
import type { LinkState } from './live.ts';

const EVERY_MS = 3000;
const WITHIN_MS = 3000;
const NOT_PAIRED = 401;

/** Whether the server says that this device is not paired; a server that does not answer says nothing. */
async function isUnpaired(): Promise<boolean> {
  const abort = new AbortController();
  const timer = setTimeout(() => abort.abort(), WITHIN_MS);
  const answer = await fetch('/api/access', { signal: abort.signal }).catch(() => null);
  clearTimeout(timer);
  return answer?.status === NOT_PAIRED;
}

/**
 * When its pairing has ended, the page goes where the device can be paired anew, and comes back from there. It finds out
 * by asking while it has no connection: one that is no longer paired is cut off at once.
 */
export function leaveWhenUnpaired(link: { readonly state: ReadonlySignal<LinkState> }, page: Role): void {
  const look = async (): Promise<void> => {
    if (link.state.peek() !== 'live' && (await isUnpaired())) location.replace(`/pair?to=/${page}&ended`);
  };
  setInterval(() => void look(), EVERY_MS);
  link.state.subscribe((state) => state === 'alone' && void look());
}

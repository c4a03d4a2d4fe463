import { networkInterfaces } from 'node:os';

export const isLoopback = (host: string): boolean => host === 'localhost' || host === '::1' || host.startsWith('127.');

const isEveryAddress = (host: string): boolean => host === '0.0.0.0' || host === '::';

function lanAddresses(): string[] {
  const all = Object.values(networkInterfaces()).flatMap((addresses) => addresses ?? []);
  return all.filter(({ internal, family }) => !internal && family === 'IPv4').map(({ address }) => address);
}

/** Where a server can be found, as the beginning of the addresses of its pages, `http://192.0.2.7:4050`. */
export interface Addresses {
  /** On the machine itself. */
  readonly here: string;
  /** On other devices; none where it listens to its own machine only. */
  readonly elsewhere: readonly string[];
}

/** @param host what it listens on @param scheme by which it is asked */
export function addressesOf(host: string, port: number, scheme: 'http' | 'https'): Addresses {
  const at = (name: string): string => `${scheme}://${name.includes(':') ? `[${name}]` : name}:${port}`;
  if (isLoopback(host)) return { here: at('localhost'), elsewhere: [] };
  if (isEveryAddress(host)) return { here: at('localhost'), elsewhere: lanAddresses().map(at) };
  return { here: at(host), elsewhere: [at(host)] };
}

import { hostname, networkInterfaces } from 'node:os';
import { failure, type KnownFailure } from '../failure.ts';

/** The parts of a request that say who it is for and whose page it comes from. */
export interface Caller {
  readonly host?: string | undefined;
  readonly origin?: string | undefined;
  /** What a browser says of the page that asks, on origins that it takes for safe. */
  readonly 'sec-fetch-site'?: string | undefined;
}

/** The name in a Host header, without its port, in lower case; null when it is not one. */
function nameIn(host: string): string | null {
  if (!/^[\w.:[\]-]+$/.test(host)) return null;
  try {
    return new URL(`http://${host}`).hostname.replace(/^\[(.*)\]$/, '$1');
  } catch {
    return null;
  }
}

const isLoopback = (name: string): boolean =>
  name === 'localhost' || name === '::1' || /^127\.\d+\.\d+\.\d+$/.test(name);

function isThisMachine(name: string): boolean {
  const machine = hostname().toLowerCase();
  if (isLoopback(name) || name === machine || name === `${machine}.local`) return true;
  return Object.values(networkInterfaces()).some((addresses) => addresses?.some(({ address }) => address === name));
}

/** Whether this is the same host and port, in an Origin and in a Host header. */
function sameHost(origin: string, host: string): boolean {
  try {
    return new URL(origin).host === new URL(`http://${host}`).host;
  } catch {
    return false;
  }
}

/**
 * Who may talk to the server. A name that is not the machine's own is refused, since a foreign page could have its
 * own name point here (DNS rebinding); so is what a page from elsewhere sends.
 */
export class DoorKeeper {
  readonly #allowed: ReadonlySet<string>;

  /** @param allowedHosts names or addresses, besides the machine's own, that the server may be called by */
  constructor(allowedHosts: readonly string[]) {
    this.#allowed = new Set(allowedHosts.map((host) => host.toLowerCase()));
  }

  /** Whether the request is meant for this server. @returns null when it is */
  wrongHost({ host }: Pick<Caller, 'host'>): KnownFailure | null {
    const name = nameIn(host ?? '');
    if (name !== null && (this.#allowed.has(name) || isThisMachine(name))) return null;
    return failure('wrong-host', 'This server does not go by the name it was called by.', {
      fix: 'Call it by its address, or start it with --allow-host and that name.',
    });
  }

  /**
   * Whether the request comes from one of our own pages. For what `changes` something, and for websockets, browsers
   * always say which page asks: where nothing says it, no page of ours does.
   * @returns null when it does
   */
  wrongOrigin({ host, origin, 'sec-fetch-site': site }: Caller, what: 'reads' | 'changes'): KnownFailure | null {
    const isElsewhere = origin === undefined ? what === 'changes' : !sameHost(origin, host ?? '');
    // Following a link from elsewhere is no harm: such a request carries no cookie of ours.
    const isForeign = site === 'cross-site' && (what === 'changes' || origin !== undefined);
    return isElsewhere || isForeign ? WRONG_ORIGIN : null;
  }
}

const WRONG_ORIGIN = failure('wrong-origin', 'This was asked by a page that is not from this server.', {
  fix: 'Open the page from the address the server prints when it starts.',
});

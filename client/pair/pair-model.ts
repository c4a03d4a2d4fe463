import { type ReadonlySignal, type Signal, signal } from '@preact/signals';
import { type Access, mayUse, PAGES } from '../../shared-types/wire/access.ts';
import type { PairDevice, Paired } from '../../shared-types/wire/pairing.ts';
import { ROLES } from '../../shared-types/wire/protocol.ts';
import type { Reply } from '../common/ask.ts';

/** What the page's address asks for. */
export interface PairAsked {
  /** A page of this server to go on to, `/deck`. */
  readonly to: string | null;
  /** Of the desk, out of a QR code. */
  readonly code: string;
  /** Of the server's terminal. */
  readonly key: string;
  /** It has been cut off: it was paired until now. */
  readonly isEnded: boolean;
}

/** Only our own pages are gone on to, whatever the address says. */
export function askedBy({ search, hash }: Pick<Location, 'search' | 'hash'>): PairAsked {
  const asked = new URLSearchParams(search);
  const wanted = asked.get('to');
  const told = new URLSearchParams(hash.replace(/^#/, ''));
  const role = ROLES.find((each) => wanted === `/${each}`);
  return {
    to: role ? `/${role}` : null,
    code: told.get('code') ?? '',
    key: told.get('key') ?? '',
    isEnded: asked.has('ended'),
  };
}

const FIRST_PAGE: Readonly<Record<Access, string>> = { screen: '/wall', coach: '/deck', owner: '/desk' };

export interface PairModel {
  readonly asked: PairAsked;
  /** `asking`: nothing is known yet. */
  readonly state: ReadonlySignal<'asking' | 'typing' | 'pairing'>;
  /** What this device is paired as already; null: it is not. */
  readonly paired: ReadonlySignal<Paired | null>;
  /** As typed. */
  readonly code: Signal<string>;
  readonly name: Signal<string>;
  readonly problem: ReadonlySignal<{ readonly message: string; readonly fix?: string | undefined } | null>;
  start(): Promise<void>;
  /** Pairs this device and goes on. */
  pair(): Promise<void>;
  /** Ends the pairing that this device has. */
  leave(): Promise<void>;
}

export interface PairParts {
  readonly asked: PairAsked;
  /** To begin with. */
  readonly name: string;
  readonly server: {
    access(): Promise<Reply<Paired>>;
    pair(device: PairDevice): Promise<Reply<Paired>>;
    leave(): Promise<Reply<unknown>>;
  };
  open(path: string): void;
}

const mayOpen = ({ access }: Paired, to: string): boolean =>
  ROLES.some((role) => to === `/${role}` && mayUse(access, PAGES[role]));

/** How this device becomes one that may use the server. */
export function createPair({ asked, name: firstName, server, open }: PairParts): PairModel {
  const { to, code: given, key } = asked;
  const state = signal<'asking' | 'typing' | 'pairing'>('asking');
  const paired = signal<Paired | null>(null);
  const problem = signal<{ message: string; fix?: string | undefined } | null>(null);
  const code = signal(given);
  const name = signal(firstName);
  const goOn = (device: Paired): void => open(to !== null && mayOpen(device, to) ? to : FIRST_PAGE[device.access]);

  return {
    asked,
    state,
    paired,
    code,
    name,
    problem,
    start: async () => {
      const known = await server.access();
      if (known.ok) paired.value = known.value;
      else if (known.code !== 'not-paired') problem.value = known;
      // A cookie does not come along when the page was opened by a link from elsewhere: only now is it known.
      if (known.ok && to !== null && given === '' && key === '' && mayOpen(known.value, to)) open(to);
      else state.value = 'typing';
    },
    pair: async () => {
      problem.value = null;
      state.value = 'pairing';
      const answer = await server.pair({ code: key || code.peek(), name: name.peek() });
      if (answer.ok) return goOn(answer.value);
      problem.value = answer;
      state.value = 'typing';
    },
    leave: async () => {
      const answer = await server.leave();
      problem.value = answer.ok ? null : answer;
      if (answer.ok) paired.value = null;
    },
  };
}

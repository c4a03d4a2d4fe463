import { io } from 'socket.io-client';
import type { CommandId, DeviceId } from '../../shared-types/brand.ts';
import { fetchJson } from './fetch-json.ts';
import { deviceIdOf, deviceStorage, newCommandId, tabStorage } from './ids.ts';
import type { OutboxStorage } from './outbox.ts';
import type { PageClocks } from './pool-clock.ts';

/** A sheet is there within a second on a bad radio; whoever asked asks again. Ms. */
const FETCH_WITHIN_MS = 10_000;

/** One socket to the server. It comes back by itself after a lost connection, not after `close`. */
interface Socket {
  /** Opens, or opens again; does nothing when it is open or on its way. */
  open(): void;
  close(): void;
  /** @throws (rejects) when there is no answer within `withinMs` or the connection is lost */
  ask(event: string, payload: unknown, withinMs: number): Promise<unknown>;
  onOpen(heard: () => void): void;
  /** `final`: the other side ended it and the socket does not try again by itself. */
  onLost(heard: (final: boolean) => void): void;
  on(event: string, heard: (payload: unknown) => void): void;
}

/** Everything a link needs of the world; tests bring their own. */
export interface LinkParts extends PageClocks {
  readonly device: DeviceId;
  readonly timezone: string;
  readonly socket: Socket;
  newCommandId(): CommandId;
  /** [CMD8] What the outbox keeps marks in; absent or null: they last as long as the page. */
  readonly marksKeptIn?: OutboxStorage | null;
  /** @throws (rejects) when the server does not answer in time or answers with a failure */
  fetchJson(path: string): Promise<unknown>;
  /** Calls once after `delayMs`. @returns what calls it off */
  later(delayMs: number, call: () => void): () => void;
}

/** The parts of a real page. @param device another id than that of its tab */
export function browserParts(device = deviceIdOf(tabStorage(), window)): LinkParts {
  return {
    device,
    get timezone() {
      return new Intl.DateTimeFormat().resolvedOptions().timeZone;
    },
    socket: webSocket(),
    newCommandId,
    marksKeptIn: deviceStorage(),
    pageNow: () => performance.now(),
    wallNow: () => Date.now(),
    fetchJson: (path) => fetchJson(path, FETCH_WITHIN_MS),
    later: (delayMs, call) => {
      const timer = setTimeout(call, delayMs);
      return () => clearTimeout(timer);
    },
  };
}

function webSocket(): Socket {
  const socket = io({
    transports: ['websocket'],
    autoConnect: false,
    reconnectionDelay: 300,
    reconnectionDelayMax: 2000,
    timeout: 4000,
  });
  return {
    open: () => void socket.connect(),
    close: () => void socket.disconnect(),
    // socket.io keeps what is sent while disconnected and delivers it late: nothing is sent then.
    ask: async (event, payload, withinMs) => {
      if (!socket.connected) throw new Error('not connected');
      return socket.timeout(withinMs).emitWithAck(event, payload);
    },
    onOpen: (heard) => void socket.on('connect', heard),
    onLost: (heard) => {
      socket.on('disconnect', (reason) => heard(reason === 'io server disconnect'));
      socket.on('connect_error', () => heard(!socket.active));
    },
    on: (event, heard) => void socket.on(event, heard),
  };
}

import type { Server as HttpServer, IncomingMessage } from 'node:http';
import { Server, type Socket } from 'socket.io';
import type { PairedId } from '../../shared-types/brand.ts';
import { ASKED } from '../../shared-types/wire/from-screen.ts';
import type { Changed } from '../../shared-types/wire/from-server.ts';
import { MOST_MESSAGE_BYTES } from '../../shared-types/wire/protocol.ts';
import { failure } from '../failure.ts';
import { NOT_PAIRED } from './guard.ts';
import type { DoorKeeper } from './hosts.ts';
import { LastSaid } from './last-said.ts';
import { type Hub, ScreenConnection, tellScreens } from './screen-connection.ts';
import { Counts, MessageLimits, MessageQueue } from './socket-limits.ts';
import type { WebParts } from './web-parts.ts';

const TOO_MANY = failure('too-fast', 'Too many pages of this address are open.', { fix: 'Close some of them.' });

/** So long may a websocket be open without becoming a socket of ours, ms. */
const CONNECT_WITHIN_MS = 5000;

const addressOf = ({ socket }: IncomingMessage): string => socket.remoteAddress ?? '';

/** Hears a socket out. */
function connect(socket: Socket, device: PairedId, limits: MessageLimits, parts: WebParts, hub: Hub): void {
  const { devices, pages } = parts;
  const { socket: reading } = socket.request;
  const queue = new MessageQueue({
    limits,
    socket: socket.id,
    address: addressOf(socket.request),
    reading,
    cutOff: () => void reading.destroy(),
  });
  const connection = new ScreenConnection(socket.id, () => devices.accessOf(device), parts, hub);
  for (const asked of ASKED) {
    socket.on(asked, (message: unknown, acknowledge: unknown) => {
      queue.add(() => {
        const answer = connection.answer(asked, message);
        if (typeof acknowledge === 'function') acknowledge(answer);
      });
    });
  }
  pages.opened(device, socket.id);
  socket.on('disconnect', (reason) => {
    queue.end();
    pages.closed(device, socket.id);
    connection.ended(reason);
  });
}

/** Told at each report of each screen, whole: only the last counts. */
const OFTEN_TOLD: ReadonlySet<string> = new Set(['screens', 'walls']);

/** Socket.io's rooms are the roles. */
const hubOn = (io: Server, lastSaid: LastSaid): Hub => ({
  join: (connection, role) => void io.sockets.sockets.get(connection)?.join(role),
  leave: (connection, role) => void io.sockets.sockets.get(connection)?.leave(role),
  tell: (roles, event, payload) => {
    const tell = (): void => void io.to([...roles]).emit(event, payload);
    if (OFTEN_TOLD.has(event)) lastSaid.say(event, tell);
    else tell();
  },
  tellOne: (connection, event, payload) => void io.sockets.sockets.get(connection)?.emit(event, payload),
});

export interface Sockets {
  /** Tells all desks that something of theirs has been changed. */
  tellDesks(changed: Changed): void;
  /** Cuts them all off. */
  cutOff(): void;
}

/** Attaches the screens' sockets to the web server. Only paired devices have any. */
export function attachSockets(httpServer: HttpServer, door: DoorKeeper, parts: WebParts): Sockets {
  const { devices, pages } = parts;
  /** Whose the websockets are. */
  const owners = new WeakMap<IncomingMessage, PairedId>();
  const limits = new MessageLimits(parts.limits);
  const open = new Counts();
  const io = new Server(httpServer, {
    transports: ['websocket'],
    serveClient: false,
    perMessageDeflate: false,
    pingInterval: 3000,
    pingTimeout: 4000,
    connectTimeout: CONNECT_WITHIN_MS,
    maxHttpBufferSize: MOST_MESSAGE_BYTES,
    // A browser lets any page open a websocket to any server: the check is ours to make.
    allowRequest: (request, decide) => {
      const { headers } = request;
      const device = devices.deviceOf(headers.cookie);
      if (device) owners.set(request, device.id);
      const refused =
        door.wrongHost(headers) ??
        door.wrongOrigin(headers, 'changes') ??
        (device === null ? NOT_PAIRED : null) ??
        (open.of(addressOf(request)) >= parts.limits.socketsOfAddress ? TOO_MANY : null);
      decide(refused?.message, refused === null);
    },
  });
  // Counted from the websocket on: it need not become a socket of ours.
  io.engine.on('connection', ({ request }: { readonly request: IncomingMessage }) => {
    const address = addressOf(request);
    open.add(address);
    request.socket.once('close', () => open.remove(address));
  });
  const lastSaid = new LastSaid();
  const hub = hubOn(io, lastSaid);
  io.on('connection', (socket) => {
    const device = owners.get(socket.request);
    // It can have been ended while the websocket was on its way.
    if (device === undefined || devices.accessOf(device) === null) socket.disconnect(true);
    else connect(socket, device, limits, parts, hub);
  });
  devices.listen((device) => {
    for (const socket of pages.of(device)) io.sockets.sockets.get(socket)?.disconnect(true);
  });
  tellScreens(parts, hub);
  return {
    tellDesks: (changed) => hub.tell(['desk'], 'changed', changed),
    // Cut off rather than told to go: a page that was told to go would not come back by itself.
    cutOff: () => {
      lastSaid.end();
      io.engine.close();
    },
  };
}

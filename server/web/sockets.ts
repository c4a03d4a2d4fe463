import type { Server as HttpServer } from 'node:http';
import { Server, type Socket } from 'socket.io';
import type { Changed } from '../../shared-types/wire/from-server.ts';
import { MOST_MESSAGE_BYTES } from '../../shared-types/wire/protocol.ts';
import { DoorKeeper } from './hosts.ts';
import { ASKED, type Hub, ScreenConnection, tellScreens } from './screen-connection.ts';
import type { WebParts } from './web-parts.ts';

/** Hears a socket out. */
function connect(socket: Socket, parts: WebParts, hub: Hub): void {
  const connection = new ScreenConnection(socket.id, parts, hub);
  for (const asked of ASKED) {
    socket.on(asked, (message: unknown, acknowledge: unknown) => {
      const answer = connection.answer(asked, message);
      if (typeof acknowledge === 'function') acknowledge(answer);
    });
  }
  socket.on('disconnect', (reason) => connection.ended(reason));
}

/** Socket.io's rooms are the roles. */
const hubOn = (io: Server): Hub => ({
  join: (connection, role) => void io.sockets.sockets.get(connection)?.join(role),
  leave: (connection, role) => void io.sockets.sockets.get(connection)?.leave(role),
  tell: (roles, event, payload) => void io.to([...roles]).emit(event, payload),
  tellOne: (connection, event, payload) => void io.sockets.sockets.get(connection)?.emit(event, payload),
});

export interface Sockets {
  /** Tells all desks that something of theirs has been changed. */
  tellDesks(changed: Changed): void;
  /** Cuts them all off. */
  cutOff(): void;
}

/** Attaches the screens' sockets to the web server. */
export function attachSockets(httpServer: HttpServer, parts: WebParts): Sockets {
  const door = new DoorKeeper(parts.allowedHosts);
  const io = new Server(httpServer, {
    transports: ['websocket'],
    serveClient: false,
    perMessageDeflate: false,
    pingInterval: 3000,
    pingTimeout: 4000,
    maxHttpBufferSize: MOST_MESSAGE_BYTES,
    // A browser lets any page open a websocket to any server: the check is ours to make.
    allowRequest: ({ headers }, decide) => {
      const refused = door.wrongHost(headers) ?? door.wrongOrigin(headers);
      decide(refused?.message, refused === null);
    },
  });
  const hub = hubOn(io);
  io.on('connection', (socket) => connect(socket, parts, hub));
  tellScreens(parts, hub);
  return {
    tellDesks: (changed) => hub.tell(['desk'], 'changed', changed),
    // Cut off rather than told to go: a page that was told to go would not come back by itself.
    cutOff: () => {
      io.engine.close();
    },
  };
}

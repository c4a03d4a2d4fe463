import type { Server as HttpServer } from 'node:http';
import { Server, type Socket } from 'socket.io';
import type { z } from 'zod';
import { type Answer, commandSchema } from '../../shared-types/commands.ts';
import { type MarkCommand, markCommandSchema } from '../../shared-types/marks.ts';
import { helloSchema, statusSchema, syncAskSchema } from '../../shared-types/wire/from-screen.ts';
import type { Failure, HelloAnswer, SyncAnswer } from '../../shared-types/wire/from-server.ts';
import { MOST_MESSAGE_BYTES, PROTOCOL, ROLES } from '../../shared-types/wire/protocol.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { read } from './answers.ts';
import { DoorKeeper } from './hosts.ts';
import type { WebParts } from './web-parts.ts';

const SERVER_ERROR = failure('server-error', 'The server failed at this; its log says why.');
const WALL_ONLY_SHOWS = failure('not-allowed', 'A wall only shows; use a deck or a desk.');
const SAY_HELLO = failure('not-allowed', 'A screen says hello before anything else.', { fix: 'Reload the page.' });

function protocolFailure(offered: readonly number[]): KnownFailure {
  const newer = offered.length > 0 && offered.every((version) => version > PROTOCOL);
  return newer
    ? failure('page-too-new', 'This page is newer than the server.', { fix: 'Start the newer Farwall, then reload.' })
    : failure('page-too-old', 'This page is older than the server.', { fix: 'Reload the page.' });
}

/** One screen's connection. Whatever it sends, the worst it gets is a failure for an answer. */
class ScreenSocket {
  readonly #socket: Socket;
  readonly #parts: WebParts;
  readonly #tellScreens: () => void;

  constructor(socket: Socket, parts: WebParts, tellScreens: () => void) {
    this.#socket = socket;
    this.#parts = parts;
    this.#tellScreens = tellScreens;
    this.#answer('sync', syncAskSchema, () => this.#sync());
    this.#answer('hello', helloSchema, (hello) => this.#hello(hello));
    this.#answer('status', statusSchema, (status) => this.#status(status));
    this.#answer('command', commandSchema, (command) => this.#command(command));
    this.#answer('mark', markCommandSchema, (command) => this.#mark(command));
    socket.on('disconnect', (reason) => {
      const { role = null, device = null } = parts.screens.of(socket.id) ?? {};
      parts.note({ what: 'disconnected', role, device, reason });
      parts.screens.leave(socket.id);
      tellScreens();
    });
  }

  #answer<S extends z.ZodType>(event: string, schema: S, handle: (message: z.infer<S>) => unknown): void {
    this.#socket.on(event, (message: unknown, acknowledge: unknown) => {
      const reply = typeof acknowledge === 'function' ? acknowledge : () => {};
      const said = read(schema, message, 'bad-message');
      try {
        reply(said.ok ? handle(said.value) : said);
      } catch (error) {
        this.#parts.log(error);
        reply(SERVER_ERROR);
      }
    });
  }

  #sync(): SyncAnswer {
    const receivedAt = this.#parts.clock.now();
    return { receivedAt, answeredAt: this.#parts.clock.now() };
  }

  #hello(hello: z.infer<typeof helloSchema>): HelloAnswer {
    if (!hello.protocols.includes(PROTOCOL)) return protocolFailure(hello.protocols);
    const { screens, keeper, boot, timezone, note } = this.#parts;
    const before = screens.of(this.#socket.id);
    if (before && before.role !== hello.role) void this.#socket.leave(before.role);
    screens.greet(this.#socket.id, hello);
    note({ what: 'connected', role: hello.role, device: hello.device });
    void this.#socket.join(hello.role);
    this.#tellScreens();
    const settings = { timezone, ...keeper.settings() };
    const live = keeper.liveFor(hello.role);
    const markSeq = hello.role === 'wall' || !live.run ? {} : { markSeq: keeper.marks.seqOf(live.run.id) };
    return { ok: true, protocol: PROTOCOL, boot, live, ...markSeq, settings };
  }

  #status(status: z.infer<typeof statusSchema>): { ok: true } | Failure {
    if (!this.#parts.screens.of(this.#socket.id)) return SAY_HELLO;
    this.#parts.screens.report(this.#socket.id, status, this.#parts.clock.now());
    this.#tellScreens();
    return { ok: true };
  }

  #command(command: z.infer<typeof commandSchema>): Answer | Failure {
    const screen = this.#parts.screens.of(this.#socket.id);
    if (!screen) return SAY_HELLO;
    if (screen.role === 'wall') return WALL_ONLY_SHOWS;
    if (screen.device !== command.device) {
      return failure('bad-message', 'The command is from another device than this one.', { place: 'device' });
    }
    return this.#noted(command);
  }

  /** [CMD8] Whoever the mark is from: a page may send what another of the same device left behind. */
  #mark(command: MarkCommand): Answer | Failure {
    const screen = this.#parts.screens.of(this.#socket.id);
    if (!screen) return SAY_HELLO;
    if (screen.role === 'wall') return WALL_ONLY_SHOWS;
    const { clock, keeper, note } = this.#parts;
    const receivedAt = clock.now();
    const answer = keeper.marks.mark(command);
    const tookMs = Math.round((clock.now() - receivedAt) * 1000) / 1000;
    const { kind, id, device } = command;
    note({ what: 'mark', kind, id, device, answer: answer.ok ? answer.seq : answer.code, tookMs });
    return answer;
  }

  #noted(command: z.infer<typeof commandSchema>): Answer {
    const { clock, keeper, note } = this.#parts;
    const receivedAt = clock.now();
    const answer = keeper.command(command);
    note({
      what: 'command',
      kind: command.kind,
      id: command.id,
      device: command.device,
      answer: answer.ok ? answer.seq : answer.code,
      lateMs: Math.round(receivedAt - command.pressedAt),
      tookMs: Math.round((clock.now() - receivedAt) * 1000) / 1000,
    });
    return answer;
  }
}

/** Attaches the screens' sockets to the web server. @returns what cuts them all off */
export function attachSockets(httpServer: HttpServer, parts: WebParts): () => void {
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
  const tellScreens = (): void => {
    io.to(['deck', 'desk']).emit('screens', parts.screens.list());
  };
  io.on('connection', (socket) => new ScreenSocket(socket, parts, tellScreens));
  parts.keeper.listen((news) => {
    if (news.kind === 'event') io.to([...ROLES]).emit('event', news.event);
    else for (const role of ROLES) io.to(role).emit('run', parts.keeper.liveFor(role));
  });
  parts.keeper.marks.listen((event) => {
    io.to(['deck', 'desk']).emit('mark', event);
  });
  // Cut off rather than told to go: a page that was told to go would not come back by itself.
  return () => {
    io.engine.close();
  };
}

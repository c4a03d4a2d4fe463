import type { z } from 'zod';
import { type Answer, commandSchema } from '../../shared-types/commands.ts';
import { type MarkCommand, markCommandSchema } from '../../shared-types/marks.ts';
import { type Access, MESSAGES, mayUse, PAGES } from '../../shared-types/wire/access.ts';
import { type Asked, helloSchema, statusSchema, syncAskSchema } from '../../shared-types/wire/from-screen.ts';
import type { BROADCASTS, Failure, HelloAnswer, SyncAnswer } from '../../shared-types/wire/from-server.ts';
import { PROTOCOL, ROLES, type Role } from '../../shared-types/wire/protocol.ts';
import type { ClockAnchor } from '../clock.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { read } from './answers.ts';
import { NOT_PAIRED, notAllowed } from './guard.ts';
import { IDENTIFY, type WallNews } from './walls.ts';
import type { WebParts } from './web-parts.ts';

/** What carries messages to the screens that are connected. */
export interface Hub {
  /** From now on the connection is told what screens of this role are told. */
  join(connection: string, role: Role): void;
  leave(connection: string, role: Role): void;
  tell(roles: readonly Role[], event: keyof typeof BROADCASTS, payload: unknown): void;
  tellOne(connection: string, event: keyof typeof BROADCASTS, payload: unknown): void;
}

/** What a connection works with. */
export type ConnectionParts = Pick<WebParts, 'keeper' | 'clock' | 'screens' | 'walls' | 'timezone' | 'log' | 'note'>;

const COACHES: readonly Role[] = ['deck', 'desk'];

const SERVER_ERROR = failure('server-error', 'The server failed at this; its log says why.');
const WALL_ONLY_SHOWS = failure('not-allowed', 'A wall only shows; use a deck or a desk.');
const SAY_HELLO = failure('not-allowed', 'A screen says hello before anything else.', { fix: 'Reload the page.' });

/** Tells a pool's clock from one that was taken anew. */
const nameOf = ({ wallMs, monotonicMs }: ClockAnchor): string => `${wallMs} ${monotonicMs}`;

function protocolFailure(offered: readonly number[]): KnownFailure {
  const newer = offered.length > 0 && offered.every((version) => version > PROTOCOL);
  return newer
    ? failure('page-too-new', 'This page is newer than the server.', { fix: 'Start the newer Farwall, then reload.' })
    : failure('page-too-old', 'This page is older than the server.', { fix: 'Reload the page.' });
}

function tellWhoIsThere({ screens, walls }: ConnectionParts, hub: Hub): void {
  hub.tell(COACHES, 'screens', screens.list());
  hub.tell(['desk'], 'walls', walls.list());
}

/** A wall is told what is its own, by whichever of its connections is the one it still has. */
function tellWall({ screens, walls }: ConnectionParts, hub: Hub, { kind, device }: WallNews): void {
  for (const connection of screens.wallSockets(device)) {
    if (kind === 'set') hub.tellOne(connection, 'wall', walls.setUpOf(device));
    else hub.tellOne(connection, 'identify', IDENTIFY);
  }
  if (kind === 'set') hub.tell(['desk'], 'walls', walls.list());
}

/** Has the screens told whatever happens to the run on the wall, its times, and how the walls are set up. */
export function tellScreens(parts: ConnectionParts, hub: Hub): void {
  const { keeper, walls } = parts;
  keeper.listen((news) => {
    if (news.kind === 'event') hub.tell(ROLES, 'event', news.event);
    else for (const role of ROLES) hub.tell([role], 'run', keeper.liveFor(role));
  });
  keeper.marks.listen((event) => hub.tell(COACHES, 'mark', event));
  walls.listen((news) => tellWall(parts, hub, news));
}

/** One screen's connection, by whatever it came. Whatever it sends, the worst it gets is a failure for an answer. */
export class ScreenConnection {
  readonly #id: string;
  readonly #access: () => Access | null;
  readonly #parts: ConnectionParts;
  readonly #hub: Hub;

  /**
   * @param id the connection's own, and the one the hub knows it by
   * @param access what its device may do now; null: it is no longer paired
   */
  constructor(id: string, access: () => Access | null, parts: ConnectionParts, hub: Hub) {
    this.#id = id;
    this.#access = access;
    this.#parts = parts;
    this.#hub = hub;
  }

  /** What a message is to be acknowledged with. Never throws. */
  answer(asked: Asked, message: unknown): unknown {
    try {
      return this.#refusal(MESSAGES[asked]) ?? this.#answer(asked, message);
    } catch (error) {
      this.#parts.log(error);
      return SERVER_ERROR;
    }
  }

  /** The connection is gone, for this reason. */
  ended(reason: string): void {
    const { screens, walls, note } = this.#parts;
    const { role = null, device = null } = screens.of(this.#id) ?? {};
    note({ what: 'disconnected', role, device, reason });
    screens.leave(this.#id);
    if (device !== null && role === 'wall') walls.went(device);
    tellWhoIsThere(this.#parts, this.#hub);
  }

  #refusal(needed: Access): KnownFailure | null {
    const access = this.#access();
    if (mayUse(access, needed)) return null;
    return access === null ? NOT_PAIRED : notAllowed(needed);
  }

  #answer(asked: Asked, message: unknown): unknown {
    switch (asked) {
      case 'sync':
        return answerTo(syncAskSchema, message, () => this.#sync());
      case 'hello':
        return answerTo(helloSchema, message, (hello) => this.#hello(hello));
      case 'status':
        return answerTo(statusSchema, message, (status) => this.#status(status));
      case 'command':
        return answerTo(commandSchema, message, (command) => this.#command(command));
      case 'mark':
        return answerTo(markCommandSchema, message, (command) => this.#mark(command));
    }
  }

  #sync(): SyncAnswer {
    const receivedAt = this.#parts.clock.now();
    return { receivedAt, answeredAt: this.#parts.clock.now() };
  }

  #hello(hello: z.infer<typeof helloSchema>): HelloAnswer {
    const refused = this.#refusal(PAGES[hello.role]);
    if (refused) return refused;
    if (!hello.protocols.includes(PROTOCOL)) return protocolFailure(hello.protocols);
    const { keeper, clock, timezone, note } = this.#parts;
    const wall = this.#greet(hello);
    note({ what: 'connected', role: hello.role, device: hello.device });
    this.#hub.join(this.#id, hello.role);
    tellWhoIsThere(this.#parts, this.#hub);
    const settings = { timezone, ...keeper.settings() };
    const live = keeper.liveFor(hello.role);
    const markSeq = hello.role === 'wall' || !live.run ? {} : { markSeq: keeper.marks.seqOf(live.run.id) };
    return { ok: true, protocol: PROTOCOL, boot: nameOf(clock.anchor), live, ...markSeq, settings, ...wall };
  }

  /** From now on it is among the screens. @returns what a wall is told of itself */
  #greet(hello: z.infer<typeof helloSchema>): Pick<Extract<HelloAnswer, { ok: true }>, 'wall'> {
    const { screens, walls } = this.#parts;
    const before = screens.of(this.#id);
    const wall = hello.role === 'wall' ? { wall: walls.came(hello.device) } : {};
    screens.greet(this.#id, hello);
    if (before && before.role !== hello.role) this.#hub.leave(this.#id, before.role);
    if (before?.role === 'wall' && hello.role !== 'wall') walls.went(before.device);
    return wall;
  }

  #status(status: z.infer<typeof statusSchema>): { ok: true } | Failure {
    const { screens, clock } = this.#parts;
    if (!screens.of(this.#id)) return SAY_HELLO;
    screens.report(this.#id, status, clock.now());
    tellWhoIsThere(this.#parts, this.#hub);
    return { ok: true };
  }

  #command(command: z.infer<typeof commandSchema>): Answer | Failure {
    const screen = this.#parts.screens.of(this.#id);
    if (!screen) return SAY_HELLO;
    if (screen.role === 'wall') return WALL_ONLY_SHOWS;
    if (screen.device !== command.device) {
      return failure('bad-message', 'The command is from another device than this one.', { place: 'device' });
    }
    return this.#noted(command);
  }

  /** [CMD8] Whoever the mark is from: a page may send what another of the same device left behind. */
  #mark(command: MarkCommand): Answer | Failure {
    const screen = this.#parts.screens.of(this.#id);
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

function answerTo<S extends z.ZodType>(schema: S, message: unknown, handle: (read: z.infer<S>) => unknown): unknown {
  const said = read(schema, message, 'bad-message');
  return said.ok ? handle(said.value) : said;
}

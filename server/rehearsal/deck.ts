import { io, type Socket } from 'socket.io-client';
import {
  type CommandId,
  commandIdSchema,
  type DeviceId,
  deviceIdSchema,
  type Instant,
  instant,
} from '../../shared-types/brand.ts';
import { type Answer, answerSchema, type Command, commandSchema } from '../../shared-types/commands.ts';
import { type MarkCommand, markCommandSchema } from '../../shared-types/marks.ts';
import { BROADCASTS, helloAnswerSchema, syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { PROTOCOL } from '../../shared-types/wire/protocol.ts';
import type { RehearsalClock } from './clock.ts';
import type { Press } from './coach.ts';
import { FollowedRun } from './followed-run.ts';
import { type PairedAt, RehearsalError } from './http.ts';

/** How long the server may take to answer, real ms. */
const ANSWER_WITHIN_MS = 10_000;
/** [SYN2] As many exchanges as a page makes in its first second. */
const EXCHANGES = 8;

export interface DeckParts {
  readonly server: PairedAt;
  readonly clock: RehearsalClock;
  readonly newId: () => string;
}

/** What a mark is of. */
export type Marked = Pick<Extract<MarkCommand, { kind: 'mark' }>, 'swimmer' | 'step' | 'pass' | 'distance'>;

/**
 * A deck without its page: its own connection and its own estimate of the pool's clock. It follows the run by what is
 * broadcast, in the order in which it was heard.
 */
export class RehearsalDeck {
  readonly #parts: DeckParts;
  readonly #device: DeviceId;
  #socket: Socket;
  readonly #heard: { readonly name: string; readonly payload: unknown }[] = [];
  #followed: FollowedRun | null = null;
  #offsetMs = 0;
  #isGone = false;

  private constructor(parts: DeckParts) {
    this.#parts = parts;
    this.#device = deviceIdSchema.parse(parts.newId());
    this.#socket = this.#connect();
  }

  #connect(): Socket {
    const { url, headers } = this.#parts.server;
    const options = { transports: ['websocket'], forceNew: true, reconnection: false, extraHeaders: { ...headers } };
    const socket = io(url, options);
    return socket.onAny((name: string, payload: unknown) => this.#heard.push({ name, payload }));
  }

  /**
   * Connects, agrees on the clock and takes up the run on the wall.
   * @throws RehearsalError when nothing is there; Error when the server does not answer
   */
  static async join(parts: DeckParts): Promise<RehearsalDeck> {
    const deck = new RehearsalDeck(parts);
    try {
      await deck.#takeUp();
      return deck;
    } catch (error) {
      deck.leave();
      throw error;
    }
  }

  /** @throws RangeError before the run was taken up: that is a bug */
  get followed(): FollowedRun {
    if (!this.#followed) throw new RangeError('no run has been taken up');
    return this.#followed;
  }

  /** Whether another run is on the wall now, or none. */
  get isGone(): boolean {
    return this.#isGone;
  }

  /** The pool's clock as this deck knows it. */
  now(): Instant {
    return instant(this.#parts.clock.monotonicMs() + this.#offsetMs);
  }

  /** Lets time go by towards an instant; may come back early. */
  towards(at: Instant): Promise<void> {
    return this.#parts.clock.towards(at - this.#offsetMs);
  }

  /** Takes in what has been heard since, in order; of a server that was started again all there is. */
  async takeIn(): Promise<void> {
    if (this.#followed && this.#socket.disconnected) await this.#rejoin();
    for (let said = this.#heard.shift(); said; said = this.#heard.shift()) await this.#take(said.name, said.payload);
  }

  /** [CMD4] Presses a button now. */
  async press(press: Press): Promise<Answer> {
    const { id: run, seq: basedOnSeq } = this.followed.run;
    const pressedAt = Math.round(this.now());
    const base = { id: this.#newCommand(), device: this.#device, run, basedOnSeq, pressedAt };
    const command: Command = commandSchema.parse({ ...press, ...base });
    return answerSchema.parse(await this.#ask('command', command));
  }

  /** [CMD5] Takes a time. @param pressedAt the press's own instant */
  async mark({ swimmer, step, pass, distance }: Marked, pressedAt: Instant): Promise<Answer> {
    const of = { swimmer, step, pass, distance, pressedAt };
    const base = { id: this.#newCommand(), device: this.#device, run: this.followed.run.id };
    const command: MarkCommand = markCommandSchema.parse({ kind: 'mark', ...base, ...of });
    return answerSchema.parse(await this.#ask('mark', command));
  }

  leave(): void {
    this.#socket.disconnect();
  }

  #newCommand(): CommandId {
    return commandIdSchema.parse(this.#parts.newId());
  }

  /** [CMD1] Asks again when the server was started again meanwhile: what it has done already it does not do twice. */
  async #ask(event: string, payload: unknown): Promise<unknown> {
    try {
      return await this.#emit(event, payload);
    } catch (error) {
      if (this.#socket.connected || !this.#followed) throw error;
      await this.#rejoin();
      return await this.#emit(event, payload);
    }
  }

  #emit(event: string, payload: unknown): Promise<unknown> {
    return this.#socket.timeout(ANSWER_WITHIN_MS).emitWithAck(event, payload);
  }

  async #rejoin(): Promise<void> {
    this.#followed = null;
    this.#heard.length = 0;
    this.#socket = this.#connect();
    await this.#takeUp();
  }

  async #takeUp(): Promise<void> {
    const hello = { protocols: [PROTOCOL], role: 'deck', device: this.#device };
    const answer = helloAnswerSchema.parse(await this.#ask('hello', hello));
    if (!answer.ok) throw new RehearsalError(answer.message);
    if (!answer.live.run) throw new RehearsalError('Nothing is on the wall.');
    await this.#sync();
    this.#followed = await FollowedRun.takenUp(this.#parts.server, answer.live.run);
  }

  /** [SYN1] θ of the exchange that took least (RFC 5905 §8). Deck and server read the same machine: nothing drifts. */
  async #sync(): Promise<void> {
    let leastMs = Number.POSITIVE_INFINITY;
    for (let exchange = 0; exchange < EXCHANGES; exchange += 1) {
      const askedAt = this.#parts.clock.monotonicMs();
      const { receivedAt, answeredAt } = syncAnswerSchema.parse(await this.#ask('sync', { askedAt }));
      const heardAt = this.#parts.clock.monotonicMs();
      const delayMs = heardAt - askedAt - (answeredAt - receivedAt);
      if (delayMs >= leastMs) continue;
      leastMs = delayMs;
      this.#offsetMs = (receivedAt - askedAt + (answeredAt - heardAt)) / 2;
    }
  }

  async #take(name: string, payload: unknown): Promise<void> {
    const { id } = this.followed.run;
    switch (name) {
      case 'event': {
        const event = BROADCASTS.event.parse(payload);
        if (event.run === id) await this.followed.happened(event);
        return;
      }
      case 'mark': {
        const event = BROADCASTS.mark.parse(payload);
        if (event.run === id) this.followed.marked(event);
        return;
      }
      case 'run':
        this.#isGone = BROADCASTS.run.parse(payload).run?.id !== id;
    }
  }
}

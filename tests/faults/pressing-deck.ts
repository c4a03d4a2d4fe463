import { randomId } from '../../server/ids.ts';
import { commandIdSchema } from '../../shared-types/brand.ts';
import { type Answer, answerSchema, type Command, commandSchema } from '../../shared-types/commands.ts';
import { type Run, runEventSchema } from '../../shared-types/events.ts';
import { foldEvent } from '../../shared-types/fold.ts';
import { type MarkCommand, type MarkEvent, markCommandSchema, markEventSchema } from '../../shared-types/marks.ts';
import { syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import type { Without } from '../../shared-types/without.ts';
import { type Press, TestScreen } from '../fixtures/running-server.ts';

/** A press or a time, and what the server said to it. */
export type Answered = { readonly answer: Answer } & (
  | { readonly event: 'command'; readonly command: Command }
  | { readonly event: 'mark'; readonly command: MarkCommand }
);

/** A mark or a repair without what the deck itself adds. */
export type Marking = Without<MarkCommand, 'id' | 'device' | 'run' | 'pressedAt'>;

/** A deck that presses as fast as it is answered, and follows the run by the events it hears. */
export class PressingDeck {
  readonly screen: TestScreen;
  /** What it was told of marks. */
  readonly marksHeard: MarkEvent[] = [];
  /** The run as this deck has seen it last. */
  run: Run;
  /** What the pool's clock is ahead of ours, ms. */
  readonly #aheadMs: number;

  private constructor(screen: TestScreen, run: Run, aheadMs: number) {
    this.screen = screen;
    this.run = run;
    this.#aheadMs = aheadMs;
    screen.socket.on('event', (event) => {
      this.run = foldEvent(this.run, runEventSchema.parse(event));
    });
    screen.socket.on('mark', (event) => this.marksHeard.push(markEventSchema.parse(event)));
  }

  static async on(url: string): Promise<PressingDeck> {
    const screen = new TestScreen(url, 'deck');
    const hello = await screen.hello();
    if (!hello.ok || !hello.live.run) throw new Error('nothing is on the wall');
    const { answeredAt } = syncAnswerSchema.parse(await screen.ask('sync', { askedAt: 0 }));
    return new PressingDeck(screen, hello.live.run, answeredAt - performance.now());
  }

  /** @returns the command with its answer, or null when the server was gone before it came */
  async press(press: Press, earlierMs = 0): Promise<Answered | null> {
    const command = commandSchema.parse(this.screen.command(press, this.run, this.#now() - earlierMs));
    const answer = await this.screen.ask('command', command).catch(() => null);
    return answer === null ? null : { event: 'command', command, answer: answerSchema.parse(answer) };
  }

  /** @returns the time with its answer, or null when the server was gone before it came */
  async mark(marking: Marking): Promise<Answered | null> {
    const { device } = this.screen;
    const own = { id: commandIdSchema.parse(randomId()), device, run: this.run.id, pressedAt: Math.round(this.#now()) };
    const command = markCommandSchema.parse({ ...marking, ...own });
    const answer = await this.screen.ask('mark', command).catch(() => null);
    return answer === null ? null : { event: 'mark', command, answer: answerSchema.parse(answer) };
  }

  /** What the server answers to what was sent over an earlier connection. */
  askAgain({ event, command }: Answered): Promise<unknown> {
    // Marks may be sent by another page than the one they were taken on; presses not.
    return this.screen.ask(event, event === 'mark' ? command : { ...command, device: this.screen.device });
  }

  #now(): number {
    return performance.now() + this.#aheadMs;
  }
}

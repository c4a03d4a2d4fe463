import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { onTestFinished } from 'vitest';
import { z } from 'zod';
import type { Tone } from '../../shared-types/board/tones.ts';

const toldSchema = z.discriminatedUnion('what', [
  z.object({ what: z.literal('opened') }),
  z.object({ what: z.literal('state'), state: z.string() }),
  z.object({
    what: z.literal('start'),
    oscillator: z.number(),
    hertz: z.number(),
    when: z.number(),
    toPageMs: z.number(),
  }),
  z.object({ what: z.literal('stop'), oscillator: z.number(), when: z.number() }),
  z.object({ what: z.literal('asks for a press'), asks: z.boolean() }),
]);
type Told = z.infer<typeof toldSchema>;

const SAID = 'sound: ';

/**
 * Has a page say on its console what it does with sound. Not by asking it: with a page, every question of ours counts as
 * a press of its user, after which it may sound.
 */
function sayWhatSounds(said: string): void {
  const say = (told: object): void => console.debug(said + JSON.stringify(told));
  const numbers = new Map<OscillatorNode, number>();
  const numberOf = (oscillator: OscillatorNode): number => {
    const number = numbers.get(oscillator) ?? numbers.size + 1;
    numbers.set(oscillator, number);
    return number;
  };
  const toPageMs = ({ context }: OscillatorNode): number => {
    if (!(context instanceof AudioContext)) return 0;
    const { contextTime = 0, performanceTime = 0 } = context.getOutputTimestamp();
    return performanceTime - contextTime * 1000;
  };
  const { start, stop } = OscillatorNode.prototype;
  OscillatorNode.prototype.start = function (this: OscillatorNode, when = 0): void {
    say({ what: 'start', oscillator: numberOf(this), hertz: this.frequency.value, when, toPageMs: toPageMs(this) });
    start.call(this, when);
  };
  OscillatorNode.prototype.stop = function (this: OscillatorNode, when = 0): void {
    say({ what: 'stop', oscillator: numberOf(this), when });
    stop.call(this, when);
  };
  window.AudioContext = class extends AudioContext {
    constructor(options?: AudioContextOptions) {
      super(options);
      say({ what: 'opened' });
      this.addEventListener('statechange', () => say({ what: 'state', state: this.state }));
    }
  };
  let asks = false;
  const words = new MutationObserver(() => {
    const asksNow = document.body?.textContent?.includes('press once for sound') ?? false;
    if (asksNow !== asks) say({ what: 'asks for a press', asks: asksNow });
    asks = asksNow;
  });
  words.observe(document, { subtree: true, childList: true, characterData: true });
}

/** A tone of a wall that was not taken back before it began. */
interface Scheduled {
  readonly kind: Tone['kind'];
  /** When the loudspeaker gives it, ms on the page's clock, by what the output reported as it was handed over. */
  readonly heardAt: number;
}

/** A wall whose sound is listened to. */
export class HeardWall {
  readonly page: Page;
  readonly #told: Told[] = [];

  private constructor(page: Page) {
    this.page = page;
    page.on('console', (message) => {
      const text = message.text();
      if (text.startsWith(SAID)) this.#told.push(toldSchema.parse(JSON.parse(text.slice(SAID.length))));
    });
  }

  static async on(browser: Browser, address: string, options: BrowserContextOptions = {}): Promise<HeardWall> {
    const context = await browser.newContext({ viewport: { width: 640, height: 360 }, ...options });
    onTestFinished(() => context.close());
    const page = await context.newPage();
    const wall = new HeardWall(page);
    await page.addInitScript(sayWhatSounds, SAID);
    await page.goto(address);
    return wall;
  }

  get opened(): number {
    return this.#told.filter(({ what }) => what === 'opened').length;
  }

  get state(): string {
    return this.#told.reduce((state, told) => (told.what === 'state' ? told.state : state), 'suspended');
  }

  get asksForPress(): boolean {
    return this.#told.reduce((asks, told) => (told.what === 'asks for a press' ? told.asks : asks), false);
  }

  /** Of its clock's error. */
  async boundMs(): Promise<number> {
    const bound = await this.page.getAttribute('[data-board]', 'data-sync-ms');
    if (!bound) throw new Error('the wall does not know the clock of the pool');
    return Number(bound);
  }

  /** Tones in order of their start; what never stops is no tone. */
  get tones(): Scheduled[] {
    return this.#starts('sounds')
      .map(({ hertz, when, toPageMs }): Scheduled => {
        return { kind: hertz > 1000 ? 'long' : 'short', heardAt: when * 1000 + toPageMs };
      })
      .toSorted((a, b) => a.heardAt - b.heardAt);
  }

  get takenBack(): number {
    return this.#starts('taken back').length;
  }

  #starts(fate: 'sounds' | 'taken back'): Extract<Told, { what: 'start' }>[] {
    return this.#told.flatMap((told) => {
      if (told.what !== 'start') return [];
      const stops = this.#told.flatMap((other) =>
        other.what === 'stop' && other.oscillator === told.oscillator ? [other.when] : [],
      );
      const stopsAt = stops.at(-1);
      if (stopsAt === undefined) return [];
      return (stopsAt > told.when ? 'sounds' : 'taken back') === fate ? [told] : [];
    });
  }
}

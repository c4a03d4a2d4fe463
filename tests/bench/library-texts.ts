import type { Style } from '../../shared-types/practice.ts';

/** Practices as coaches write them, drawn by chance: of every style, in all strokes, short and long. All invented. */

const STROKES = ['free', 'back', 'breast', 'fly', 'IM'] as const;
const DAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'] as const;
const NOTES = [
  'tall hips, quiet head',
  'hold the number, not the swimmer in front',
  'count strokes on the odd ones',
  'five good strokes off every wall',
  'nobody breathes under the flags',
] as const;

/** Draws from what there is by numbers from 0 up to 1. */
class Draw {
  readonly #random: () => number;

  constructor(random: () => number) {
    this.#random = random;
  }

  /** A whole number from one up to another and it. */
  between(from: number, to: number): number {
    return from + Math.floor(this.#random() * (to - from + 1));
  }

  one<T>(things: readonly [T, ...T[]]): T {
    return things[this.between(0, things.length - 1)] ?? things[0];
  }

  /** Whether it is so, which it is at this share of all times. */
  isSo(share: number): boolean {
    return this.#random() < share;
  }
}

const STEP_S = 5;
const GROUPS = [1, 1.1, 1.2];

/** `1:10/1:20/1:25`: so many seconds for 50 in pace group A, more in the others. */
const sendOffs = (distance: number, secondsFor50: number): string =>
  GROUPS.map((share) => {
    const seconds = Math.ceil((distance * secondsFor50 * share) / 50 / STEP_S) * STEP_S;
    return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
  }).join('/');

type Line = (draw: Draw) => string;

/** A main set of each style. */
const MAIN: Readonly<Record<Style, Line>> = {
  'race pace': (draw) => {
    const distance = draw.one([25, 50, 75]);
    return `${draw.between(6, 16)} x ${distance} ${draw.one(STROKES)} @ ${sendOffs(distance, 75)} at ${draw.one([100, 200])} pace`;
  },
  'active rest': (draw) => {
    const [paced, easy] = draw.one([
      [50, 50],
      [25, 50],
    ]);
    return `${draw.between(6, 12)} x ${paced + easy} free @ ${sendOffs(paced + easy, 65)} (${paced} at 200 pace, ${easy} easy)`;
  },
  'best average': (draw) => {
    const distance = draw.one([50, 100]);
    return `${draw.between(6, 16)} x ${distance} ${draw.one(['free', 'back', 'breast'])} @ ${sendOffs(distance, 90)} best average`;
  },
  'stand-up': (draw) => `${draw.between(2, 5)} x ${draw.one([50, 100])} free from a dive max @ 8:00`,
  power: (draw) => `${draw.between(6, 14)} x 25 ${draw.one(['free', 'fly'])} max with parachute @ ${sendOffs(25, 120)}`,
  threshold: (draw) => {
    const distance = draw.one([100, 200, 400]);
    return `${draw.between(3, 8)} x ${distance} free @ ${sendOffs(distance, 52)} at threshold`;
  },
  aerobic: (draw) => {
    const distance = draw.one([200, 300, 400]);
    return `${draw.between(2, 4)} x ${distance} ${draw.one(['free', 'free pull', 'choice'])} easy @ ${sendOffs(distance, 60)}`;
  },
  skills: (draw) => `${draw.between(6, 12)} x 50 ${draw.one(['drill', 'kick'])} @ ${sendOffs(50, 75)} with fins`,
};

const STYLES_DRAWN = Object.keys(MAIN) as [Style, ...Style[]];

function mainPart(draw: Draw, number: number): string {
  const style = draw.one(STYLES_DRAWN);
  const lines = [MAIN[style](draw), ...(draw.isSo(0.3) ? [`-- ${draw.one(NOTES)}`] : [])];
  const rounds = draw.isSo(0.25) ? `2 rounds, ${draw.one([':30', '1:00', '2:00'])} between:\n  ` : '';
  return `Part ${number}: ${style}\n${rounds}${lines.join('\n')}\n`;
}

/** With a send-off, so that nobody has to let them go on. */
const easySwim = (distance: number, stroke: string): string => `${distance} ${stroke} easy @ ${sendOffs(distance, 60)}`;

/** @param number what tells it from others in its title */
export function libraryText(number: number, random: () => number): string {
  const draw = new Draw(random);
  const parts = Array.from({ length: draw.between(1, 4) }, (_, place) => mainPart(draw, place + 1));
  return [
    `# ${draw.one(DAYS)} ${number}\n`,
    `Warm-up\n${easySwim(draw.between(2, 6) * 100, 'free')}\n${draw.between(4, 8)} x 50 choice smooth @ ${sendOffs(50, 70)}\n`,
    ...parts,
    `Swim down\n${easySwim(draw.between(2, 4) * 100, 'choice')}\n`,
  ].join('\n');
}

/** The same practice as somebody has gone on with it. */
export const goneOnWith = (text: string, version: number): string =>
  `${text}\nMore\n${version} x 100 ${STROKES[version % STROKES.length]} easy @ 2:30\n`;

import {
  type Color,
  converter,
  differenceEuclidean,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  filterDeficiencyTrit,
  wcagContrast,
} from 'culori';
import { describe, expect, it } from 'vitest';
import { type ColourRole, PALETTE } from '../../client/common/palette.ts';

/**
 * The palette against a reference library: culori 4.0.2. Its simulations of colour vision are those of Machado,
 * Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency", 2009.
 */

/** Colours that tell what a lane is doing: one must never be taken for another. */
const STATES = ['leave', 'swim', 'easy', 'rest', 'gate', 'held', 'warn'] as const satisfies readonly ColourRole[];
const GROUNDS = ['ink', 'well'] as const satisfies readonly ColourRole[];
const WRITING: readonly ColourRole[] = ['paper', 'quiet', ...STATES];

const SEVERE = 1;
const asSeen: Readonly<Record<string, (colour: Color) => Color>> = {
  normal: (colour) => colour,
  protan: filterDeficiencyProt(SEVERE),
  deutan: filterDeficiencyDeuter(SEVERE),
  tritan: filterDeficiencyTrit(SEVERE),
};

/** The least difference in OKLab; the just noticeable one is about 0.02 (Ottosson 2020, from memory). */
const LEAST_DIFFERENCE = 0.07;

const difference = differenceEuclidean('oklab');
const toOklab = converter('oklab');
const rgb = converter('rgb');

/** @throws Error when the palette holds what is no colour */
function colourOf(role: ColourRole): Color {
  const colour = rgb(PALETTE[role]);
  if (!colour) throw new Error(`${role} is no colour`);
  return colour;
}

describe('the palette', () => {
  it('contrasts 7:1 or better, writing on every ground and the ground on every state (WCAG 2.2, 1.4.6)', () => {
    for (const ground of GROUNDS) {
      for (const colour of WRITING) {
        expect(wcagContrast(PALETTE[colour], PALETTE[ground]), `${colour} on ${ground}`).toBeGreaterThanOrEqual(7);
      }
    }
  });

  it.each(Object.keys(asSeen))('has states that %s vision tells from one another', (vision) => {
    const see = asSeen[vision] ?? ((colour) => colour);
    const seen = STATES.map((state) => ({ state, colour: see(colourOf(state)) }));
    for (const [place, one] of seen.entries()) {
      for (const other of seen.slice(place + 1)) {
        const pair = `${one.state} and ${other.state}`;
        expect(difference(one.colour, other.colour), pair).toBeGreaterThanOrEqual(LEAST_DIFFERENCE);
      }
    }
  });

  it('is light writing on a dark ground in every vision', () => {
    for (const [vision, see] of Object.entries(asSeen)) {
      const lightness = (role: ColourRole): number => toOklab(see(colourOf(role))).l;
      for (const ground of GROUNDS) expect(lightness(ground), `${ground}, ${vision}`).toBeLessThan(0.3);
      for (const colour of STATES) expect(lightness(colour), `${colour}, ${vision}`).toBeGreaterThan(0.6);
    }
  });
});

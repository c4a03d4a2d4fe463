import fc from 'fast-check';
import type { Squad } from '../../shared-types/squad.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { randomPractice } from '../fixtures/random-practices.ts';
import { walkText } from '../fixtures/slow-walk.ts';

/** Nine swimmers in three lanes, a pace group each; the last of each lane has no times. */
export const SQUAD: Squad = {
  swimmers: [
    swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00', '58.00'), best('200 fly', '2:12.00')]),
    swimmer('Dora Quell', 1, 'A', [best('200 free', '2:04.00')]),
    swimmer('Ewan Marsh', 1, 'A', []),
    swimmer('Bela Sorn', 2, 'B', [best('200 free', '2:10.00')]),
    swimmer('Fenn Ostler', 2, 'B', [best('200 free', '2:13.00')]),
    swimmer('Gila Torr', 2, 'B', []),
    swimmer('Cato Lind', 3, 'C', [best('200 free', '2:20.00')]),
    swimmer('Hale Brisk', 3, 'C', [best('200 free', '2:24.00')]),
    swimmer('Ines Calder', 3, 'C', []),
  ],
};

const TEXTS = [
  `Warm-up
200 choice easy
4 x 50 free @ 1:00/1:05/1:10

Main set: race pace
3 rounds together, :30 between:
  4 x 50 free @ :50/:55/1:00 at 200 pace
  100 choice easy @ 2:00
wait
4 x 25 free max on go
together
4 x 50 back @ 1:00

Swim down
200 choice easy
`,
  `Warm-up
4 x 50 choice easy @ 1:10
wait

Main set: stand-up
3 x 50 free from a dive max @ 2:30 :20 apart
A:
  3 x 25 fly from a dive on go by heat max
B, C:
  6 x 50 back @ 1:10/1:20
together
4/3/3 x 100 free @ 1:45/1:55/2:05
wait
2 x (4 x 25 free @ :40 + 100 @ 2:00)
`,
  `Main set
8 x 50 free on go
1:00 rest
lanes 1-2:
  6 x 100 free @ 1:30/1:40 at 90% of 200 pace
lanes 3:
  8 x 50 kick @ 1:10
wait
12 x 25 free @ :35/:40/:45 descend 1-4
10 x :30 kick @ 1:00
`,
] as const;

/** Every other one is drawn, small, with rounds, blocks, joins and gates; the others are those above. */
export function drawnText(random: () => number): string {
  if (random() < 0.5) return TEXTS[Math.floor(random() * TEXTS.length)] ?? TEXTS[0];
  const [practice = []] = fc.sample(randomPractice, { numRuns: 1, seed: Math.floor(random() * 2 ** 31) });
  return walkText(practice);
}

/** An hour and a half of everything, for long runs. */
export const LONG_TEXT = `Warm-up
400 choice easy
8 x 50 free @ 1:00/1:05/1:10

Main set: race pace
6 rounds together, 1:00 between:
  6 x 50 free @ :50/:55/1:00 at 200 pace
  100 choice easy @ 2:20
wait
8 x 25 free max on go
together
10 x 100 free @ 1:45/1:55/2:05
wait
20 x 25 free @ :40/:45/:50

Swim down
200 choice easy
`;

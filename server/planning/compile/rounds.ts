/** Which round of which rounds a line is in; 0 where it is in none. */
export interface Rounds {
  readonly outer: number;
  readonly outers: number;
  readonly round: number;
  readonly rounds: number;
}

export const NO_ROUNDS: Rounds = { outer: 0, outers: 0, round: 0, rounds: 0 };

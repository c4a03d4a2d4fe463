/** Numbers from 0 up to 1 that only depend on the seed: a linear congruential generator (Numerical Recipes' constants). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** The same things in an order that only depends on the numbers drawn (Fisher and Yates). */
export function shuffled<T>(things: readonly T[], random: () => number): T[] {
  const left = [...things];
  return things.flatMap(() => left.splice(Math.floor(random() * left.length), 1));
}

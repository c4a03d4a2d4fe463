import { batch, type ReadonlySignal, signal } from '@preact/signals';

/** Of questions that are asked again before they are answered only the newest answer counts. */
export interface Newest {
  /** Whether an answer is waited for. */
  readonly isBehind: ReadonlySignal<boolean>;
  /** Hands over an answer, all of it at once, unless another was asked for or wanted no more meanwhile. */
  take<T>(asking: Promise<T>, taken: (answer: T) => void): Promise<void>;
  /** What is on its way is wanted no more. */
  drop(): void;
}

export function createNewest(): Newest {
  const isBehind = signal(false);
  let asked = 0;
  return {
    isBehind,
    take: async (asking, taken) => {
      asked += 1;
      const mine = asked;
      isBehind.value = true;
      const answer = await asking;
      if (mine !== asked) return;
      batch(() => {
        isBehind.value = false;
        taken(answer);
      });
    },
    drop: () => {
      asked += 1;
      isBehind.value = false;
    },
  };
}

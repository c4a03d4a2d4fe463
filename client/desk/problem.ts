import type { Failed } from './desk-server.ts';

/** Something that went wrong, in words for the coach. */
export interface Problem {
  readonly message: string;
  readonly fix?: string;
}

export function problemOf(failure: Failed): Problem {
  const message = failure.place ? `${failure.place}: ${failure.message}` : failure.message;
  return failure.fix === undefined ? { message } : { message, fix: failure.fix };
}

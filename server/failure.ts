import type { Failure } from '../shared-types/wire/from-server.ts';

/** What kinds of failure there are, with the HTTP status of each. */
export const STATUS_OF = {
  'bad-request': 400,
  'bad-message': 400,
  'not-paired': 401,
  'wrong-code': 403,
  'wrong-host': 403,
  'wrong-origin': 403,
  'not-allowed': 403,
  'not-found': 404,
  'no-such-practice': 404,
  'no-such-run': 404,
  'no-such-set': 404,
  'no-such-sheet': 404,
  'no-such-swimmer': 404,
  'no-such-wall': 404,
  'no-such-device': 404,
  'saved-in-between': 409,
  'planned-in-between': 409,
  'loaded-in-between': 409,
  'nothing-to-undo': 409,
  'no-demo': 409,
  'still-running': 409,
  'not-empty': 409,
  'not-connected': 409,
  'not-on-offer': 409,
  'too-many-devices': 409,
  'too-large': 413,
  'wrong-kind': 415,
  'practice-has-errors': 422,
  'squad-has-errors': 422,
  'not-a-load': 422,
  'no-lanes': 422,
  'deleted-for-good': 409,
  'name-is-taken': 409,
  'library-is-full': 422,
  'plan-is-full': 422,
  'too-many-versions': 422,
  'squad-is-full': 422,
  'no-such-lane': 422,
  'lane-too-full': 422,
  'page-too-old': 426,
  'page-too-new': 426,
  'too-many-tries': 429,
  'too-fast': 429,
  'server-error': 500,
  'not-stored': 507,
  'pages-not-built': 503,
} as const;
export type FailureCode = keyof typeof STATUS_OF;

export interface KnownFailure extends Failure {
  readonly code: FailureCode;
}

type Details = Pick<Failure, 'place' | 'fix'>;

/** @param message one plain sentence */
export const failure = (code: FailureCode, message: string, details: Details = {}): KnownFailure => ({
  ok: false,
  code,
  message,
  ...details,
});

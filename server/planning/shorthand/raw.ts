import type { IToken } from 'chevrotain';

/**
 * What the grammar makes of a line: the line's own tokens, sorted by what they belong to. Nothing is checked or
 * converted yet, so that every value that turns out wrong still knows its place.
 */
export type RawItem = RawSet | RawRounds | RawRest | RawSign;

interface RawRest {
  readonly kind: 'rest';
  readonly first: IToken;
  readonly time: IToken;
}

interface RawSign {
  readonly kind: 'wait' | 'together';
  readonly first: IToken;
}

export interface RawRounds {
  readonly kind: 'rounds';
  readonly first: IToken;
  readonly counts: readonly IToken[];
  /** Absent: the head of a block, its lines follow. */
  readonly inline?: readonly RawItem[];
  readonly options: readonly RawRoundsOption[];
}

export type RawRoundsOption =
  | { readonly what: 'together'; readonly token: IToken }
  | { readonly what: 'between'; readonly token: IToken };

export interface RawSet {
  readonly kind: 'set';
  readonly first: IToken;
  /** Empty when the line starts with its distance. */
  readonly counts: readonly IToken[];
  readonly size: IToken;
  readonly clauses: readonly RawClause[];
}

export interface RawRace {
  readonly own: IToken | undefined;
  readonly distance: IToken;
  readonly stroke: IToken | undefined;
  readonly part: IToken | undefined;
}

export type RawEffort =
  | { readonly kind: 'feel'; readonly token: IToken }
  | { readonly kind: 'best average' }
  | { readonly kind: 'descend'; readonly from?: IToken; readonly to?: IToken }
  | { readonly kind: 'threshold'; readonly plus: IToken | undefined }
  | { readonly kind: 'pace'; readonly percent: IToken | undefined; readonly race: RawRace }
  | {
      readonly kind: 'ramp';
      readonly from: IToken;
      readonly to: IToken;
      readonly race: RawRace;
      readonly by: IToken;
    }
  | { readonly kind: 'hold'; readonly times: readonly IToken[]; readonly per: IToken | undefined }
  | { readonly kind: 'alternate'; readonly odds: RawEffort; readonly evens: RawEffort };

export interface RawPiece {
  readonly name: IToken;
  readonly mass: IToken | undefined;
  readonly unit: IToken | undefined;
}

export interface RawPart {
  readonly distance: IToken;
  readonly clauses: readonly RawClause[];
}

export type RawClauseBody =
  | { readonly what: 'stroke'; readonly token: IToken; readonly order: IToken | undefined }
  | { readonly what: 'activity'; readonly token: IToken }
  | { readonly what: 'start' }
  | { readonly what: 'equipment'; readonly pieces: readonly RawPiece[] }
  | { readonly what: 'interval'; readonly times: readonly IToken[] }
  | { readonly what: 'dropping'; readonly time: IToken }
  | { readonly what: 'rest'; readonly time: IToken }
  | { readonly what: 'go'; readonly heat: IToken | undefined }
  | { readonly what: 'apart'; readonly time: IToken }
  | { readonly what: 'effort'; readonly effort: RawEffort }
  | { readonly what: 'parts'; readonly parts: readonly RawPart[] }
  | { readonly what: 'finish' };

/** One clause of a set and the tokens it lies between. */
export interface RawClause {
  readonly first: IToken;
  readonly last: IToken;
  readonly body: RawClauseBody;
}

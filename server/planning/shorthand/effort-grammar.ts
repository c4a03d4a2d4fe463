import { EmbeddedActionsParser, type IToken } from 'chevrotain';
import { endOf, isA, TOKEN_TYPES, tokenType as t } from './lexer.ts';
import type { RawClauseBody, RawEffort, RawRace } from './raw.ts';

/** The part of the grammar that says how hard: times, paces and the words for an effort. */
export abstract class EffortGrammar extends EmbeddedActionsParser {
  constructor() {
    super([...TOKEN_TYPES], { recoveryEnabled: false, maxLookahead: 3 });
  }

  /** How many `3 x (` are open around the token being read. */
  protected insideInline = 0;

  readonly time = this.RULE(
    'time',
    (): IToken =>
      this.OR([
        { ALT: () => this.CONSUME(t('Time')) },
        { ALT: () => this.CONSUME(t('Seconds')) },
        { ALT: () => this.CONSUME(t('Number')) },
        { ALT: () => this.CONSUME(t('SlippedTime')) },
      ]),
  );

  readonly times = this.RULE('times', (): IToken[] => {
    const list: IToken[] = [];
    this.AT_LEAST_ONE_SEP({ SEP: t('Slash'), DEF: () => list.push(this.SUBRULE(this.time)) });
    return list;
  });

  readonly racePart = this.RULE(
    'racePart',
    (): IToken => this.OR([{ ALT: () => this.CONSUME(t('RacePart')) }, { ALT: () => this.CONSUME(t('BackHalf')) }]),
  );

  /** `200 pace`, `own 200 pace`, `200 fly back-half pace` */
  readonly race = this.RULE('race', (): RawRace => {
    const own = this.OPTION(() => this.CONSUME(t('Own')));
    const distance = this.CONSUME(t('Number'));
    const stroke = this.OPTION1(() => this.CONSUME(t('Stroke')));
    const part = this.OPTION2(() => this.SUBRULE(this.racePart));
    this.CONSUME(t('Pace'));
    return { own, distance, stroke, part };
  });

  readonly pace = this.RULE('pace', (): RawEffort => {
    const percent = this.OPTION(() => {
      const number = this.CONSUME(t('Number'));
      this.CONSUME(t('Percent'));
      this.CONSUME(t('Of'));
      return number;
    });
    return { kind: 'pace', percent, race: this.SUBRULE(this.race) };
  });

  readonly ramp = this.RULE('ramp', (): RawEffort => {
    const from = this.CONSUME(t('Number'));
    this.OPTION(() => this.CONSUME(t('Percent')));
    this.CONSUME(t('To'));
    const to = this.CONSUME1(t('Number'));
    this.CONSUME1(t('Percent'));
    this.CONSUME(t('Of'));
    const race = this.SUBRULE(this.race);
    this.CONSUME(t('By'));
    const by = this.OR([{ ALT: () => this.CONSUME(t('Rep')) }, { ALT: () => this.CONSUME(t('Round')) }]);
    return { kind: 'ramp', from, to, race, by };
  });

  readonly hold = this.RULE('hold', (): RawEffort => {
    this.CONSUME(t('Hold'));
    const times = this.SUBRULE(this.times);
    const per = this.OPTION(() => {
      this.CONSUME(t('Per'));
      return this.CONSUME(t('Number'));
    });
    return { kind: 'hold', times, per };
  });

  readonly descend = this.RULE('descend', (): RawEffort => {
    this.CONSUME(t('Descend'));
    const over = this.OPTION(() => {
      const from = this.CONSUME(t('Number'));
      this.CONSUME(t('Dash'));
      return { from, to: this.CONSUME1(t('Number')) };
    });
    return { kind: 'descend', ...over };
  });

  /** Inside `3 x (…)` a plus also joins sets: `threshold +3` belongs together, `threshold + 100 easy` does not. */
  private plusBelongsToThreshold(): boolean {
    const [plus, number] = [this.LA(1), this.LA(2)];
    return isA(number, 'Number') && (!this.insideInline || endOf(plus) === number.startOffset);
  }

  readonly threshold = this.RULE('threshold', (): RawEffort => {
    this.CONSUME(t('Threshold'));
    const plus = this.OPTION({
      GATE: () => this.plusBelongsToThreshold(),
      DEF: () => {
        this.CONSUME(t('Plus'));
        return this.CONSUME(t('Number'));
      },
    });
    return { kind: 'threshold', plus };
  });

  readonly bestAverage = this.RULE('bestAverage', (): RawEffort => {
    this.CONSUME(t('Best'));
    this.CONSUME(t('Average'));
    return { kind: 'best average' };
  });

  readonly word = this.RULE(
    'word',
    (): RawEffort =>
      this.OR([
        { ALT: (): RawEffort => ({ kind: 'feel', token: this.CONSUME(t('Feel')) }) },
        { ALT: () => this.SUBRULE(this.bestAverage) },
        { ALT: () => this.SUBRULE(this.descend) },
        { ALT: () => this.SUBRULE(this.threshold) },
      ]),
  );

  /** `at 200 pace`; also `at max`, which coaches say and which can mean only one thing. */
  readonly at = this.RULE('at', (): RawEffort => {
    this.CONSUME(t('Toward'));
    return this.OR([{ ALT: () => this.SUBRULE(this.pace) }, { ALT: () => this.SUBRULE(this.word) }]);
  });

  readonly steadyEffort = this.RULE(
    'steadyEffort',
    (): RawEffort =>
      this.OR([
        { ALT: () => this.SUBRULE(this.word) },
        { ALT: () => this.SUBRULE(this.at) },
        { ALT: () => this.SUBRULE(this.hold) },
      ]),
  );

  readonly alternate = this.RULE('alternate', (): RawEffort => {
    this.CONSUME(t('Odds'));
    const odds = this.SUBRULE(this.steadyEffort);
    this.OPTION(() => this.CONSUME(t('Comma')));
    this.CONSUME(t('Evens'));
    return { kind: 'alternate', odds, evens: this.SUBRULE1(this.steadyEffort) };
  });

  readonly effort = this.RULE(
    'effort',
    (): RawClauseBody => ({
      what: 'effort',
      effort: this.OR([{ ALT: () => this.SUBRULE(this.steadyEffort) }, { ALT: () => this.SUBRULE(this.alternate) }]),
    }),
  );
}

import type { IRecognitionException, IToken, ParserMethod } from 'chevrotain';
import { EffortGrammar } from './effort-grammar.ts';
import { isA, tokenType as t } from './lexer.ts';
import type { RawClause, RawClauseBody, RawItem, RawPart, RawPiece, RawRounds, RawRoundsOption } from './raw.ts';

/** Brackets in brackets that are read at all; one more than the meaning allows, so that it can say so. */
const DEEPEST_READ = 3;

/**
 * The grammar of one line that swims, rests or opens rounds. Each clause is a rule of its own, because the
 * sentence for a line that cannot be read is chosen by the rule it stopped in (explain.ts).
 */
class LineGrammar extends EffortGrammar {
  constructor() {
    super();
    this.performSelfAnalysis();
  }

  /** `from a dive`, `from the blocks` are starts, `from 85% …` is an effort. */
  readonly from = this.RULE('from', (): RawClauseBody => {
    this.CONSUME(t('From'));
    return this.OR([
      { ALT: (): RawClauseBody => ({ what: 'effort', effort: this.SUBRULE(this.ramp) }) },
      {
        ALT: (): RawClauseBody => {
          this.OPTION(() => this.CONSUME(t('Article')));
          this.OR1([{ ALT: () => this.CONSUME(t('Dive')) }, { ALT: () => this.CONSUME(t('Blocks')) }]);
          return { what: 'start' };
        },
      },
    ]);
  });

  readonly dive = this.RULE('dive', (): RawClauseBody => {
    this.CONSUME(t('Dive'));
    return { what: 'start' };
  });

  readonly stroke = this.RULE('stroke', (): RawClauseBody => {
    const token = this.OR([
      { ALT: () => this.CONSUME(t('Stroke')) },
      { ALT: () => this.CONSUME(t('Choice')) },
      { ALT: () => this.CONSUME(t('Own')) },
    ]);
    return { what: 'stroke', token, order: this.OPTION(() => this.CONSUME(t('Order'))) };
  });

  readonly activity = this.RULE(
    'activity',
    (): RawClauseBody => ({
      what: 'activity',
      token: this.CONSUME(t('Activity')),
    }),
  );

  readonly pulley = this.RULE('pulley', (): RawPiece => {
    const name = this.CONSUME(t('Pulley'));
    const mass = this.OPTION(() => ({ mass: this.CONSUME(t('Number')), unit: this.CONSUME(t('MassUnit')) }));
    return { name, mass: mass?.mass, unit: mass?.unit };
  });

  readonly piece = this.RULE(
    'piece',
    (): RawPiece =>
      this.OR([
        { ALT: () => this.SUBRULE(this.pulley) },
        { ALT: (): RawPiece => ({ name: this.CONSUME(t('Equipment')), mass: undefined, unit: undefined }) },
      ]),
  );

  readonly equipment = this.RULE('equipment', (): RawClauseBody => {
    this.CONSUME(t('With'));
    const pieces = [this.SUBRULE(this.piece)];
    this.MANY({
      // Inside `3 x (…)` the plus may also lead to the next set.
      GATE: () => !this.insideInline || isA(this.LA(2), 'Equipment', 'Pulley'),
      DEF: () => {
        this.CONSUME(t('Plus'));
        pieces.push(this.SUBRULE1(this.piece));
      },
    });
    return { what: 'equipment', pieces };
  });

  readonly sendOff = this.RULE('sendOff', (): RawClauseBody => {
    this.CONSUME(t('At'));
    return { what: 'interval', times: this.SUBRULE(this.times) };
  });

  readonly byHeat = this.RULE('byHeat', (): IToken => {
    this.CONSUME(t('By'));
    return this.CONSUME(t('Heat'));
  });

  readonly on = this.RULE('on', (): RawClauseBody => {
    this.CONSUME(t('On'));
    return this.OR([
      { ALT: (): RawClauseBody => ({ what: 'interval', times: this.SUBRULE(this.times) }) },
      {
        ALT: (): RawClauseBody => {
          this.CONSUME(t('Go'));
          return { what: 'go', heat: this.OPTION(() => this.SUBRULE(this.byHeat)) };
        },
      },
    ]);
  });

  readonly dropping = this.RULE('dropping', (): RawClauseBody => {
    this.CONSUME(t('Dropping'));
    return { what: 'dropping', time: this.SUBRULE(this.time) };
  });

  readonly rest = this.RULE('rest', (): RawClauseBody => {
    this.CONSUME(t('Rest'));
    return { what: 'rest', time: this.SUBRULE(this.time) };
  });

  /** `:10 apart`; also `:20 rest`, as the line `T rest` may be written. */
  readonly timed = this.RULE('timed', (): RawClauseBody => {
    const time = this.OR([{ ALT: () => this.CONSUME(t('Time')) }, { ALT: () => this.CONSUME(t('Seconds')) }]);
    return this.OR1([
      {
        ALT: (): RawClauseBody => {
          this.CONSUME(t('Apart'));
          return { what: 'apart', time };
        },
      },
      {
        ALT: (): RawClauseBody => {
          this.CONSUME(t('Rest'));
          return { what: 'rest', time };
        },
      },
    ]);
  });

  readonly finish = this.RULE('finish', (): RawClauseBody => {
    this.CONSUME(t('Finish'));
    this.CONSUME(t('Together'));
    return { what: 'finish' };
  });

  readonly partClause = this.RULE('partClause', (): RawClause => {
    const first = this.LA(1);
    const body = this.OR([
      { ALT: () => this.SUBRULE(this.stroke) },
      { ALT: () => this.SUBRULE(this.activity) },
      { ALT: () => this.SUBRULE(this.effort) },
      { ALT: () => this.SUBRULE(this.from) },
    ]);
    return { first, last: this.LA(0), body };
  });

  readonly part = this.RULE('part', (): RawPart => {
    const distance = this.CONSUME(t('Number'));
    const clauses: RawClause[] = [];
    this.MANY(() => clauses.push(this.SUBRULE(this.partClause)));
    return { distance, clauses };
  });

  readonly parts = this.RULE('parts', (): RawClauseBody => {
    const parts: RawPart[] = [];
    this.CONSUME(t('Open'));
    this.AT_LEAST_ONE_SEP({ SEP: t('Comma'), DEF: () => parts.push(this.SUBRULE(this.part)) });
    this.CONSUME(t('Close'));
    return { what: 'parts', parts };
  });

  readonly clause = this.RULE('clause', (): RawClause => {
    const first = this.LA(1);
    const body = this.OR([
      { ALT: () => this.SUBRULE(this.stroke) },
      { ALT: () => this.SUBRULE(this.activity) },
      { ALT: () => this.SUBRULE(this.from) },
      { ALT: () => this.SUBRULE(this.dive) },
      { ALT: () => this.SUBRULE(this.equipment) },
      { ALT: () => this.SUBRULE(this.sendOff) },
      { ALT: () => this.SUBRULE(this.on) },
      { ALT: () => this.SUBRULE(this.dropping) },
      { ALT: () => this.SUBRULE(this.rest) },
      { ALT: () => this.SUBRULE(this.timed) },
      { ALT: () => this.SUBRULE(this.effort) },
      { ALT: () => this.SUBRULE(this.parts) },
      { ALT: () => this.SUBRULE(this.finish) },
    ]);
    return { first, last: this.LA(0), body };
  });

  readonly clauses = this.RULE('clauses', (): RawClause[] => {
    const list: RawClause[] = [];
    this.MANY(() => {
      this.OPTION(() => this.CONSUME(t('Comma')));
      list.push(this.SUBRULE(this.clause));
    });
    return list;
  });

  readonly inline: ParserMethod<[], RawItem[]> = this.RULE('inline', (): RawItem[] => {
    const items: RawItem[] = [];
    this.CONSUME(t('Open'));
    this.ACTION(() => {
      this.insideInline += 1;
    });
    this.AT_LEAST_ONE_SEP({ SEP: t('Plus'), DEF: () => items.push(this.SUBRULE(this.item)) });
    this.ACTION(() => {
      this.insideInline -= 1;
    });
    this.CONSUME(t('Close'));
    return items;
  });

  readonly between = this.RULE('between', (): RawRoundsOption => {
    const token = this.SUBRULE(this.time);
    this.CONSUME(t('Between'));
    return { what: 'between', token };
  });

  readonly roundsOptions = this.RULE('roundsOptions', (): RawRoundsOption[] => {
    const options: RawRoundsOption[] = [];
    this.MANY(() => {
      this.OPTION(() => this.CONSUME(t('Comma')));
      options.push(
        this.OR([
          { ALT: (): RawRoundsOption => ({ what: 'together', token: this.CONSUME(t('Together')) }) },
          { ALT: () => this.SUBRULE(this.between) },
        ]),
      );
    });
    return options;
  });

  readonly size = this.RULE(
    'size',
    (): IToken =>
      this.OR([
        { ALT: () => this.CONSUME(t('Number')) },
        { ALT: () => this.CONSUME(t('Seconds')) },
        { ALT: () => this.CONSUME(t('Time')) },
        { ALT: () => this.CONSUME(t('SlippedTime')) },
      ]),
  );

  /** What follows the x: a distance and its clauses, or rounds in brackets. */
  readonly repeated = this.RULE('repeated', (counts: readonly IToken[], first: IToken): RawItem => {
    this.CONSUME(t('Times'));
    return this.OR([
      {
        // Deeper ones are refused anyway; a line must not be able to make reading slow.
        GATE: () => this.insideInline < DEEPEST_READ,
        ALT: (): RawItem => {
          const inline = this.SUBRULE(this.inline);
          return { kind: 'rounds', first, counts, inline, options: this.SUBRULE(this.roundsOptions) };
        },
      },
      {
        ALT: (): RawItem => {
          const size = this.SUBRULE(this.size);
          return { kind: 'set', first, counts, size, clauses: this.SUBRULE(this.clauses) };
        },
      },
    ]);
  });

  readonly roundsHead = this.RULE('roundsHead', (counts: readonly IToken[], first: IToken): RawRounds => {
    this.CONSUME(t('Round'));
    return { kind: 'rounds', first, counts, options: this.SUBRULE1(this.roundsOptions) };
  });

  readonly counted = this.RULE('counted', (): RawItem => {
    const first = this.LA(1);
    const counts: IToken[] = [];
    this.AT_LEAST_ONE_SEP({ SEP: t('Slash'), DEF: () => counts.push(this.CONSUME(t('Number'))) });
    return this.OR([
      { ALT: () => this.SUBRULE(this.repeated, { ARGS: [counts, first] }) },
      { ALT: (): RawItem => this.SUBRULE(this.roundsHead, { ARGS: [counts, first] }) },
      {
        // `10/9/8` without an x is no distance: then only the first two forms remain.
        GATE: () => counts.length === 1,
        ALT: (): RawItem => ({ kind: 'set', first, counts: [], size: first, clauses: this.SUBRULE(this.clauses) }),
      },
    ]);
  });

  /** `1:00 rest` is a rest; `:30 rest :20` is a timed rep with its rest. */
  private isRestLine(): boolean {
    return isA(this.LA(1), 'Rest') && !isA(this.LA(2), 'Time', 'Seconds', 'Number', 'SlippedTime');
  }

  readonly timeFirst = this.RULE('timeFirst', (): RawItem => {
    const first = this.OR([
      { ALT: () => this.CONSUME(t('Time')) },
      { ALT: () => this.CONSUME(t('Seconds')) },
      { ALT: () => this.CONSUME(t('SlippedTime')) },
    ]);
    return this.OR1([
      {
        GATE: () => this.isRestLine(),
        ALT: (): RawItem => {
          this.CONSUME(t('Rest'));
          return { kind: 'rest', first, time: first };
        },
      },
      {
        IGNORE_AMBIGUITIES: true,
        ALT: (): RawItem => ({ kind: 'set', first, counts: [], size: first, clauses: this.SUBRULE(this.clauses) }),
      },
    ]);
  });

  readonly restFirst = this.RULE('restFirst', (): RawItem => {
    const first = this.CONSUME(t('Rest'));
    return { kind: 'rest', first, time: this.SUBRULE(this.time) };
  });

  readonly item: ParserMethod<[], RawItem> = this.RULE(
    'item',
    (): RawItem =>
      this.OR([
        { ALT: () => this.SUBRULE(this.counted) },
        { ALT: () => this.SUBRULE(this.timeFirst) },
        { ALT: () => this.SUBRULE(this.restFirst) },
        { ALT: (): RawItem => ({ kind: 'wait', first: this.CONSUME(t('Wait')) }) },
        { ALT: (): RawItem => ({ kind: 'together', first: this.CONSUME(t('Together')) }) },
      ]),
  );

  read(tokens: IToken[]): RawItem | IRecognitionException {
    this.insideInline = 0;
    this.input = tokens;
    const item = this.item();
    return this.errors[0] ?? item;
  }
}

const grammar = new LineGrammar();

/** Reads the tokens of one line (no note, no closing colon). @returns where and why reading stopped, if it did */
export const readItem = (tokens: IToken[]): RawItem | IRecognitionException => grammar.read(tokens);

export const isStop = (read: RawItem | IRecognitionException): read is IRecognitionException => 'context' in read;

import type { IRecognitionException, IToken } from 'chevrotain';
import { endOf, isA } from './lexer.ts';
import { type Problem, quote, type Report } from './report.ts';

const PACE = 'write a pace like "at 200 pace" or "at 200 fly back-half pace"';
const TIME = 'write a time like 1:30, :45 or 45s';
const PARTS = 'parts look like (50 fly, 50 easy), and a note goes after --';
const ROUNDS = 'rounds look like "3 rounds, 3:00 between:"';
const SET = 'a set looks like "8 x 50 free @ 1:10"';

/** What belongs in the place where reading stopped, by the grammar rule it stopped in. */
const CURES: Readonly<Record<string, string>> = {
  time: TIME,
  times: TIME,
  race: PACE,
  racePart: PACE,
  pace: PACE,
  at: PACE,
  ramp: 'write it like "from 85% to 100% of 200 pace by rep"',
  hold: 'write it like "hold 31.5" or "hold 31.5 per 50"',
  descend: 'write "descend" or "descend 1-4"',
  threshold: 'write "threshold" or "threshold +3"',
  bestAverage: 'write "best average"',
  word: 'write an effort like easy, max or at 200 pace',
  steadyEffort: 'write an effort like easy, max or at 200 pace',
  alternate: 'write it like "odds max evens easy"',
  from: 'write "from a dive", "from the blocks" or "from 85% to 100% of 200 pace by rep"',
  pulley: 'write the stack mass like "with pulley 12 kg"',
  piece: 'equipment is cord, parachute, pulley, fins, paddles, buoy, snorkel or board',
  equipment: 'equipment is cord, parachute, pulley, fins, paddles, buoy, snorkel or board',
  sendOff: TIME,
  on: 'write "on 1:30", "on go" or "on go by heat"',
  byHeat: 'write "on go by heat"',
  finish: 'write "finish together"',
  part: PARTS,
  partClause: PARTS,
  parts: PARTS,
  inline: 'rounds in brackets look like "3 x (4 x 50 @ :50 + 100 @ 2:00)"',
  between: ROUNDS,
  roundsOptions: ROUNDS,
  roundsHead: ROUNDS,
  size: 'write the distance after the x, like 8 x 50',
  repeated: 'write the distance after the x, like 8 x 50',
  counted: 'write x and the distance after the counts, like 10/9/8 x 50',
  item: SET,
};

interface Stop {
  readonly rule: string | undefined;
  /** The token that does not fit; absent at the end of the line. */
  readonly token: IToken | undefined;
  readonly before: IToken;
  readonly tokens: readonly IToken[];
}

type Explanation = readonly [at: IToken, problem: Problem];

/** A time with nothing that says what it is for. */
function loneTime({ rule, before }: Stop): Explanation | null {
  if (rule !== 'timed' && rule !== 'clause') return null;
  const time = before.image;
  const text = `${quote(time)} stands alone; write @ ${time} for a send-off or rest ${time} for a rest`;
  return isA(before, 'Time', 'Seconds') ? [before, { text, fix: `@ ${time}`, replace: { insert: `@ ${time}` } }] : null;
}

function slippedTime({ token, before }: Stop): Explanation | null {
  if (!token || !isA(token, 'SlippedTime')) return null;
  const meant = token.image.replace(/\D+$/, '').replace(/\D/, ':');
  const insert = isA(before, 'At', 'On', 'Rest') ? meant : `@ ${meant}`;
  const text = `${quote(token.image)} is not a time; write @ ${meant}`;
  return [token, { text, fix: `@ ${meant}`, replace: { insert } }];
}

/** What `1,500`, `@ 1,30` and `31,5` are meant as. */
function withoutComma(whole: string, rest: string, isTime: boolean): string {
  if (rest.length === 3) return `${whole}${rest}`;
  return isTime && /^[0-5]\d$/.test(rest) ? `${whole}:${rest}` : `${whole}.${rest}`;
}

function commaInNumber({ token, tokens }: Stop): Explanation | null {
  const stop = token ? tokens.indexOf(token) : -1;
  for (const i of [stop, stop - 1]) {
    const [sign, whole, comma, rest] = [tokens[i - 2], tokens[i - 1], tokens[i], tokens[i + 1]];
    if (!whole || !comma || !rest || !isA(comma, 'Comma') || !isA(whole, 'Number') || !isA(rest, 'Number')) continue;
    if (endOf(whole) !== comma.startOffset || endOf(comma) !== rest.startOffset) continue;
    const fix = withoutComma(whole.image, rest.image, isA(sign, 'At', 'On', 'Rest'));
    return [
      whole,
      {
        text: `${quote(`${whole.image},${rest.image}`)} cannot be read with its comma; write ${fix}`,
        fix,
        replace: { to: rest, insert: fix },
      },
    ];
  }
  return null;
}

/** `8 50 free`: the x is missing. */
function missingTimes({ token, tokens }: Stop): Explanation | null {
  const [count, distance] = tokens;
  if (!token || !count || token !== distance || !isA(count, 'Number') || !isA(distance, 'Number')) return null;
  const fix = `${count.image} x ${distance.image}`;
  return [
    count,
    {
      text: `there is no x between ${quote(count.image)} and ${quote(distance.image)}; write ${fix}`,
      fix,
      replace: { to: distance, insert: fix },
    },
  ];
}

function openBracket({ token, tokens }: Stop): Explanation | null {
  const open = tokens.findLast((each) => isA(each, 'Open'));
  if (token || !open) return null;
  return [open, { text: 'the bracket that opens here is never closed; write ) where it ends' }];
}

function deepBrackets({ token, rule }: Stop): Explanation | null {
  return token && rule === 'repeated' && isA(token, 'Open')
    ? [token, { text: 'rounds may stand inside rounds, but no deeper; write the inner lines out' }]
    : null;
}

function strayBracket({ token, rule }: Stop): Explanation | null {
  return token && !rule && isA(token, 'Close') ? [token, { text: 'no bracket is open here; take the ) out' }] : null;
}

function timeForWait({ token, tokens }: Stop): Explanation | null {
  const [sign, second] = tokens;
  if (!token || token !== second || !sign || !isA(sign, 'Wait', 'Together')) return null;
  return [token, { text: `"${sign.image}" stands alone on its line; for a rest of known length write rest 2:00` }];
}

function plain({ rule, token, before }: Stop): Explanation {
  const cure = rule ? (CURES[rule] ?? SET) : 'take it out, or write it after -- as a note';
  return token
    ? [token, { text: `${quote(token.image)} cannot be read here; ${cure}` }]
    : [before, { text: `something is missing after ${quote(before.image)}; ${cure}` }];
}

const KNOWN = [
  slippedTime,
  commaInNumber,
  loneTime,
  missingTimes,
  deepBrackets,
  strayBracket,
  timeForWait,
  openBracket,
];

/** Says in a coach's words why reading a line stopped. `tokens` is the line as it was read, not empty. */
export function explainStop(error: IRecognitionException, tokens: readonly IToken[], report: Report): void {
  const index = tokens.indexOf(error.token);
  const before = tokens[(index < 0 ? tokens.length : index) - 1] ?? tokens[0];
  if (!before) return;
  const stop: Stop = { rule: error.context.ruleStack.at(-1), token: tokens[index], before, tokens };
  const known = KNOWN.map((explain) => explain(stop)).find((explanation) => explanation !== null);
  report(...(known ?? plain(stop)));
}

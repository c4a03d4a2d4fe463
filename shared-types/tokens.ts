/**
 * The words and signs of the deck shorthand, in the order they are tried: at each place in a line the first
 * entry whose pattern matches there wins. Patterns are meant for the flags `iy`, hold no capturing groups, and
 * together match any text, so a scan never stops. The server's lexer and the editor's colours both come from here.
 */

/** What a token is to a reader: the editor has one colour for each. */
export type TokenKind =
  | 'space'
  | 'note'
  | 'number'
  | 'time'
  | 'sign'
  | 'stroke'
  | 'activity'
  | 'effort'
  | 'start'
  | 'equipment'
  | 'release'
  | 'block'
  | 'link'
  | 'text';

export interface TokenDefinition<Name extends string = string> {
  readonly name: Name;
  readonly kind: TokenKind;
  /** Source of a regular expression. */
  readonly pattern: string;
  /** For words: every spelling, the usual one first. */
  readonly words?: readonly string[];
}

/** Letters of any script; leaves out the multiplication sign (D7), spaces and punctuation (2000–206F, 3000–303F). */
const LETTER = 'a-z\\u00aa\\u00b5\\u00ba\\u00c0-\\u00d6\\u00d8-\\u167f\\u1681-\\u1fff\\u2070-\\u2fff\\u3040-\\ufefe';
const WORD_END = `(?![${LETTER}])`;

const sign = <N extends string>(name: N, kind: TokenKind, pattern: string): TokenDefinition<N> => ({
  name,
  kind,
  pattern,
});

const words = <N extends string>(name: N, kind: TokenKind, ...spellings: string[]): TokenDefinition<N> => ({
  name,
  kind,
  pattern: `(?:${[...spellings].sort((a, b) => b.length - a.length).join('|')})${WORD_END}`,
  words: spellings,
});

export const TOKENS = [
  sign('Space', 'space', '\\s+'),
  // Tablets turn two hyphens into one long dash while the coach types, so both open a note.
  sign('Note', 'note', '(?:--|\\u2014)[^\\n\\r]*'),
  // A slip worth a cure of its own: 1;30, 1'30, 1'30".
  sign('SlippedTime', 'time', '\\d{1,3}[;\'\\u2019]\\d{1,2}(?!\\d)["\\u201d]?'),
  sign('Time', 'time', '\\d*(?::\\d+)+(?:\\.\\d+)?'),
  // After a count `50s` is the distance 50; after @, on, rest it is 50 seconds.
  sign('Seconds', 'number', `\\d+(?:\\.\\d+)?s${WORD_END}`),
  sign('Number', 'number', '\\d+(?:\\.\\d+)?'),
  sign('Times', 'sign', `x${WORD_END}|[\\u00d7*]`),
  sign('At', 'release', '@'),
  sign('Percent', 'sign', '%'),
  sign('Plus', 'sign', '\\+'),
  sign('Slash', 'sign', '/'),
  sign('Dash', 'sign', '[-\\u2013\\u2212]'),
  sign('Open', 'sign', '\\('),
  sign('Close', 'sign', '\\)'),
  sign('Comma', 'sign', ','),
  sign('Colon', 'sign', ':'),
  sign('Hash', 'text', '#'),

  sign('BackHalf', 'effort', `back(?:-|\\s+)half${WORD_END}`),
  words('RacePart', 'effort', 'front', 'middle'),
  words(
    'Stroke',
    'stroke',
    'free',
    'back',
    'breast',
    'fly',
    'IM',
    'fr',
    'bk',
    'br',
    'fl',
    'freestyle',
    'backstroke',
    'breaststroke',
    'butterfly',
  ),
  words('Choice', 'stroke', 'choice'),
  words('Own', 'stroke', 'own'),
  words('Order', 'stroke', 'order'),
  words('Activity', 'activity', 'swim', 'kick', 'pull', 'drill'),

  words('Feel', 'effort', 'easy', 'smooth', 'build', 'max'),
  words('Best', 'effort', 'best'),
  words('Average', 'effort', 'average'),
  words('Descend', 'effort', 'descend'),
  words('Threshold', 'effort', 'threshold'),
  words('Pace', 'effort', 'pace'),
  words('Hold', 'effort', 'hold'),
  words('Odds', 'effort', 'odds'),
  words('Evens', 'effort', 'evens'),

  words('Dive', 'start', 'dive'),
  words('Blocks', 'start', 'blocks'),
  words('With', 'equipment', 'with'),
  words('Pulley', 'equipment', 'pulley'),
  words('Equipment', 'equipment', 'cord', 'parachute', 'fins', 'paddles', 'buoy', 'snorkel', 'board'),
  words('MassUnit', 'equipment', 'kg', 'lb', 'lbs'),

  words('On', 'release', 'on'),
  words('Go', 'release', 'go'),
  words('Heat', 'release', 'heat'),
  words('Rest', 'release', 'rest'),
  words('Dropping', 'release', 'dropping'),
  words('Apart', 'release', 'apart'),

  words('Round', 'block', 'round', 'rounds'),
  words('Between', 'block', 'between'),
  words('Wait', 'block', 'wait'),
  words('Together', 'block', 'together'),
  words('Finish', 'block', 'finish'),
  words('Lane', 'block', 'lane', 'lanes'),
  words('Group', 'block', 'group', 'groups'),

  words('Toward', 'link', 'at'),
  words('From', 'link', 'from'),
  words('To', 'link', 'to'),
  words('Of', 'link', 'of'),
  words('By', 'link', 'by'),
  words('Per', 'link', 'per'),
  words('Rep', 'link', 'rep'),
  words('And', 'link', 'and'),
  words('Article', 'link', 'a', 'the'),

  sign('Word', 'text', `[${LETTER}](?:['\\u2019]?[${LETTER}])*`),
  sign('Other', 'text', '[\\u0000-\\uffff]'),
] as const;

export type TokenName = (typeof TOKENS)[number]['name'];

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readSquadCsv } from '../../server/planning/squad-csv.ts';
import { cutAt } from '../../server/planning/text-columns.ts';
import { titleOf } from '../../server/title.ts';
import { withNames } from '../../shared-types/message.ts';
import { asName, nameSchema } from '../../shared-types/plain-name.ts';

/** Names as people have them, letters and marks as their languages are written (from memory). */
const REAL = [
  'Zoë',
  'José María',
  'Nguyễn Thị Ánh',
  'Ștefan Țălu',
  "Aoife O'Dea",
  'Bjørn-Åge',
  'محمد',
  'שִׁירָה',
  '李娜',
  'Søren 🏊',
  'فاطمه‌زهرا',
  'Łukasz',
  'क्ष्मा',
  '👨‍👩‍👧 Team',
];

describe('a name', () => {
  test.for(REAL)('of a person stays as it is: %s', (name) => {
    expect(asName(name)).toBe(name.normalize('NFC'));
  });

  // UAX #9 (bidirectional algorithm), 2: the explicit directional formatting characters; from memory.
  test('cannot turn the reading direction of what stands beside it', () => {
    for (const sign of '\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c') {
      expect(asName(`Ada${sign} Vance${sign}`)).toBe('Ada Vance');
    }
  });

  // ECMA-48: control functions begin with ESC (1/11), or are C1 controls; a terminal obeys them.
  test('has nothing that a terminal would obey', () => {
    expect(asName('Ada\u001b[2J\u001b]8;;http://evil.test\u0007 Vance\u009b31m')).toBe(
      'Ada[2J]8;;http://evil.test Vance31m',
    );
    expect(asName('Ada\u0000\r\nVance\u2028Cruz')).toBe('Ada Vance Cruz');
  });

  // UTS #39 (security mechanisms), 4: invisible signs make confusable names; from memory.
  test('has no sign that is not seen, so that two that look the same are the same', () => {
    expect(asName('A\u200bda\u00ad \ufeffVan\u2060ce\u200d')).toBe('Ada Vance');
    expect(asName('Ada\u200cVance')).toBe('AdaVance');
    expect(asName('Ada\u{e0041}\u{e0042} Vance')).toBe('Ada Vance');
    expect(asName('Zoe\u0308')).toBe('Zo\u00eb');
  });

  test('has four marks on a letter at most: a stack of them would paint over other lanes', () => {
    expect(asName(`A${'\u0335'.repeat(300)}da`)).toBe(`A${'\u0335'.repeat(4)}da`);
  });

  test('is whole, whatever it is given', () => {
    expect(asName('\ud83cAda\udfca')).toBe('Ada');
    const whole = fc.string({ unit: 'binary' });
    fc.assert(
      fc.property(whole, (text) => {
        const name = asName(text);
        expect(asName(name)).toBe(name);
        expect(name.isWellFormed()).toBe(true);
        expect(name).not.toMatch(/[\p{Cc}\u202a-\u202e\u2066-\u2069\u200b]|^\s|\s$|\p{M}{5}/u);
      }),
    );
  });

  test('is refused when nothing of it is left, or when it is too long', () => {
    expect(nameSchema(60).safeParse(' \u200b\u202e ').success).toBe(false);
    expect(nameSchema(60).safeParse('x'.repeat(61)).success).toBe(false);
    // What is taken out does not count.
    expect(nameSchema(60).parse(`A${'\u0301'.repeat(300)}`)).toHaveLength(5);
  });

  // UAX #29 (text segmentation): grapheme clusters.
  test('is cut between letters as people see them', () => {
    expect(cutAt('Søren', 10)).toBe('Søren');
    expect(cutAt('ab👨‍👩‍👧c', 5)).toBe('ab');
    expect(cutAt('ab🏊', 3)).toBe('ab');
    expect(cutAt('e\u0335\u0336x', 2)).toBe('');
    expect(titleOf(`# ${'🏊'.repeat(60)}`).isWellFormed()).toBe(true);
    expect(titleOf('# Thursday\u202e\u001b[2J')).toBe('Thursday[2J');
  });
});

test('rows of a file whose names look the same are one swimmer’s', () => {
  let made = 0;
  const newId = () => {
    made += 1;
    return made.toString(16).padStart(32, '0');
  };
  const rows = ['Zoë Vance', 'Zoe\u0308 Vance', 'Zo\u200bë  Vance\u202e', 'zoë vance'];
  const csv = ['swimmer,event,course,time', ...rows.map((name, nth) => `${name},200 free,SCM,2:0${nth}.0`)];
  const { squad, problems } = readSquadCsv(csv.join('\n'), newId);
  expect([problems, squad.swimmers.map(({ name }) => name)]).toEqual([[], ['Zoë Vance']]);
});

// UAX #9: a European number after right-to-left letters is laid out with them; an isolate keeps it where it is written.
test('a name that reads from right to left takes no figures beside it along', () => {
  const id = 'ab'.repeat(16);
  expect(withNames(`{${id}} 2 of 8`, { [id]: 'שירה' })).toBe('\u2068שירה\u2069 2 of 8');
  expect(withNames(`{${id}} 2 of 8`, { [id]: 'Ada' })).toBe('Ada 2 of 8');
});

import fc from 'fast-check';
import { ms } from '../../shared-types/brand.ts';
import type {
  Effort,
  Equipment,
  Item,
  Part,
  PerGroup,
  Practice,
  RacePace,
  Release,
  Section,
  SetItem,
  Who,
} from '../../shared-types/practice.ts';
import { STYLES } from '../../shared-types/practice.ts';
import { ACTIVITIES, STROKES } from '../../shared-types/squad.ts';

/** Practices made at random, without places (lines and columns are 0): what any text for them must be read as. */

const seconds = (from: number, to: number) => fc.integer({ min: from, max: to }).map((s) => ms(s * 1000));
const hundredths = fc.integer({ min: 500, max: 20_000 }).map((n) => ms(n * 10));

const perGroup = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<PerGroup<T>> =>
  fc.tuple(value, fc.array(value, { maxLength: 3 })).map(([first, others]): PerGroup<T> => [first, ...others]);

const percent = fc.integer({ min: 10, max: 2000 }).map((n) => n / 10);
const race: fc.Arbitrary<RacePace> = fc.record(
  {
    distance: fc.constantFrom(50, 100, 200, 400, 1500),
    stroke: fc.constantFrom(...STROKES, 'own' as const),
    part: fc.constantFrom('front' as const, 'middle' as const, 'back-half' as const),
  },
  { requiredKeys: ['distance'] },
);

const steadyEffort: fc.Arbitrary<Effort> = fc.oneof(
  fc
    .constantFrom('easy' as const, 'smooth' as const, 'build' as const, 'max' as const, 'best average' as const)
    .map((kind) => ({ kind })),
  fc.record(
    { kind: fc.constant('descend' as const), over: fc.integer({ min: 2, max: 12 }) },
    { requiredKeys: ['kind'] },
  ),
  fc.integer({ min: 0, max: 60 }).map((s): Effort => ({ kind: 'threshold', plusMsPer100: s * 1000 })),
  fc.record({ kind: fc.constant('pace' as const), race, percent }),
  fc.record(
    { kind: fc.constant('hold' as const), timeMs: perGroup(hundredths), perDistance: fc.constantFrom(25, 50, 100) },
    { requiredKeys: ['kind', 'timeMs'] },
  ),
);

const effort: fc.Arbitrary<Effort> = fc.oneof(
  { weight: 3, arbitrary: steadyEffort },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant('alternate' as const), odds: steadyEffort, evens: steadyEffort }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('ramp' as const),
      race,
      fromPercent: percent,
      toPercent: percent,
      by: fc.constantFrom('rep' as const, 'round' as const),
    }),
  },
);

const release: fc.Arbitrary<Release> = fc.oneof(
  fc.record(
    { kind: fc.constant('interval' as const), intervalMs: perGroup(seconds(5, 900)), droppingMs: seconds(1, 30) },
    { requiredKeys: ['kind', 'intervalMs'] },
  ),
  seconds(1, 300).map((restMs): Release => ({ kind: 'rest', restMs })),
  fc.boolean().map((byHeat): Release => ({ kind: 'go', byHeat })),
);

const equipment: fc.Arbitrary<Equipment> = fc.oneof(
  fc
    .constantFrom('cord', 'parachute', 'fins', 'paddles', 'buoy', 'snorkel', 'board', 'pulley')
    .map((name): Equipment => ({ name })),
  fc.integer({ min: 1, max: 400 }).map((n): Equipment => ({ name: 'pulley', massKg: n / 2 })),
);

const setStroke = fc.constantFrom(...STROKES, 'choice' as const, 'IM order' as const, 'own' as const);

const part: fc.Arbitrary<Part> = fc.record(
  {
    distance: fc.integer({ min: 1, max: 100 }),
    column: fc.constant(0),
    stroke: setStroke,
    activity: fc.constantFrom(...ACTIVITIES),
    effort,
  },
  { requiredKeys: ['distance', 'column'] },
);

const size = (parts: readonly Part[]): fc.Arbitrary<SetItem['size']> =>
  parts.length > 0
    ? fc.constant({ kind: 'distance', distance: parts.reduce((sum, each) => sum + each.distance, 0) })
    : fc.oneof(
        fc.integer({ min: 1, max: 3000 }).map((distance): SetItem['size'] => ({ kind: 'distance', distance })),
        seconds(5, 600).map((timeMs): SetItem['size'] => ({ kind: 'timed', timeMs })),
      );

const place = { line: fc.constant(0), column: fc.constant(0) };

const required = ['kind', 'line', 'column', 'counts', 'size', 'sizeColumn', 'stroke', 'activity', 'start'] as const;

export const sets: fc.Arbitrary<SetItem> = fc.array(part, { maxLength: 4 }).chain((parts) =>
  fc.record(
    {
      ...place,
      kind: fc.constant('set' as const),
      counts: perGroup(fc.integer({ min: 1, max: 1000 })),
      size: size(parts),
      sizeColumn: fc.constant(0),
      stroke: setStroke,
      activity: fc.constantFrom(...ACTIVITIES),
      start: fc.constantFrom('push' as const, 'dive' as const),
      equipment: fc.array(equipment, { maxLength: 3 }),
      release,
      apartMs: seconds(0, 30),
      effort,
      parts: fc.constant(parts),
      finishTogether: fc.boolean(),
      notes: fc.constant([]),
    },
    { requiredKeys: [...required, 'equipment', 'parts', 'finishTogether', 'notes'] },
  ),
);

const lines: fc.Arbitrary<Item> = fc.oneof(
  { weight: 4, arbitrary: sets },
  { weight: 1, arbitrary: fc.record({ ...place, kind: fc.constant('rest' as const), restMs: seconds(1, 600) }) },
  { weight: 1, arbitrary: fc.record({ ...place, kind: fc.constantFrom('wait' as const, 'together' as const) }) },
);

const rounds = (items: fc.Arbitrary<Item>): fc.Arbitrary<Item> =>
  fc.record(
    {
      ...place,
      kind: fc.constant('rounds' as const),
      count: fc.integer({ min: 1, max: 20 }),
      together: fc.boolean(),
      betweenMs: seconds(1, 600),
      items: fc.array(items, { minLength: 1, maxLength: 4 }),
    },
    { requiredKeys: ['kind', 'line', 'column', 'count', 'together', 'items'] },
  );

const who: fc.Arbitrary<Who> = fc.oneof(
  fc.record({
    kind: fc.constant('groups' as const),
    groups: fc.uniqueArray(fc.constantFrom('A', 'B', 'C', 'D', 'X'), { minLength: 1, maxLength: 3 }),
  }),
  fc.record({
    kind: fc.constant('lanes' as const),
    from: fc.integer({ min: 1, max: 6 }),
    to: fc.integer({ min: 6, max: 12 }),
  }),
);

const groups = (items: fc.Arbitrary<Item>): fc.Arbitrary<Item> =>
  fc.record({
    ...place,
    kind: fc.constant('groups' as const),
    who,
    items: fc.array(items, { minLength: 1, maxLength: 3 }),
  });

const items: fc.Arbitrary<Item> = fc.oneof(
  { weight: 4, arbitrary: lines },
  { weight: 1, arbitrary: rounds(fc.oneof(lines, rounds(lines), groups(lines))) },
  { weight: 1, arbitrary: groups(fc.oneof(lines, rounds(lines))) },
);

const section: fc.Arbitrary<Section> = fc.record(
  {
    name: fc.constantFrom('Warm-up', 'Main set', 'Swim down', 'Max effort', 'Ünterwasser', 'Rest of the evening'),
    style: fc.constantFrom(...STYLES),
    line: fc.constant(0),
    items: fc.array(items, { maxLength: 5 }),
    notes: fc.constant([]),
  },
  { requiredKeys: ['name', 'line', 'items', 'notes'] },
);

export const practices: fc.Arbitrary<Practice> = fc.record(
  {
    title: fc.constantFrom('Thursday', 'Week 3 -- hard'),
    sections: fc.array(section, { minLength: 1, maxLength: 4 }),
  },
  { requiredKeys: ['sections'] },
);

import { beforeEach, describe, expect, test } from 'vitest';
import { openLink } from '../../client/common/link.ts';
import { commandIdSchema, instant } from '../../shared-types/brand.ts';
import { type MarkEvent, markCommandSchema } from '../../shared-types/marks.ts';
import { swimmerId } from '../fixtures/sheets.ts';
import { DEVICE, eventOf, LinkWorld, liveAt, RUN } from './link-world.ts';

const hex = (n: number): string => n.toString(16).padStart(32, '0');

const ofWhat = { swimmer: swimmerId(1, 1), step: '1.1.1.1', pass: 1, distance: 50 };

const markEvent = (seq: number): MarkEvent => ({
  run: RUN,
  seq,
  kind: 'mark',
  command: commandIdSchema.parse(hex(seq)),
  device: DEVICE,
  mark: commandIdSchema.parse(hex(seq)),
  decidedAt: instant(seq),
  pressedAt: instant(seq),
  place: { ...ofWhat, lane: null, leftAt: null },
});

const marksPath = (after: number): string => `/api/runs/${RUN}/marks?after=${after}`;

let world: LinkWorld;
const open = async (role: 'deck' | 'wall' = 'deck') => {
  const link = openLink({ role, parts: world.parts });
  await world.settle();
  return link;
};

beforeEach(() => {
  world = new LinkWorld();
});

describe('[CMD5] a page follows the marks of the run on the wall', () => {
  test('[CMD5] asks for those it has missed, answer by answer, and folds what it is told', async () => {
    world.answers.set('hello', () => ({ ...world.helloAnswer(0), markSeq: 3 }));
    world.sheets.set(marksPath(0), { events: [markEvent(1), markEvent(2)], last: 3 });
    world.sheets.set(marksPath(2), { events: [markEvent(3)], last: 3 });
    const link = await open();
    await world.settle();
    expect(link.times.book.value.seq).toBe(3);
    world.send('mark', markEvent(4));
    expect(link.times.book.value.entries.size).toBe(4);
  });

  test('[CMD5] asks when there is a gap, again until it has an answer', async () => {
    const link = await open();
    world.send('mark', markEvent(2));
    await world.settle();
    expect(link.times.book.value.seq).toBe(0);
    world.sheets.set(marksPath(0), { events: [markEvent(1), markEvent(2)], last: 2 });
    await world.pass(1000);
    expect(link.times.book.value.seq).toBe(2);
  });

  test('[CMD5] begins anew with another run', async () => {
    const link = await open();
    world.send('mark', markEvent(1));
    expect(link.times.book.value.seq).toBe(1);
    world.send('run', { run: null, labels: {} });
    expect(link.times.book.value.seq).toBe(0);
  });

  test('[CMD5] asks who has left when it comes to a run that has begun, and after an undo; a wall never does', async () => {
    world.answers.set('hello', () => world.helloAnswer(1));
    const swimmer = swimmerId(1, 1);
    const departure = { swimmer, lane: 1, step: '1.1.1.1', pass: 1, at: world.poolMs - 500 };
    const path = `/api/runs/${RUN}/departures`;
    world.sheets.set(path, { seq: 1, until: world.poolMs, departures: [departure] });
    const link = await open();
    expect(link.times.departuresAt(instant(world.poolMs + 1000))).toEqual([departure]);
    world.sheets.set(path, { seq: 2, until: world.poolMs, departures: [] });
    world.send('event', { ...eventOf(2), kind: 'undo', takesBack: 1, at: world.poolMs });
    await world.settle();
    expect(link.times.departuresAt(instant(world.poolMs + 1000))).toEqual([]);
  });

  test('[CMD5] asks for the hours before one after the other, again until it has an answer, and keeps them apart', async () => {
    const hourMs = 3_600_000;
    world.poolAheadMs = 10 * hourMs;
    const until = world.poolMs;
    const [hourAgo, twoHoursAgo] = [until - hourMs, until - 2 * hourMs];
    const leftAt = (at: number, pass: number) => ({ swimmer: swimmerId(1, 1), lane: 1, step: '1.1.1.1', pass, at });
    const [first, second, third] = [leftAt(twoHoursAgo - 9, 1), leftAt(twoHoursAgo + 9, 2), leftAt(hourAgo + 9, 3)];
    const path = `/api/runs/${RUN}/departures`;
    world.answers.set('hello', () => world.helloAnswer(1));
    world.sheets.set(path, { seq: 1, until, earlier: hourAgo, departures: [third] });
    const link = await open();
    const left = () => link.times.departuresAt(instant(until + 2000));
    expect(left()).toEqual([third]);
    world.sheets.set(`${path}?before=${hourAgo}`, { seq: 1, until, earlier: twoHoursAgo, departures: [second] });
    world.sheets.set(`${path}?before=${twoHoursAgo}`, { seq: 1, until, departures: [first] });
    await world.pass(1000);
    expect(left()).toEqual([first, second, third]);
    world.sheets.set(path, { seq: 2, until, earlier: hourAgo, departures: [] });
    world.sheets.set(`${path}?before=${hourAgo}`, { seq: 2, until, departures: [second] });
    world.send('event', { ...eventOf(2), kind: 'undo', takesBack: 1, at: world.poolMs });
    await world.settle();
    expect(left()).toEqual([second]);
  });
});

describe('[CMD8] a mark pressed on a page', () => {
  const marking = { kind: 'mark', ...ofWhat, pressedAt: instant(1000.4) } as const;

  test('[CMD8] is sent at once, whole, and dropped when it is answered', async () => {
    world.answers.set('mark', () => ({ ok: true, seq: 1 }));
    const link = await open();
    expect(link.times.mark(marking)).not.toBeNull();
    const [asked] = world.asked.filter(({ event }) => event === 'mark');
    expect(markCommandSchema.parse(asked?.payload)).toMatchObject({ run: RUN, device: DEVICE, pressedAt: 1000 });
    await world.settle();
    expect(link.times.waiting.value).toEqual([]);
  });

  test('[CMD8] waits without the server, and is sent when the link is back', async () => {
    const link = await open();
    world.lose();
    link.times.mark(marking);
    expect(world.timesAsked('mark')).toBe(0);
    world.answers.set('mark', () => ({ ok: true, seq: 1 }));
    world.connect();
    await world.settle();
    expect(world.timesAsked('mark')).toBe(1);
    expect(link.times.waiting.value).toEqual([]);
  });

  test('[CMD8] stays until it is answered for good: a full disk, a failing server or a lost answer are no answer', async () => {
    const answers = [
      { ok: false, code: 'not-stored', message: 'The disk is full.' },
      { ok: false, code: 'server-error', message: 'The server failed.' },
      null,
      { ok: true, seq: 1 },
    ];
    world.answers.set('mark', () => answers.shift() ?? null);
    const link = await open();
    link.times.mark(marking);
    await world.pass(4100);
    expect(link.times.waiting.value).toHaveLength(1);
    await world.pass(6000);
    expect(world.timesAsked('mark')).toBe(4);
    expect(link.times.waiting.value).toEqual([]);
    expect(link.times.refusal.value).toBeNull();
  });

  test('[CMD8] that is refused for good is dropped, with the words', async () => {
    world.answers.set('mark', () => ({ ok: false, code: 'stale', message: 'Too long ago.' }));
    const link = await open();
    link.times.mark(marking);
    await world.settle();
    expect(link.times.waiting.value).toEqual([]);
    expect(link.times.refusal.value).toBe('Too long ago.');
  });

  test('is not taken while nothing is on the wall', async () => {
    world.answers.set('hello', () => ({ ...world.helloAnswer(0), live: { run: null, labels: {} } }));
    const link = await open();
    expect(link.times.mark(marking)).toBeNull();
    world.send('run', liveAt(0));
    expect(link.times.mark(marking)).not.toBeNull();
  });
});

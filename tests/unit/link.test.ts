import { beforeEach, describe, expect, it } from 'vitest';
import { openLink } from '../../client/common/link.ts';
import { instant, runIdSchema, sheetHashSchema } from '../../shared-types/brand.ts';
import { commandSchema } from '../../shared-types/commands.ts';
import { PROTOCOL } from '../../shared-types/wire/protocol.ts';
import { DEVICE, eventOf, HASH, LinkWorld, liveAt, RUN, SHEET } from './link-world.ts';

let world: LinkWorld;
const open = async () => {
  const link = openLink({ role: 'deck', parts: world.parts });
  await world.settle();
  return link;
};

beforeEach(() => {
  world = new LinkWorld();
});

describe('a page opens its link', () => {
  it('offers its protocols, role and device, and has the practice with its sheet', async () => {
    const link = await open();
    expect(world.asked[0]).toEqual({
      event: 'hello',
      payload: { protocols: [PROTOCOL], role: 'deck', device: DEVICE },
    });
    expect(link.state.value).toBe('live');
    expect(link.practice.value?.run.id).toBe(RUN);
    expect(link.practice.value?.sheet).toEqual(SHEET);
    expect(link.settings.value.timezone).toBe('Europe/Lisbon');
  });

  it('is told what is on the wall when the sheet has come, or when nothing is on it', async () => {
    world.sheets.clear();
    const waiting = await open();
    expect([waiting.practice.value, waiting.told.value]).toEqual([null, false]);
    world = new LinkWorld();
    const link = await open();
    expect([link.practice.value?.run.id, link.told.value]).toEqual([RUN, true]);
    world = new LinkWorld();
    world.answers.set('hello', () => ({ ...world.helloAnswer(0), live: { run: null, labels: {} } }));
    const idle = await open();
    expect([idle.practice.value, idle.told.value]).toEqual([null, true]);
  });

  it('[SYN2] makes eight exchanges in the first second, then one every two seconds', async () => {
    await open();
    await world.pass(999);
    expect(world.timesAsked('sync')).toBe(8);
    await world.pass(10_000);
    expect(world.timesAsked('sync')).toBe(13);
  });

  it('has the pool’s clock after the first exchange', async () => {
    const link = await open();
    expect(link.clock.now()).toBe(1_000_000);
    expect(link.clock.at(250)).toBe(1_000_250);
  });

  it('[SYN3] makes the quick exchanges again after the device slept', async () => {
    const link = await open();
    await world.pass(4000);
    const before = world.timesAsked('sync');
    world.wallAheadMs += 3_600_000;
    world.poolAheadMs += 3_600_000;
    await world.pass(3000);
    expect(world.timesAsked('sync') - before).toBeGreaterThanOrEqual(8);
    expect(link.clock.now()).toBe(world.poolMs);
  });

  it('says in words why the server would not have it, and asks again later', async () => {
    world.answers.set('hello', () => ({
      ok: false,
      code: 'protocol',
      message: 'This page is too old.',
      fix: 'Reload it.',
    }));
    const link = await open();
    expect(link.state.value).toBe('refused');
    expect(link.refusal.value).toBe('This page is too old. Reload it.');
    world.answers.set('hello', () => world.helloAnswer(0));
    await world.pass(10_000);
    expect(link.state.value).toBe('live');
    expect(link.refusal.value).toBeNull();
  });

  it('does not take what is no answer for one', async () => {
    world.answers.set('hello', () => ({ hello: 'there' }));
    const link = await open();
    expect(link.state.value).toBe('refused');
  });

  it('asks for the sheet again until it comes', async () => {
    world.sheets.clear();
    const link = await open();
    expect(link.practice.value).toBeNull();
    world.sheets.set(`/api/sheets/${HASH}?role=deck`, SHEET);
    await world.pass(1000);
    expect(link.practice.value?.sheet).toEqual(SHEET);
  });
});

describe('a page follows the run', () => {
  it('[RUN2] folds what it is told', async () => {
    const link = await open();
    world.send('event', eventOf(1));
    expect(link.practice.value?.run).toMatchObject({ seq: 1, state: 'running' });
    world.send('event', eventOf(2));
    expect(link.practice.value?.run).toMatchObject({ seq: 2, state: 'held' });
  });

  it('an event it has already is nothing new', async () => {
    const link = await open();
    world.send('event', eventOf(1));
    const before = link.practice.value;
    world.send('event', eventOf(1));
    expect(link.practice.value).toBe(before);
  });

  it('catches up with a new hello when an event is missing', async () => {
    const link = await open();
    world.answers.set('hello', () => world.helloAnswer(3));
    world.send('event', eventOf(3));
    await world.settle();
    expect(world.timesAsked('hello')).toBe(2);
    expect(link.practice.value?.run.seq).toBe(3);
  });

  it('[CMD7] goes on with the sheet it has until the changed one has come', async () => {
    const link = await open();
    const changed = sheetHashSchema.parse(HASH.replace('a', '0'));
    const changedPath = `/api/sheets/${changed}?role=deck`;
    world.send('event', { ...eventOf(1), sheet: changed });
    world.send('event', eventOf(2));
    await world.settle();
    expect(link.practice.value).toMatchObject({ run: { seq: 0, sheet: HASH }, sheet: { title: 'Two lengths' } });
    world.sheets.set(changedPath, { ...SHEET, title: 'Two more lengths' });
    await world.pass(1000);
    expect(link.practice.value).toMatchObject({
      run: { seq: 2, sheet: changed, state: 'held' },
      sheet: { title: 'Two more lengths' },
    });
  });

  it('[CMD7] a change that is taken back before its sheet has come leaves the sheet it has', async () => {
    const link = await open();
    const changed = sheetHashSchema.parse(HASH.replace('a', '0'));
    world.send('event', { ...eventOf(1), sheet: changed });
    world.send('event', { ...eventOf(2), sheet: HASH });
    await world.settle();
    expect(link.practice.value).toMatchObject({ run: { seq: 2, sheet: HASH }, sheet: { title: 'Two lengths' } });
  });

  it('shows nothing of another run until its sheet has come', async () => {
    const link = await open();
    const { run, labels } = liveAt(0);
    const other = { ...run, id: runIdSchema.parse(RUN.replace('b', '9')), sheet: HASH.replace('a', '0') };
    world.send('run', { run: other, labels });
    await world.settle();
    expect(link.practice.value).toBeNull();
  });

  it('has nothing once nothing is on the wall', async () => {
    const link = await open();
    world.send('run', { run: null, labels: {} });
    expect(link.practice.value).toBeNull();
    world.send('run', liveAt(0));
    expect(link.practice.value?.run.id).toBe(RUN);
  });

  it('asks for the whole state when it is told something it cannot read', async () => {
    await open();
    world.send('event', { seq: 'one' });
    await world.settle();
    expect(world.timesAsked('hello')).toBe(2);
  });
});

describe('a page without its server', () => {
  it('[CMD8] says so after three seconds of silence, and keeps the practice', async () => {
    const link = await open();
    await world.pass(2875);
    world.answers.set('sync', () => null);
    await world.pass(2900);
    expect(link.state.value).toBe('live');
    await world.pass(200);
    expect(link.state.value).toBe('alone');
    expect(link.practice.value).not.toBeNull();
  });

  it('says so at once when the connection breaks, and is in step again when it is back', async () => {
    const link = await open();
    await world.pass(5000);
    world.lose();
    expect(link.state.value).toBe('alone');
    const before = world.timesAsked('sync');
    world.answers.set('hello', () => world.helloAnswer(7));
    world.connect();
    await world.pass(1000);
    expect(link.state.value).toBe('live');
    expect(link.practice.value?.run.seq).toBe(7);
    expect(world.timesAsked('sync') - before).toBe(8);
  });

  it('opens again by itself after the server closed the connection', async () => {
    const link = await open();
    world.lose(true);
    await world.pass(1000);
    expect(link.state.value).toBe('live');
  });

  it('is connecting, not alone, while it has never been there', async () => {
    world.reachable = false;
    const link = await open();
    world.lose();
    expect(link.state.value).toBe('connecting');
  });
});

describe('a press', () => {
  const hold = { kind: 'hold', pressedAt: instant(1_000_001.25) } as const;

  it('[CMD1] carries its own id, the device, the run, the last event seen and a whole millisecond', async () => {
    world.answers.set('command', () => ({ ok: true, seq: 2 }));
    const link = await open();
    world.send('event', eventOf(1));
    expect(await link.press(hold)).toEqual({ ok: true, seq: 2 });
    const sent = commandSchema.parse(world.asked.at(-1)?.payload);
    expect(sent).toMatchObject({ kind: 'hold', device: DEVICE, run: RUN, basedOnSeq: 1, pressedAt: 1_000_001 });
  });

  it('[CMD3] gives the server’s refusal with what happened meanwhile, and catches up', async () => {
    const refusal = { ok: false, code: 'overtaken', message: 'Somebody was quicker.', since: ['Held at :32.'] };
    world.answers.set('command', () => refusal);
    const link = await open();
    world.answers.set('hello', () => world.helloAnswer(4));
    expect(await link.press(hold)).toEqual(refusal);
    await world.settle();
    expect(link.practice.value?.run.seq).toBe(4);
  });

  it('[CMD8] comes to nothing after three seconds without an answer, and is not kept for later', async () => {
    const link = await open();
    const pressed = link.press(hold);
    await world.pass(3000);
    expect(await pressed).toBeNull();
    world.lose();
    expect(await link.press(hold)).toBeNull();
    world.connect();
    await world.pass(3000);
    expect(world.timesAsked('command')).toBe(1);
  });

  it('is refused here when nothing is on the wall', async () => {
    const link = await open();
    world.send('run', { run: null, labels: {} });
    expect(await link.press(hold)).toMatchObject({ ok: false, code: 'no-run' });
  });
});

describe('a page’s own report', () => {
  const status = { syncBoundMs: 4, width: 800, height: 600 };

  it('[SYN5] is sent again after the connection was lost', async () => {
    const link = await open();
    link.report(status);
    world.lose();
    link.report(status);
    world.connect();
    await world.settle();
    expect(world.timesAsked('status')).toBe(2);
  });
});

describe('a page and the walls', () => {
  const set = { number: 2, settings: null };

  it('has what a wall is told of itself with the hello, and again when it changes', async () => {
    world.answers.set('hello', () => ({ ...world.helloAnswer(0), wall: { number: 1, settings: null } }));
    const link = openLink({ role: 'wall', parts: world.parts });
    await world.settle();
    expect(link.wall.value).toEqual({ number: 1, settings: null });
    world.send('wall', set);
    expect(link.wall.value).toEqual(set);
    world.send('wall', { number: 'two' });
    expect(link.wall.value).toEqual(set);
    world.lose();
    expect(link.wall.value).toEqual(set);
  });

  it('is asked anew each time to say which one it is', async () => {
    const link = openLink({ role: 'wall', parts: world.parts });
    let asked = 0;
    link.identify.subscribe((identify) => {
      asked += identify ? 1 : 0;
    });
    await world.settle();
    world.send('identify', { forMs: 8000 });
    world.send('identify', { forMs: 8000 });
    expect(asked).toBe(2);
  });
});

import { describe, expect, test } from 'vitest';
import { deviceNameFor } from '../../client/pair/device-name.ts';
import { askedBy, createPair, type PairParts } from '../../client/pair/pair-model.ts';
import { pairedIdSchema } from '../../shared-types/brand.ts';
import type { PairDevice, Paired } from '../../shared-types/wire/pairing.ts';

const PAIRED: Paired = { id: pairedIdSchema.parse('a'.repeat(32)), name: 'Tablet', access: 'coach' };
const NOT_PAIRED = { ok: false, code: 'not-paired', message: 'This device is not paired.' } as const;

function page(asked: Partial<PairParts['asked']> = {}, known: Paired | null = null) {
  const opened: string[] = [];
  const sent: PairDevice[] = [];
  const pair = createPair({
    asked: { to: null, code: '', key: '', isEnded: false, ...asked },
    name: 'Deck, iPad',
    server: {
      leave: async () => ({ ok: true, value: null }),
      access: async () => (known ? { ok: true, value: known } : NOT_PAIRED),
      pair: async (device) => {
        sent.push(device);
        return device.code === 'WRONG' ? { ...NOT_PAIRED, code: 'wrong-code' } : { ok: true, value: PAIRED };
      },
    },
    open: (path) => opened.push(path),
  });
  return { pair, opened, sent };
}

describe('the page that pairs', () => {
  test('goes on at once where the device is paired well enough', async () => {
    const { pair, opened } = page({ to: '/deck' }, PAIRED);
    await pair.start();
    expect([opened, pair.state.value]).toEqual([['/deck'], 'asking']);
  });

  test('asks for another code where what it is paired as is not enough, or a code came along', async () => {
    const screen = page({ to: '/deck' }, { ...PAIRED, access: 'screen' });
    await screen.pair.start();
    expect([screen.opened, screen.pair.state.value, screen.pair.paired.value?.access]).toEqual([
      [],
      'typing',
      'screen',
    ]);
    const again = page({ to: '/deck', code: 'ABCD-EFGH' }, PAIRED);
    await again.pair.start();
    expect([again.opened, again.pair.state.value]).toEqual([[], 'typing']);
  });

  test('opens what was asked for after pairing, or what the device is for', async () => {
    const asked = page({ to: '/deck', code: 'ABCD-EFGH' });
    await asked.pair.pair();
    expect([asked.sent, asked.opened]).toEqual([[{ code: 'ABCD-EFGH', name: 'Deck, iPad' }], ['/deck']]);
    const unasked = page();
    await unasked.pair.pair();
    expect(unasked.opened).toEqual(['/deck']);
  });

  test('says why it was refused, keeps what was typed and lets it be mended', async () => {
    const { pair, opened } = page({ code: 'WRONG' });
    await pair.pair();
    expect([opened, pair.state.value, pair.code.value]).toEqual([[], 'typing', 'WRONG']);
    expect(pair.problem.value?.message).toBe('This device is not paired.');
  });

  test('ends the pairing that the device has', async () => {
    const { pair } = page({}, PAIRED);
    await pair.start();
    expect(pair.paired.value?.name).toBe('Tablet');
    await pair.leave();
    expect([pair.paired.value, pair.state.value]).toEqual([null, 'typing']);
  });

  test('goes on to pages of its own server only', () => {
    for (const to of ['//evil.test', 'https://evil.test/deck', '/desk/../..', 'javascript:alert(1)', '/api/squad']) {
      expect(askedBy({ search: `?to=${encodeURIComponent(to)}`, hash: '' }).to).toBeNull();
    }
    const hash = '#code=ABCD-EFGH';
    expect(askedBy({ search: '?to=/wall', hash })).toEqual({ to: '/wall', code: 'ABCD-EFGH', key: '', isEnded: false });
    expect(askedBy({ search: '?to=/deck&ended', hash: '' })).toMatchObject({ to: '/deck', isEnded: true });
  });

  test('has a name to begin with, out of what the browser says of its machine', () => {
    const called = (to: string | null, userAgent: string, maxTouchPoints = 0) =>
      deviceNameFor(to, { userAgent, maxTouchPoints });
    const mac = 'Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 Version/17.0 Safari/605.1.15';
    expect(called('/deck', mac, 5)).toBe('Deck, iPad');
    expect(called('/desk', mac)).toBe('Desk, Mac');
    expect(called('/wall', 'Mozilla/5.0 (SMART-TV; Linux; Tizen 7.0) AppleWebKit/537.36')).toBe('Wall, TV');
    expect(called(null, 'Mozilla/5.0 (Linux; Android 14; Tab) AppleWebKit/537.36')).toBe('Android tablet');
    expect(called(null, 'Something else')).toBe('');
  });
});

import { signal } from '@preact/signals';
import { describe, expect, test } from 'vitest';
import { createDevices } from '../../client/desk/devices-model.ts';
import { pairedWords, pairingAddress, placesOf, seenWords } from '../../client/desk/devices-words.ts';
import { createQuestions } from '../../client/desk/questions.ts';
import { instant, pairedIdSchema } from '../../shared-types/brand.ts';
import type { Access } from '../../shared-types/wire/access.ts';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';
import type { DevicesAnswer, PairedDevice, ShownCode } from '../../shared-types/wire/pairing.ts';

const NOW = Date.UTC(2027, 0, 15, 17, 30);
const device = (digit: string, more: Partial<PairedDevice> = {}): PairedDevice => ({
  id: pairedIdSchema.parse(digit.repeat(32)),
  name: `Device ${digit}`,
  access: 'coach',
  pairedAt: NOW,
  seenAt: NOW,
  pages: 0,
  ...more,
});
const OWN = device('a', { access: 'owner' });
const CODE: ShownCode = { code: 'ABCD-EFGH', access: 'coach', until: NOW + 600_000 };

function devicesOn(access: Access = 'owner') {
  const paired = { list: [OWN] };
  const asked: string[] = [];
  const timers: (() => void)[] = [];
  const screens = signal<readonly ScreenInfo[]>([]);
  const questions = createQuestions();
  const list = async (what: string): Promise<{ ok: true; value: DevicesAnswer }> => {
    asked.push(what);
    return { ok: true, value: { devices: paired.list, addresses: ['http://192.0.2.7:4050'] } };
  };
  const devices = createDevices({
    server: {
      ownAccess: async () => ({ ok: true, value: { ...OWN, access } }),
      devices: () => list('devices'),
      endDevice: (id) => {
        paired.list = paired.list.filter((each) => each.id !== id);
        return list('end');
      },
      showCode: async () => ({ ok: true, value: CODE }),
      hideCode: async () => ({ ok: true, value: { ended: true } }),
    },
    link: { screens, clock: { now: () => instant(NOW), shownAt: instant, at: instant, boundMs: () => null } },
    questions,
    later: (run) => {
      timers.push(run);
      return () => void timers.splice(timers.indexOf(run), 1);
    },
  });
  return { devices, paired, asked, timers, screens, questions };
}

describe('the paired devices', () => {
  test('are asked for by owners alone', async () => {
    const owner = devicesOn();
    await owner.devices.reload();
    expect(owner.devices.list.value?.devices).toEqual([OWN]);
    const coach = devicesOn('coach');
    await coach.devices.reload();
    expect([coach.devices.own.value?.access, coach.devices.list.value, coach.asked]).toEqual(['coach', null, []]);
  });

  test('are another list when one comes by the code, which then goes away', async () => {
    const { devices, paired } = devicesOn();
    await devices.reload();
    await devices.show('coach');
    expect(devices.shown.value).toEqual(CODE);
    paired.list = [OWN, device('b')];
    await devices.reload();
    expect([devices.shown.value, devices.joined.value?.name]).toEqual([null, 'Device b']);
    await devices.show('screen');
    expect(devices.joined.value).toBeNull();
  });

  test('leave the code as it is while one ends', async () => {
    const { devices, paired, questions } = devicesOn();
    paired.list = [OWN, device('b')];
    await devices.reload();
    await devices.show('coach');
    const ending = devices.end(device('b'));
    expect(questions.open.value?.title).toBe('End the pairing of “Device b”?');
    questions.answer(true);
    await ending;
    expect([devices.shown.value, devices.list.value?.devices]).toEqual([CODE, [OWN]]);
  });

  test('are asked for again when screens come and go, not when they report', async () => {
    const { devices, asked, screens } = devicesOn();
    await devices.reload();
    const screen = { device: 'c'.repeat(32), role: 'deck', syncBoundMs: null, width: null, height: null };
    const come = async (bound: number | null) => {
      const there: unknown[] = [{ ...screen, syncBoundMs: bound }];
      screens.value = there.filter((each): each is ScreenInfo => each !== null);
      await new Promise((resolve) => setImmediate(resolve));
    };
    await come(null);
    await come(3);
    expect(asked).toEqual(['devices', 'devices']);
  });

  test('are shown no code that is over', async () => {
    const { devices, timers } = devicesOn();
    await devices.show('coach');
    timers[0]?.();
    expect(devices.shown.value).toBeNull();
  });
});

describe('the address for a camera', () => {
  test('is the network’s, not that of the computer itself', () => {
    const network = ['http://192.0.2.7:4050', 'http://198.51.100.4:4050'];
    expect(placesOf(new URL('http://localhost:4050'), network)).toEqual(network);
    expect(placesOf(new URL('http://pool.test:4050'), network)).toEqual(['http://pool.test:4050', ...network]);
    expect(placesOf(new URL('http://127.0.0.1:4050'), [])).toEqual([]);
  });

  test('has the code behind the #, and the page that the device is for', () => {
    const at = (access: Access) => pairingAddress('http://192.0.2.7:4050', { ...CODE, access });
    expect(at('screen')).toBe('http://192.0.2.7:4050/pair?to=/wall#code=ABCD-EFGH');
    expect(at('coach')).toBe('http://192.0.2.7:4050/pair?to=/deck#code=ABCD-EFGH');
    expect(at('owner')).toBe('http://192.0.2.7:4050/pair?to=/desk#code=ABCD-EFGH');
  });
});

test('a device is here, was here today, or on a day', () => {
  const face = { timezone: 'Europe/Lisbon', trimMs: 0 };
  const seen = (more: Partial<PairedDevice>) => seenWords(device('b', more), instant(NOW), face);
  expect(seen({ pages: 2 })).toBe('2 pages open');
  expect(seen({ seenAt: NOW - 3_600_000 })).toBe('today at 16:30');
  expect(seen({ seenAt: NOW - 7 * 86_400_000 })).toBe('8 Jan');
  const paired = { access: 'coach', pairedAt: NOW - 7 * 86_400_000 } as const;
  expect(pairedWords(device('b', paired), instant(NOW), face)).toBe('coach, since 8 Jan');
});

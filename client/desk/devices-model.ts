import { effect, type ReadonlySignal, signal } from '@preact/signals';
import { isolated } from '../../shared-types/isolated.ts';
import type { Access } from '../../shared-types/wire/access.ts';
import type { DevicesAnswer, Paired, PairedDevice, ShownCode } from '../../shared-types/wire/pairing.ts';
import type { Link } from '../common/live.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import { createNewest } from './newest.ts';
import type { Later } from './preview-model.ts';
import { type Problem, problemOf } from './problem.ts';
import type { Questions } from './questions.ts';

/** The devices that may use this server, and how another becomes one. */
export interface DevicesModel {
  /** Who this desk is; null until the server has told. */
  readonly own: ReadonlySignal<Paired | null>;
  /** Null where this desk may not know, or not yet. */
  readonly list: ReadonlySignal<DevicesAnswer | null>;
  /** The code that is shown now. */
  readonly shown: ReadonlySignal<ShownCode | null>;
  /** The device that came by the last code. */
  readonly joined: ReadonlySignal<PairedDevice | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  reload(): Promise<void>;
  /** Shows a code for one device. */
  show(access: Access): Promise<void>;
  hide(): Promise<void>;
  /** Asks first. */
  end(device: PairedDevice): Promise<void>;
}

interface DevicesParts {
  readonly server: Pick<DeskServer, 'ownAccess' | 'devices' | 'showCode' | 'hideCode' | 'endDevice'>;
  readonly link: Pick<Link, 'clock' | 'screens'>;
  readonly questions: Questions;
  readonly later: Later;
}

export function createDevices({ server, link, questions, later }: DevicesParts): DevicesModel {
  const own = signal<Paired | null>(null);
  const list = signal<DevicesAnswer | null>(null);
  const shown = signal<ShownCode | null>(null);
  const joined = signal<PairedDevice | null>(null);
  const problem = signal<Problem | null>(null);
  const newest = createNewest();
  let callOff = (): void => {};

  /** A device that was not there before came by the code, which is worth nothing any more. */
  function take({ devices, addresses }: DevicesAnswer): void {
    const known = new Set(list.peek()?.devices.map(({ id }) => id));
    const added = devices.find(({ id }) => !known.has(id));
    if (shown.peek() && list.peek() && added) {
      joined.value = added;
      forget();
    }
    list.value = { devices, addresses };
  }

  function forget(): void {
    callOff();
    shown.value = null;
  }

  const takeOrSay = (answer: Outcome<DevicesAnswer>): void => {
    problem.value = answer.ok ? null : problemOf(answer);
    if (answer.ok) take(answer.value);
  };

  async function reload(): Promise<void> {
    const known = await server.ownAccess();
    if (!known.ok) return;
    own.value = known.value;
    if (known.value.access === 'owner') await newest.take(server.devices(), takeOrSay);
  }

  /** Who has pages open is another list as soon as screens come or go. */
  function followScreens(): void {
    let there = '';
    effect(() => {
      const now = link.screens.value.map(({ device }) => device).join(' ');
      if (now !== there && list.peek()) void reload();
      there = now;
    });
  }

  followScreens();
  return {
    own,
    list,
    shown,
    joined,
    problem,
    reload,
    show: async (access) => {
      joined.value = null;
      const answer = await server.showCode(access);
      problem.value = answer.ok ? null : problemOf(answer);
      if (!answer.ok) return;
      callOff();
      shown.value = answer.value;
      callOff = later(forget, Math.max(0, answer.value.until - link.clock.now()));
    },
    hide: async () => {
      forget();
      const answer = await server.hideCode();
      if (!answer.ok) problem.value = problemOf(answer);
    },
    end: async (device) => {
      const isOwn = device.id === own.peek()?.id;
      const sure = await questions.ask({
        title: `End the pairing of “${isolated(device.name)}”?`,
        body: isOwn
          ? 'That is this desk: it is cut off at once. Another owner, or the address that the server prints when it starts, lets it in again.'
          : 'It is cut off at once and shows nothing any more. With another code it can be paired again.',
        yes: 'End it',
        no: 'Keep it',
      });
      if (sure) await newest.take(server.endDevice(device.id), takeOrSay);
    },
  };
}

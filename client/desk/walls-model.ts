import { type ReadonlySignal, signal } from '@preact/signals';
import type { DeviceId } from '../../shared-types/brand.ts';
import type { WallInfo, WallSettings } from '../../shared-types/wire/walls.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import { type Problem, problemOf } from './problem.ts';
import type { Questions } from './questions.ts';
import { calledOf } from './wall-words.ts';

/** What the desk does to the walls. How they are then is told by the server, as to every desk. */
export interface WallsModel {
  /** The wall that is being set up. */
  readonly open: ReadonlySignal<DeviceId | null>;
  /** Why the server would not set it up as written. */
  readonly refused: ReadonlySignal<Problem | null>;
  /** What else went wrong. */
  readonly problem: ReadonlySignal<Problem | null>;
  setUp(device: DeviceId): void;
  leave(): void;
  save(device: DeviceId, settings: WallSettings): Promise<void>;
  identify(device: DeviceId): Promise<void>;
  /** Asks first. */
  forget(wall: WallInfo): Promise<void>;
}

export function createWalls(
  server: Pick<DeskServer, 'setWall' | 'forgetWall' | 'identifyWall'>,
  questions: Questions,
): WallsModel {
  const open = signal<DeviceId | null>(null);
  const refused = signal<Problem | null>(null);
  const problem = signal<Problem | null>(null);
  const problemIn = (answer: Outcome<unknown>): Problem | null => (answer.ok ? null : problemOf(answer));

  function show(device: DeviceId | null): void {
    open.value = device;
    refused.value = null;
  }

  return {
    open,
    refused,
    problem,
    setUp: show,
    leave: () => show(null),
    save: async (device, settings) => {
      const answer = await server.setWall(device, settings);
      if (answer.ok) show(null);
      else refused.value = problemOf(answer);
    },
    identify: async (device) => {
      problem.value = problemIn(await server.identifyWall(device));
    },
    forget: async (wall) => {
      const sure = await questions.ask({
        title: `Forget ${calledOf(wall)}?`,
        body: 'What was set for it is gone then. Should it come back, it is a new wall.',
        yes: 'Forget it',
        no: 'Keep it',
      });
      if (sure) problem.value = problemIn(await server.forgetWall(wall.device));
    },
  };
}

import type { Instant } from '../../shared-types/brand.ts';
import type { Command, CommandKind, Refusal } from '../../shared-types/commands.ts';
import type { RunEvent, RunState } from '../../shared-types/events.ts';
import type { LaneMotion } from '../../shared-types/motion.ts';
import type { SheetLane } from '../../shared-types/sheet.ts';

/** Every lane's vector after a command, or why it cannot be carried out. */
export type Vectors = LaneMotion[] | Refusal;

/** A refusal for a command that the run, as it is, does not allow. */
export const notNow = (message: string, fix?: string): Refusal => ({
  ok: false,
  code: 'not-now',
  message,
  ...(fix === undefined ? {} : { fix }),
});

/** `on rep 2 of 4`, or `about to leave on rep 1 of 6` when none has begun. */
export function repWords({ steps }: SheetLane, begun: number, ahead: number): string {
  const inHand = steps[begun];
  if (inHand?.kind === 'rep') return `on rep ${inHand.rep} of ${inHand.reps}`;
  const next = steps[ahead];
  return next?.kind === 'rep' ? `about to leave on rep ${next.rep} of ${next.reps}` : 'on its way';
}

/** `5 s`, `2.5 s` */
export const secondsText = (durationMs: number): string => `${Math.round(durationMs / 100) / 10} s`;

const HAS_ENDED = notNow('This practice has ended.');
const NOT_STARTED = notNow('The practice has not started.', 'Press start.');
const IS_HELD = notNow('The lanes are held.', 'Press resume first.');

/** [RUN4] Why a state does not allow a command; null when it does. */
export function refusedIn(state: RunState, kind: CommandKind): Refusal | null {
  if (kind === 'undo') return null;
  if (state === 'finished') return HAS_ENDED;
  if (kind === 'finish') return null;
  if (kind === 'change') return null;
  if (kind === 'start') return state === 'ready' ? null : notNow('The practice has already started.');
  if (state === 'ready') return NOT_STARTED;
  if (kind === 'resume') return state === 'held' ? null : notNow('The lanes are not held.');
  if (state === 'running' || kind === 'recall') return null;
  return kind === 'hold' ? notNow('The lanes are already held.') : IS_HELD;
}

const DONE: Readonly<Record<RunEvent['kind'], string>> = {
  start: 'started the practice',
  hold: 'held the lanes',
  resume: 'let the lanes go on',
  go: 'said go',
  next: 'went to the next send-off',
  nextSet: 'went to the next set',
  back: 'went back a rep',
  shift: 'moved',
  realign: 'moved',
  recall: 'took the go back',
  undo: 'took the last press back',
  change: 'changed the practice',
  finish: 'ended the practice',
};

/** `another device held the lanes 2 s ago` */
function happened({ kind, lane, at }: RunEvent, now: Instant): string {
  const what = kind === 'shift' || kind === 'realign' ? `moved lane ${lane}` : DONE[kind];
  return `another device ${what} ${Math.max(0, Math.round((now - at) / 1000))} s ago`;
}

const movesOneLane = (kind: RunEvent['kind']): boolean => kind === 'shift' || kind === 'realign';

/** [CMD3] The refusal when other devices' events came in between; null when none that matters to the command did. */
export function overtaken(command: Command, later: readonly RunEvent[], now: Instant): Refusal | null {
  const others = later.filter(
    ({ seq, device, kind }) =>
      seq > command.basedOnSeq && device !== command.device && !(movesOneLane(command.kind) && movesOneLane(kind)),
  );
  if (others.length === 0) return null;
  return {
    ok: false,
    code: 'overtaken',
    message: 'Somebody else was quicker, so this press did nothing.',
    fix: 'Look at the lanes and press again if it is still needed.',
    since: others.map((event) => happened(event, now)),
  };
}

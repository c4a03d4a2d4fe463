import type { Style } from './practice.ts';
import type { Sheet, SheetLane, Step } from './sheet.ts';

/** What a lane swims of something, and how long that takes it. */
export interface Volume {
  /** What one swimmer of the lane swims, in the course's unit: of the heats of a rep only one. */
  readonly distance: number;
  /** How many sets; one that is swum in several rounds counts once. */
  readonly sets: number;
  /** The lane's time in ms, all heats of a rep included. */
  readonly ms: number;
}

const NOTHING: Volume = { distance: 0, sets: 0, ms: 0 };

/** The distance one swimmer swims in a step: who swims the first heat swims no other. */
export const swumIn = (step: Step): number =>
  step.kind === 'rep' && (step.heat ?? 1) === 1 ? (step.distance ?? 0) : 0;

/** The volumes of a lane's steps, summed up under what `keyOf` says; steps for which it says nothing are left out. */
function volumesBy<Key>(steps: readonly Step[], keyOf: (step: Step) => Key | undefined): Map<Key, Volume> {
  const volumes = new Map<Key, Volume>();
  const counted = new Map<Key, Set<number>>();
  for (const step of steps) {
    const key = keyOf(step);
    if (key === undefined) continue;
    const { distance, ms } = volumes.get(key) ?? NOTHING;
    const sets = counted.get(key) ?? new Set();
    if (step.kind === 'rep') sets.add(step.set);
    counted.set(key, sets);
    volumes.set(key, { distance: distance + swumIn(step), sets: sets.size, ms: ms + step.durationMs });
  }
  return volumes;
}

/** What the lane swims of each style, in the order in which it comes to them; rests belong to none. */
export function volumesByStyle({ sets }: Pick<Sheet, 'sets'>, { steps }: Pick<SheetLane, 'steps'>): Map<Style, Volume> {
  return volumesBy(steps, (step) => (step.kind === 'rep' ? sets[step.set]?.style : undefined));
}

/**
 * What the lane swims in each of the sheet's sections, one entry a section. Every rest is part of the section it stands
 * in, and the wait for slower lanes part of the section that they are still in, so the times add up to the lane's.
 */
export function volumesBySection(
  { sections }: Pick<Sheet, 'sections'>,
  { steps }: Pick<SheetLane, 'steps'>,
): readonly Volume[] {
  let before: number | undefined;
  const volumes = volumesBy(steps, (step) => {
    // The join that a section begins with stands on the section's own line.
    const waits = step.kind === 'rest' && step.reason === 'join' && step.line === sections[step.section]?.line;
    before = waits ? (before ?? step.section) : step.section;
    return before;
  });
  return sections.map((_, index) => volumes.get(index) ?? NOTHING);
}

/** A lane's styles as a sheet keeps them: minutes to one decimal. */
export function styleMinutes(sheet: Pick<Sheet, 'sets'>, lane: Pick<SheetLane, 'steps'>): Sheet['byStyle'] {
  const minutes: Sheet['byStyle'] = {};
  for (const [style, { distance, sets, ms }] of volumesByStyle(sheet, lane)) {
    minutes[style] = { distance, sets, minutes: Math.round(ms / 6000) / 10 };
  }
  return minutes;
}

/** The lane that swims most; of several the first; undefined on a sheet without lanes. */
export const longestLane = <Lane extends Pick<SheetLane, 'distance'>>(lanes: readonly Lane[]): Lane | undefined =>
  lanes.reduce<Lane | undefined>((most, lane) => (!most || lane.distance > most.distance ? lane : most), undefined);

import { laneNumberSchema } from '../../shared-types/brand.ts';
import { END_NAMES } from '../../shared-types/pool.ts';
import {
  LANE_ORDERS,
  WALL_SETTING_CURES,
  type WallInfo,
  type WallSettings,
  wallSettingsSchema,
} from '../../shared-types/wire/walls.ts';
import type { Problem } from './problem.ts';

/** A wall's settings as the form's fields hold them. */
export interface WallFields {
  readonly name: string;
  readonly place: string;
  readonly lanes: string;
  readonly order: string;
  readonly diagonal: string;
  readonly distance: string;
  readonly sound: string;
  readonly offset: string;
}

type Option = readonly [value: string, words: string];

interface WallField {
  readonly name: keyof WallFields;
  readonly label: string;
  /** Absent: it is written. */
  readonly options?: readonly Option[];
  readonly hint?: string;
}

const SOUNDS: readonly Option[] = [
  ['off', 'Off'],
  ['on', 'On'],
];

/** The fields in the order of the form. */
export const WALL_FORM: readonly WallField[] = [
  { name: 'name', label: 'Name' },
  {
    name: 'place',
    label: 'Hangs at',
    options: [
      ['near', 'the near wall, with the blocks'],
      ['far', 'the far wall'],
    ],
  },
  { name: 'lanes', label: 'Lanes shown', hint: 'Write all, or 4-6, or 1, 3, 5.' },
  {
    name: 'order',
    label: 'Order of lanes',
    options: [
      ['first-on-top', 'Lane 1 at the top'],
      ['last-on-top', 'Lane 1 at the bottom'],
    ],
  },
  { name: 'diagonal', label: 'Diagonal, inches', hint: 'Nothing means 65, or what its address says.' },
  { name: 'distance', label: 'Farthest reader, m', hint: 'Nothing means 10, or what its address says.' },
  { name: 'sound', label: 'Sound', options: SOUNDS },
  { name: 'offset', label: 'Sound later by, ms', hint: 'Less than 0 is earlier.' },
];

const shown = (value: number | null): string => (value === null ? '' : String(value));

export function wallFieldsOf({ number, settings }: Pick<WallInfo, 'number' | 'settings'>): WallFields {
  const { lanes = null, diagonalInches = null, distanceM = null } = settings ?? {};
  return {
    name: settings?.name ?? `Wall ${number}`,
    place: settings?.place ?? 'far',
    lanes: lanes === null ? 'all' : lanes.join(', '),
    order: settings?.order ?? 'first-on-top',
    diagonal: shown(diagonalInches),
    distance: shown(distanceM),
    sound: settings?.sound.on ? 'on' : 'off',
    offset: String(settings?.sound.offsetMs ?? 0),
  };
}

/** `4-6, 8` as lanes in order, null for all; undefined when it cannot be read. */
function lanesIn(text: string): WallSettings['lanes'] | undefined {
  const written = text
    .trim()
    .toLowerCase()
    .replace(/\s*[-–]\s*/g, '-');
  if (written === '' || written === 'all') return null;
  const lanes = new Set<number>();
  for (const part of written.split(/[\s,]+/).filter(Boolean)) {
    const [, from = '', to = from] = /^(\d+)(?:-(\d+))?$/.exec(part) ?? [];
    if (from === '' || Number(to) < Number(from) || Number(to) > 12) return undefined;
    for (let lane = Number(from); lane <= Number(to); lane += 1) lanes.add(lane);
  }
  return laneNumberSchema
    .array()
    .min(1)
    .safeParse([...lanes].sort((a, b) => a - b)).data;
}

/** A number as written, with comma or point; null for nothing. */
const numberIn = (text: string): number | null => (text.trim() === '' ? null : Number(text.trim().replace(',', '.')));

/** What of the form each setting is, to say which cannot be used. */
const FIELD_OF: Readonly<Record<keyof WallSettings, keyof WallFields>> = {
  name: 'name',
  place: 'place',
  lanes: 'lanes',
  order: 'order',
  diagonalInches: 'diagonal',
  distanceM: 'distance',
  sound: 'offset',
};

function problemAt(setting: keyof WallSettings, fields: WallFields): Problem {
  const field = FIELD_OF[setting];
  const label = WALL_FORM.find(({ name }) => name === field)?.label ?? setting;
  return { message: `${label}: “${fields[field]}” cannot be used.`, fix: WALL_SETTING_CURES[setting] };
}

/** The settings as the fields say them, or the first thing that cannot be used. */
export function wallSettingsFrom(fields: WallFields): WallSettings | Problem {
  const lanes = lanesIn(fields.lanes);
  if (lanes === undefined) return problemAt('lanes', fields);
  const read = wallSettingsSchema.safeParse({
    name: fields.name,
    place: END_NAMES.find((end) => end === fields.place),
    lanes,
    order: LANE_ORDERS.find((order) => order === fields.order),
    diagonalInches: numberIn(fields.diagonal),
    distanceM: numberIn(fields.distance),
    sound: { on: fields.sound === 'on', offsetMs: numberIn(fields.offset) ?? 0 },
  });
  if (read.success) return read.data;
  const place = read.error.issues[0]?.path[0];
  const setting = Object.keys(FIELD_OF).find((name): name is keyof WallSettings => name === place) ?? 'name';
  return problemAt(setting, fields);
}

import { z } from 'zod';
import { deviceIdSchema, instantSchema, laneNumberSchema } from '../brand.ts';
import { nameSchema } from '../plain-name.ts';
import { END_NAMES } from '../pool.ts';

/**
 * How each wall is set up: by the desk, over HTTP. A wall is told what is its own in the answer to its hello and by the
 * broadcasts `wall` and `identify`; desks are told of all walls by the broadcast `walls` (see from-server.ts).
 *
 * | request | body | answer |
 * | --- | --- | --- |
 * | PUT /api/walls/:device | WallSettings | WallInfo[] |
 * | DELETE /api/walls/:device | | WallInfo[]: what was set is forgotten, and a wall that is not connected with it |
 * | POST /api/walls/:device/identify | | Identify: the wall says its name and number; 409 when it is not connected |
 */

/** Lane 1 at the top; or at the bottom, for those who look from the other side. */
export const LANE_ORDERS = ['first-on-top', 'last-on-top'] as const;

export const wallSettingsSchema = z.object({
  name: nameSchema(30),
  /** At the end with the blocks, or at the other. */
  place: z.enum(END_NAMES),
  /** Null: all lanes of the practice. */
  lanes: z
    .array(laneNumberSchema)
    .min(1)
    .max(12)
    .refine((lanes) => new Set(lanes).size === lanes.length, 'a lane is named twice')
    .nullable(),
  order: z.enum(LANE_ORDERS),
  /** Of the picture, inches. Null: what the page's address says. */
  diagonalInches: z.number().min(10).max(500).nullable(),
  /** From the screen to its farthest reader, metres. Null: what the page's address says. */
  distanceM: z.number().min(1).max(100).nullable(),
  /** `offsetMs` > 0: the tones come later, for loudspeakers that are ahead of the picture. */
  sound: z.object({ on: z.boolean(), offsetMs: z.number().int().min(-2000).max(2000) }),
});
export type WallSettings = z.infer<typeof wallSettingsSchema>;

/** What to write instead where a setting cannot be taken. */
export const WALL_SETTING_CURES: Readonly<Record<keyof WallSettings, string>> = {
  name: 'Write a name of 1 to 30 characters.',
  place: 'Choose the near or the far wall.',
  lanes: 'Name lanes from 1 to 12, each once, or all.',
  order: 'Choose lane 1 at the top or at the bottom.',
  diagonalInches: 'Write 10 to 500 inches, or nothing.',
  distanceM: 'Write 1 to 100 metres, or nothing.',
  sound: 'Write an offset of −2000 to 2000 whole milliseconds.',
};

/** What a wall is told of itself. */
export const wallSetUpSchema = z.object({
  /** By which the desk tells it from others; from 1. It stays with a wall that has been set up. */
  number: z.number().int().min(1),
  /** Null: nobody has set it up. */
  settings: wallSettingsSchema.nullable(),
});
export type WallSetUp = z.infer<typeof wallSetUpSchema>;

/** The wall is to say its name and number for so long, ms. */
export const identifySchema = z.object({ forMs: z.number().int().min(1).max(60_000) });
export type Identify = z.infer<typeof identifySchema>;

/** A wall that is connected, or that has been set up and may come back. */
export const wallInfoSchema = wallSetUpSchema.extend({
  device: deviceIdSchema,
  connected: z.boolean(),
  /** Since when it has been connected, or gone; null: gone since before the server started. */
  since: instantSchema.nullable(),
  /** [SYN5] Bound of its clock's error, ms; null until it reports one. */
  syncBoundMs: z.number().nullable(),
  /** From how far all that must be read on it can be, metres; null until it reports that. */
  readableToM: z.number().nullable(),
  /** Where its farthest reader is, metres, whoever said so; null until it reports that. */
  seenFromM: z.number().nullable(),
});
export type WallInfo = z.infer<typeof wallInfoSchema>;

export const wallInfosSchema = z.array(wallInfoSchema);

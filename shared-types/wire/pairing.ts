import { z } from 'zod';
import { pairedIdSchema } from '../brand.ts';
import { nameSchema } from '../plain-name.ts';
import { accessSchema } from './access.ts';

/**
 * How a device becomes one that may use this server, and stops being one.
 *
 * | request | body | answer |
 * | --- | --- | --- |
 * | GET /api/access | | Paired: who this device is here; 401 when it is not paired |
 * | DELETE /api/access | | Ended: this device is no longer paired |
 * | POST /api/devices | PairDevice | Paired, and a cookie; 403 for a wrong code, 429 after too many of them |
 * | GET /api/devices | | DevicesAnswer |
 * | DELETE /api/devices/:id | | DevicesAnswer: it is cut off at once |
 * | POST /api/pairing | ShowCode | ShownCode: the one that was shown before is worth nothing any more |
 * | DELETE /api/pairing | | Ended: no code is shown any more |
 */

/** Without what looks alike: no I, L, O and U (Crockford's base 32). */
export const CODE_SIGNS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Signs of a code that the desk shows: 40 bits. */
export const CODE_LENGTH = 8;

/** How long the desk shows a code, ms. */
export const CODE_FOR_MS = 10 * 60 * 1000;

const ALIKE: Readonly<Record<string, string>> = { I: '1', L: '1', O: '0' };

/** A code as it was typed, `abcd-ef0h`, as it is compared: `ABCDEF0H`. */
export const codeAsMeant = (typed: string): string =>
  typed
    .toUpperCase()
    .replace(/[\s-]/g, '')
    .replace(/[ILO]/g, (sign) => ALIKE[sign] ?? sign);

/** A code as it is read out: `ABCD-EF0H`. */
export const codeAsShown = (code: string): string => code.replace(/(.{4})(?=.)/g, '$1-');

export const endedSchema = z.object({ ended: z.literal(true) });

const deviceNameSchema = nameSchema(40);

export const pairDeviceSchema = z.object({
  /** The code that the desk shows, or the key that the server's terminal shows. */
  code: z.string().max(60),
  /** What the desk calls this device. */
  name: deviceNameSchema,
});
export type PairDevice = z.infer<typeof pairDeviceSchema>;

export const pairedSchema = z.object({ id: pairedIdSchema, name: z.string(), access: accessSchema });
export type Paired = z.infer<typeof pairedSchema>;

export const pairedDeviceSchema = pairedSchema.extend({
  /** On the pool's clock, ms. */
  pairedAt: z.number(),
  /** When it last came, to within some minutes, on the pool's clock, ms. */
  seenAt: z.number(),
  /** How many of its pages are open now. */
  pages: z.number().int().min(0),
});
export type PairedDevice = z.infer<typeof pairedDeviceSchema>;

/** Where other devices find this server, `http://192.0.2.7:4050`; none when it listens to its own machine only. */
const addressesSchema = z.array(z.string());

export const devicesSchema = z.object({ devices: z.array(pairedDeviceSchema), addresses: addressesSchema });
export type DevicesAnswer = z.infer<typeof devicesSchema>;

export const showCodeSchema = z.object({ access: accessSchema });

export const shownCodeSchema = z.object({
  code: z.string(),
  access: accessSchema,
  /** On the pool's clock, ms. */
  until: z.number(),
});
export type ShownCode = z.infer<typeof shownCodeSchema>;

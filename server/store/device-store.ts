import { z } from 'zod';
import { type PairedId, pairedIdSchema } from '../../shared-types/brand.ts';
import { accessSchema } from '../../shared-types/wire/access.ts';
import type { PairedDevice } from '../../shared-types/wire/pairing.ts';
import { type Database, query } from './database.ts';

const rowSchema = z
  .object({
    paired_id: pairedIdSchema,
    name: z.string(),
    access: accessSchema,
    secret_hash: z.string(),
    paired_at: z.number(),
    seen_at: z.number(),
  })
  .transform(
    ({ paired_id, name, access, secret_hash, paired_at, seen_at }): StoredDevice => ({
      id: paired_id,
      name,
      access,
      secretHash: secret_hash,
      pairedAt: paired_at,
      seenAt: seen_at,
    }),
  );

/** A paired device; of its secret only the SHA-256 is known, in hex. */
export interface StoredDevice extends Omit<PairedDevice, 'pages'> {
  readonly secretHash: string;
}

/** The paired devices, and the codes that were wrong. */
export class DeviceStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** @param made the name it gets if it has none yet */
  cookieName(made: string): string {
    const row = { id: 1, cookie_name: made };
    this.#database.run(
      query
        .insertInto('installation')
        .values(row)
        .onConflict((conflict) => conflict.doNothing()),
    );
    const asked = query.selectFrom('installation').select('cookie_name');
    return this.#database.first(asked, z.object({ cookie_name: z.string() }))?.cookie_name ?? made;
  }

  /** In the order in which they were paired. */
  devices(): StoredDevice[] {
    const asked = query.selectFrom('devices').selectAll().orderBy('paired_at').orderBy('paired_id');
    return this.#database.all(asked, rowSchema);
  }

  add({ id, name, access, secretHash, pairedAt, seenAt }: StoredDevice): void {
    const row = { paired_id: id, name, access, secret_hash: secretHash, paired_at: pairedAt, seen_at: seenAt };
    this.#database.run(query.insertInto('devices').values(row));
  }

  seen(id: PairedId, at: number): void {
    this.#database.run(query.updateTable('devices').set({ seen_at: at }).where('paired_id', '=', id));
  }

  remove(id: PairedId): void {
    this.#database.run(query.deleteFrom('devices').where('paired_id', '=', id));
  }

  /** Takes note of a wrong code and forgets those that count no more: of before `since`, or of a clock that was ahead. */
  wrongCode(at: number, address: string, since: number): void {
    this.#database.inTransaction(() => {
      this.#database.run(
        query.deleteFrom('wrong_codes').where((row) => row.or([row('at', '<', since), row('at', '>', at)])),
      );
      this.#database.run(query.insertInto('wrong_codes').values({ at, address }));
    });
  }

  /** When codes were wrong and from where, the last first. */
  wrongCodes(since: number, until: number): { at: number; address: string }[] {
    const asked = query.selectFrom('wrong_codes').select(['at', 'address']);
    const within = asked.where('at', '>=', since).where('at', '<=', until);
    return this.#database.all(within.orderBy('at', 'desc'), z.object({ at: z.number(), address: z.string() }));
  }
}

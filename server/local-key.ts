import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { hashOf, isSecretOf, newSecret } from './web/secrets.ts';

/** Of its user alone. */
const OWN = 0o600;

const localKeySchema = z.object({
  key: z.string(),
  /** The server's certificate, PEM; null: plain http. */
  cert: z.string().nullable(),
});
/** What a command on the server's machine needs to ask the running server. */
export type LocalKey = z.infer<typeof localKeySchema>;

const fileIn = (dataFolder: string): string => join(dataFolder, 'running.json');

/**
 * A key for as long as the server runs, in a file beside the database that only its user may read: whoever can read it
 * could read the database as well. It is worth something for the backup command alone.
 */
export class LocalKeeper {
  readonly #file: string;
  readonly #hash: string;

  /** @throws Error when the file cannot be written */
  constructor(dataFolder: string, cert: Buffer | null) {
    const key: LocalKey = { key: newSecret(), cert: cert?.toString() ?? null };
    this.#file = fileIn(dataFolder);
    this.#hash = hashOf(key.key);
    this.forget();
    writeFileSync(this.#file, JSON.stringify(key), { mode: OWN });
  }

  /** @param authorization the header, `Bearer …` */
  isKey(authorization: string | undefined): boolean {
    return authorization !== undefined && isSecretOf(authorization.replace(/^Bearer /, ''), this.#hash);
  }

  forget(): void {
    rmSync(this.#file, { force: true });
  }
}

/** @returns null when no server runs on this folder, or another user's */
export function readLocalKey(dataFolder: string): LocalKey | null {
  try {
    return localKeySchema.parse(JSON.parse(readFileSync(fileIn(dataFolder), 'utf8')));
  } catch {
    return null;
  }
}

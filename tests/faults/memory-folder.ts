import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** In memory where the machine has such a folder: thousands of writes are made durable. */
const ROOT = existsSync('/dev/shm') ? '/dev/shm' : tmpdir();

/** What `work` makes of a folder that is there as long as it works. */
export async function inMemoryFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(ROOT, 'farwall-'));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

import { parentPort, workerData } from 'node:worker_threads';
import { type Checked, checkCopy, settleCopy } from './backup-check.ts';

/** Checks the copy named by `workerData` on a thread of its own: reading every page of it takes a while. */
function check(file: string): Checked {
  try {
    settleCopy(file);
  } catch (error) {
    return { ok: false, why: error instanceof Error ? error.message : String(error) };
  }
  return checkCopy(file);
}

parentPort?.postMessage(check(String(workerData)));

import { expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { instant, type RunId } from '../../shared-types/brand.ts';
import type { Run, RunEvent } from '../../shared-types/events.ts';
import { foldEvents, newRun } from '../../shared-types/fold.ts';
import { placeAt } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { putDemoOn, TestScreen } from '../fixtures/running-server.ts';
import { ServerProcess } from '../fixtures/server-process.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const serverOn = (folder: string): ServerProcess => new ServerProcess(['--port', '0', '--data', folder]);

async function deckOn(url: string): Promise<{ deck: TestScreen; run: Run | null }> {
  const deck = new TestScreen(url, 'deck');
  const hello = await deck.hello();
  if (!hello.ok) throw new Error(hello.message);
  return { deck, run: hello.live.run };
}

const poolNow = async (deck: TestScreen): Promise<number> =>
  syncAnswerSchema.parse(await deck.ask('sync', { askedAt: 0 })).answeredAt;

/** The pool's clock, and ours before and after asking for it, ms. */
async function timedPoolNow(deck: TestScreen): Promise<{ askedAt: number; poolAt: number; answeredAt: number }> {
  const askedAt = performance.now();
  const poolAt = await poolNow(deck);
  return { askedAt, poolAt, answeredAt: performance.now() };
}

interface OnDisk {
  readonly events: RunEvent[];
  readonly run: Run;
  readonly sheet: Sheet;
}

/** What a server that is gone has left on disk. */
function onDisk(folder: string, id: RunId): OnDisk {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  const { runs } = opened.store;
  const stored = runs.liveRun();
  const sheet = stored && runs.sheet(stored.hash);
  const events = runs.eventsOf(id);
  opened.store.close();
  if (!stored || !sheet) throw new Error('the run is gone');
  return { events, sheet, run: foldEvents(newRun(stored.id, stored.hash, sheet, stored.loadedAt), events) };
}

test('[FLT1] killed in the middle of a run, the server has every lane where it should be', async () => {
  const folder = temporaryFolder();
  const server = serverOn(folder);
  const url = await server.address();
  const loaded = await putDemoOn(url);
  const { deck } = await deckOn(url);
  await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, loaded, await poolNow(deck)));
  const before = await timedPoolNow(deck);
  await server.signal('SIGKILL');
  const { run, sheet } = onDisk(folder, loaded.id);

  const again = await deckOn(await serverOn(folder).address());
  const after = await timedPoolNow(again.deck);
  const now = after.poolAt;
  // The pool's clock has gone on as long as ours: no shorter, no longer than the asking leaves open.
  expect(now - before.poolAt).toBeGreaterThan(after.askedAt - before.answeredAt - 1);
  expect(now - before.poolAt).toBeLessThan(after.answeredAt - before.askedAt + 1);
  expect(again.run).toEqual(run);
  const [lane] = sheet.lanes;
  if (!lane || !again.run) throw new Error('no lane');
  const [motion] = run.motions;
  const place = placeAt(sheet, again.run.motions, lane, instant(now));
  expect(place.position).toBe(Math.max(0, now - (motion?.at ?? 0)));
});

test('[FLT5] told to end while screens are there, it ends within two seconds with everything stored', async () => {
  const folder = temporaryFolder();
  const server = serverOn(folder);
  const url = await server.address();
  const run = await putDemoOn(url);
  const { deck } = await deckOn(url);
  const lost = new Promise((resolve) => deck.socket.on('disconnect', resolve));
  const start = deck.command({ kind: 'start', when: 'now' }, run, await poolNow(deck));
  expect(await deck.ask('command', start)).toEqual({ ok: true, seq: 1 });
  const askedAt = performance.now();
  expect(await server.signal('SIGTERM')).toBe(0);
  expect(performance.now() - askedAt).toBeLessThan(2000);
  // Not told to go: a page would take that for a reason to stay away.
  expect(await lost).toBe('transport close');
  expect(onDisk(folder, run.id).events.map(({ kind }) => kind)).toEqual(['start']);
});

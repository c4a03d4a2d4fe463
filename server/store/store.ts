import { AbsenceStore } from './absence-store.ts';
import { AnchorStore } from './anchor-store.ts';
import type { BackupSource } from './backup-source.ts';
import type { Database } from './database.ts';
import { DemoStore } from './demo-store.ts';
import { DeviceStore } from './device-store.ts';
import { HistoryStore } from './history-store.ts';
import { KeptSetStore } from './kept-set-store.ts';
import { LoadStore } from './load-store.ts';
import { MarkStore } from './mark-store.ts';
import { openDatabase } from './open-database.ts';
import { PlanStore } from './plan-store.ts';
import { PoolStore } from './pool-store.ts';
import { PracticeSearch } from './practice-search.ts';
import { PracticeStore } from './practice-store.ts';
import { RetentionStore } from './retention-store.ts';
import { RunList } from './run-list.ts';
import { RunStore } from './run-store.ts';
import { ScreenStore } from './screen-store.ts';
import { SquadStore } from './squad-store.ts';
import type { StoreProblem } from './store-problem.ts';
import { StoredOfSwimmer } from './stored-of-swimmer.ts';
import { SwimmerErasure } from './swimmer-erasure.ts';
import { TakeOverStore } from './take-over-store.ts';

/** Everything the server remembers, in one file. */
export interface Store {
  readonly file: string;
  readonly anchor: AnchorStore;
  readonly pool: PoolStore;
  readonly squad: SquadStore;
  readonly absences: AbsenceStore;
  readonly demo: DemoStore;
  readonly practices: PracticeStore;
  readonly practiceSearch: PracticeSearch;
  readonly plan: PlanStore;
  readonly runs: RunStore;
  readonly runList: RunList;
  readonly marks: MarkStore;
  readonly keptSets: KeptSetStore;
  readonly history: HistoryStore;
  readonly loads: LoadStore;
  readonly takeOvers: TakeOverStore;
  readonly screens: ScreenStore;
  readonly devices: DeviceStore;
  readonly retention: RetentionStore;
  readonly storedOf: StoredOfSwimmer;
  readonly erasure: SwimmerErasure;
  /** All of `work`, which must not wait for anything, or nothing of it. */
  inTransaction<T>(work: () => T): T;
  /** [FLT1] @throws Error when written data would not survive a loss of power */
  assertDurable(): void;
  /** [FLT6] What backups are made of. */
  readonly backupSource: BackupSource;
  close(): void;
}

/** The store in an open database. */
export function storeOn(database: Database): Store {
  const runList = new RunList(database);
  return {
    file: database.file,
    anchor: new AnchorStore(database),
    pool: new PoolStore(database),
    squad: new SquadStore(database),
    absences: new AbsenceStore(database),
    demo: new DemoStore(database),
    practices: new PracticeStore(database),
    practiceSearch: new PracticeSearch(database),
    plan: new PlanStore(database),
    runs: new RunStore(database),
    runList,
    marks: new MarkStore(database),
    keptSets: new KeptSetStore(database),
    history: new HistoryStore(database),
    loads: new LoadStore(database),
    takeOvers: new TakeOverStore(database),
    screens: new ScreenStore(database),
    devices: new DeviceStore(database),
    retention: new RetentionStore(database, runList),
    storedOf: new StoredOfSwimmer(database),
    erasure: new SwimmerErasure(database),
    inTransaction: (work) => database.inTransaction(work),
    assertDurable: () => database.assertDurable(),
    backupSource: database.backupSource(),
    close: () => database.close(),
  };
}

/** Opens the store in `folder`; a folder or database that cannot be used is told in one sentence. */
export function openStore(folder: string): { ok: true; store: Store } | StoreProblem {
  const opened = openDatabase(folder);
  return opened.ok ? { ok: true, store: storeOn(opened.database) } : opened;
}

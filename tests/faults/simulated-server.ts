import { copyFileSync, existsSync, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { MachineClock, PoolClock } from '../../server/clock.ts';
import { loadingOf } from '../../server/running/loading.ts';
import type { RunKeeper } from '../../server/running/run-keeper.ts';
import { takeUp } from '../../server/start.ts';
import { databaseFileOf } from '../../server/store/open-database.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { departuresAnswer, marksAnswer } from '../../server/web/mark-routes.ts';
import { type Hub, ScreenConnection, tellScreens } from '../../server/web/screen-connection.ts';
import { Screens } from '../../server/web/screens.ts';
import { wallText } from '../../server/web/sheet-views.ts';
import { Walls } from '../../server/web/walls.ts';
import { instant, practiceIdSchema, type RunId, runIdSchema, sheetHashSchema } from '../../shared-types/brand.ts';
import type { Squad } from '../../shared-types/squad.ts';
import type { Asked } from '../../shared-types/wire/from-screen.ts';
import type { Role } from '../../shared-types/wire/protocol.ts';

/** What the server sees of a connection: where its messages go. */
export interface Line {
  tell(event: string, payload: string): void;
  /** The server is gone. */
  cutOff(): void;
}

/** What a connection can do with the server. */
export interface LineEnd {
  /** @returns the acknowledgement, as JSON */
  ask(asked: Asked, payload: unknown): string;
  end(reason: string): void;
}

interface Up {
  readonly store: Store;
  readonly clock: PoolClock;
  readonly keeper: RunKeeper;
  readonly screens: Screens;
  readonly walls: Walls;
  readonly boot: string;
  readonly hub: Hub;
  readonly lines: Map<string, { readonly line: Line; readonly roles: Set<Role> }>;
}

const MOST_SHEETS = 8;

/** The real server but for its network: store, keepers and connections, killed and started at will. */
export class SimulatedServer {
  /** What it took note of as bugs. */
  readonly faults: unknown[] = [];
  readonly #machine: MachineClock;
  readonly #folder: string;
  readonly #newId: () => string;
  readonly #sheets = new Map<string, unknown>();
  #lives = 0;
  #up: Up | null = null;

  /** @param folder its databases lie in, one for each life */
  constructor(machine: MachineClock, folder: string, newId: () => string) {
    this.#machine = machine;
    this.#folder = folder;
    this.#newId = newId;
    this.start();
  }

  get isUp(): boolean {
    return this.#up !== null;
  }

  get store(): Store {
    return this.#alive().store;
  }

  get keeper(): RunKeeper {
    return this.#alive().keeper;
  }

  get clock(): PoolClock {
    return this.#alive().clock;
  }

  start(): void {
    if (this.#up) return;
    this.#lives += 1;
    const opened = openStore(this.#life());
    if (!opened.ok) throw new Error(opened.message);
    const { store } = opened;
    const log = (error: unknown): void => void this.faults.push(error);
    const taken = takeUp(store, this.#life(), { machine: this.#machine, newId: this.#newId, log });
    if (!taken.ok) throw new Error(taken.message, { cause: this.faults.at(-1) });
    const { clock, keeper } = taken;
    const lines: Up['lines'] = new Map();
    const hub = hubOn(lines);
    const screens = new Screens();
    const walls = new Walls(store.screens, screens, clock.now);
    this.#up = { store, clock, keeper, screens, walls, boot: this.#newId(), hub, lines };
    tellScreens(this.#parts(this.#up), hub);
  }

  /** Ends without a word, as by SIGKILL: what is on the disk at this moment is all there is for the next life. */
  kill(): void {
    const up = this.#up;
    if (!up) return;
    this.#up = null;
    const [from, to] = [this.#life(), this.#life(1)];
    mkdirSync(to, { recursive: true });
    for (const suffix of ['', '-wal']) {
      const file = `${databaseFileOf(from)}${suffix}`;
      if (existsSync(file)) copyFileSync(file, `${databaseFileOf(to)}${suffix}`);
    }
    up.store.close();
    rmSync(from, { recursive: true });
    for (const { line } of up.lines.values()) line.cutOff();
  }

  /** Lets go of the disk for good. */
  close(): void {
    this.#up?.store.close();
    this.#up = null;
  }

  /** @returns null when it does not listen */
  accept(line: Line): LineEnd | null {
    const up = this.#up;
    if (!up) return null;
    const id = this.#newId();
    const connection = new ScreenConnection(id, () => 'owner', this.#parts(up), up.hub);
    up.lines.set(id, { line, roles: new Set() });
    return {
      ask: (asked, payload) => JSON.stringify(connection.answer(asked, payload)),
      end: (reason) => {
        if (this.#up === up && up.lines.delete(id)) connection.ended(reason);
      },
    };
  }

  /** Answers an HTTP question of a link. @throws Error when it fails, or nobody listens */
  get(path: string): unknown {
    const { keeper, store } = this.#alive();
    const url = new URL(path, 'http://pool.test');
    const [, api, kind, id = '', what] = url.pathname.split('/');
    let answer: unknown = null;
    if (api === 'api' && kind === 'sheets') answer = this.#sheet(store, id, url.searchParams.get('role') ?? '');
    if (what === 'departures') {
      const before = url.searchParams.get('before');
      answer = departuresAnswer(
        keeper.marks,
        runIdSchema.parse(id),
        before === null ? undefined : instant(Number(before)),
      );
    }
    if (what === 'marks') {
      answer = marksAnswer(keeper.marks, runIdSchema.parse(id), Number(url.searchParams.get('after')));
    }
    if (answer === null) throw new Error(`nothing at ${path}`);
    return answer;
  }

  /** Puts a practice on the wall in place of any other. */
  putOnWall(title: string, text: string, squad: Squad): RunId {
    const { store, keeper } = this.#alive();
    const id = practiceIdSchema.parse(this.#newId());
    const saved = store.practices.save({ id, text, title, baseVersion: 0, savedAt: 0, demo: false });
    if (!saved.ok) throw new Error('the practice could not be saved');
    const planned = loadingOf(saved.practice, squad, store.pool.pool());
    if (!planned.ok) throw new Error(planned.message);
    const loaded = keeper.load(planned.loading, true);
    if (!loaded.ok || !keeper.run) throw new Error('the practice is not on the wall');
    return keeper.run.id;
  }

  #alive(): Up {
    if (!this.#up) throw new Error('the server is down');
    return this.#up;
  }

  #life(more = 0): string {
    return join(this.#folder, `life-${this.#lives + more}`);
  }

  #parts(up: Up) {
    const log = (error: unknown): void => void this.faults.push(error);
    return { ...up, timezone: 'Europe/Lisbon', log, note: () => {} };
  }

  /** Sheets are large, and every screen asks for them. */
  #sheet(store: Store, hash: string, role: string): unknown {
    const key = `${hash} ${role === 'wall'}`;
    if (this.#sheets.has(key)) return this.#sheets.get(key);
    const text = store.runs.sheetText(sheetHashSchema.parse(hash));
    if (text === null) return null;
    const sheet: unknown = JSON.parse(role === 'wall' ? wallText(text) : text);
    this.#sheets.set(key, sheet);
    const [oldest] = this.#sheets.keys();
    if (this.#sheets.size > MOST_SHEETS && oldest !== undefined) this.#sheets.delete(oldest);
    return sheet;
  }
}

const hubOn = (lines: Up['lines']): Hub => ({
  join: (connection, role) => void lines.get(connection)?.roles.add(role),
  leave: (connection, role) => void lines.get(connection)?.roles.delete(role),
  tell: (roles, event, payload) => {
    const text = JSON.stringify(payload);
    for (const { line, roles: joined } of lines.values()) {
      if (roles.some((role) => joined.has(role))) line.tell(event, text);
    }
  },
  tellOne: (connection, event, payload) => void lines.get(connection)?.line.tell(event, JSON.stringify(payload)),
});

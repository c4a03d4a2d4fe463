/**
 * The database's formats, oldest first. A migration that has been released is never changed: what comes later goes
 * into a new one. The format a database has is its `user_version`, the place in this list, from 1.
 */
export const MIGRATIONS: readonly string[] = [
  `
  CREATE TABLE clock_anchor (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    boot TEXT,
    monotonic_ms REAL NOT NULL,
    wall_ms REAL NOT NULL
  ) STRICT;

  CREATE TABLE pools (
    pool_id TEXT PRIMARY KEY,
    settings_json TEXT NOT NULL
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE swimmers (
    swimmer_id TEXT PRIMARY KEY,
    pool_id TEXT NOT NULL REFERENCES pools,
    place INTEGER NOT NULL,
    swimmer_json TEXT NOT NULL,
    demo INTEGER NOT NULL,
    UNIQUE (pool_id, place)
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE practices (
    practice_id TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    pool_id TEXT NOT NULL REFERENCES pools,
    title TEXT NOT NULL,
    text TEXT NOT NULL,
    demo INTEGER NOT NULL,
    saved_at REAL NOT NULL,
    PRIMARY KEY (practice_id, version)
  ) STRICT;

  CREATE TABLE sheets (
    hash TEXT PRIMARY KEY,
    sheet_json TEXT NOT NULL
  ) STRICT;

  CREATE TABLE runs (
    run_id TEXT PRIMARY KEY,
    pool_id TEXT NOT NULL REFERENCES pools,
    sheet_hash TEXT NOT NULL REFERENCES sheets,
    practice_id TEXT NOT NULL,
    practice_version INTEGER NOT NULL,
    loaded_at REAL NOT NULL,
    live INTEGER NOT NULL,
    pinned_json TEXT NOT NULL,
    FOREIGN KEY (practice_id, practice_version) REFERENCES practices
  ) STRICT;
  CREATE UNIQUE INDEX one_live_run_a_pool ON runs (pool_id) WHERE live = 1;

  CREATE TABLE events (
    run_id TEXT NOT NULL REFERENCES runs,
    seq INTEGER NOT NULL CHECK (seq >= 1),
    event_json TEXT NOT NULL,
    PRIMARY KEY (run_id, seq)
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE commands (
    command_id TEXT PRIMARY KEY,
    run_id TEXT NOT NULL,
    answer_json TEXT NOT NULL
  ) STRICT, WITHOUT ROWID;
  `,
  `
  CREATE TABLE mark_events (
    run_id TEXT NOT NULL REFERENCES runs,
    seq INTEGER NOT NULL CHECK (seq >= 1),
    event_json TEXT NOT NULL,
    PRIMARY KEY (run_id, seq)
  ) STRICT, WITHOUT ROWID;
  `,
  // A change to a practice under way makes another sheet, and they are long: kept compressed from here on.
  `
  ALTER TABLE sheets ADD COLUMN sheet_gzip BLOB;
  `,
  // Rows of more than a quarter of a page spill in a table WITHOUT ROWID, each onto a page of its own: events of eight
  // and more lanes took three times their length.
  `
  CREATE TABLE events_by_rowid (
    run_id TEXT NOT NULL REFERENCES runs,
    seq INTEGER NOT NULL CHECK (seq >= 1),
    event_json TEXT NOT NULL,
    PRIMARY KEY (run_id, seq)
  ) STRICT;
  INSERT INTO events_by_rowid SELECT run_id, seq, event_json FROM events ORDER BY run_id, seq;
  DROP TABLE events;
  ALTER TABLE events_by_rowid RENAME TO events;
  `,
  `
  CREATE TABLE walls (
    device_id TEXT PRIMARY KEY,
    pool_id TEXT NOT NULL REFERENCES pools,
    number INTEGER NOT NULL CHECK (number >= 1),
    settings_json TEXT NOT NULL,
    UNIQUE (pool_id, number)
  ) STRICT, WITHOUT ROWID;
  `,
  // No swimmer need be in the squad any more for what was pulled against to stay.
  `
  CREATE TABLE loads (
    run_id TEXT NOT NULL REFERENCES runs,
    set_key TEXT NOT NULL,
    swimmer_id TEXT NOT NULL,
    loads_json TEXT NOT NULL,
    PRIMARY KEY (run_id, set_key, swimmer_id)
  ) STRICT;
  `,
  `
  CREATE TABLE take_overs (
    run_id TEXT NOT NULL REFERENCES runs,
    set_key TEXT NOT NULL,
    swimmer_id TEXT NOT NULL,
    offer TEXT NOT NULL,
    take_over_json TEXT NOT NULL,
    PRIMARY KEY (run_id, set_key, swimmer_id, offer)
  ) STRICT;
  `,
];

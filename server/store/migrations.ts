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
  `
  ALTER TABLE runs ADD COLUMN rehearsed INTEGER NOT NULL DEFAULT 0;
  `,
  // What sets came to: never the truth, so it may be thrown away at any time. A run stands in kept_runs with what its
  // rows were worked out from, and with how many they are.
  `
  CREATE TABLE kept_runs (
    run_id TEXT PRIMARY KEY REFERENCES runs,
    seq INTEGER NOT NULL,
    mark_seq INTEGER NOT NULL,
    tolerance_ms_per_50 REAL NOT NULL,
    working_out INTEGER NOT NULL,
    title TEXT,
    sets INTEGER NOT NULL
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE kept_sets (
    run_id TEXT NOT NULL REFERENCES kept_runs ON DELETE CASCADE,
    set_number INTEGER NOT NULL,
    place INTEGER NOT NULL,
    swimmer_id TEXT NOT NULL,
    rehearsed INTEGER NOT NULL,
    at REAL NOT NULL,
    style TEXT NOT NULL,
    loose TEXT NOT NULL,
    strict TEXT NOT NULL,
    reps INTEGER NOT NULL,
    timed INTEGER NOT NULL,
    is_whole INTEGER NOT NULL,
    mean_ms REAL,
    best_ms REAL,
    worst_ms REAL,
    judged INTEGER NOT NULL,
    hits INTEGER NOT NULL,
    metres REAL NOT NULL,
    ms REAL NOT NULL,
    PRIMARY KEY (run_id, set_number, swimmer_id)
  ) STRICT;
  CREATE INDEX kept_sets_of_a_kind ON kept_sets (loose, run_id, set_number);
  CREATE INDEX kept_sets_of_a_swimmer ON kept_sets (swimmer_id, loose, at);
  CREATE INDEX kept_sets_by_day ON kept_sets (at);
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
  // No practice need be in the library any more for a plan of it to stay.
  `
  CREATE TABLE planned_practices (
    pool_id TEXT NOT NULL REFERENCES pools,
    day TEXT NOT NULL,
    place INTEGER NOT NULL,
    practice_id TEXT NOT NULL,
    PRIMARY KEY (pool_id, day, place)
  ) STRICT, WITHOUT ROWID;
  `,
  // What a version of a practice comes to is worked out from its text and may be thrown away at any time. A practice that
  // is deleted stays: runs are of it, and it can come back.
  `
  CREATE TABLE practice_facts (
    practice_id TEXT NOT NULL,
    version INTEGER NOT NULL,
    metres REAL NOT NULL,
    styles TEXT NOT NULL,
    PRIMARY KEY (practice_id, version)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE deleted_practices (
    practice_id TEXT PRIMARY KEY,
    deleted_at REAL NOT NULL
  ) STRICT, WITHOUT ROWID;
  `,
  // The squad that the last file took the place of.
  `
  CREATE TABLE squad_before (
    pool_id TEXT PRIMARY KEY REFERENCES pools,
    squad_json TEXT NOT NULL,
    demo INTEGER NOT NULL,
    file_name TEXT NOT NULL,
    loaded_at REAL NOT NULL
  ) STRICT;
  `,
  // No swimmer need be in the squad any more, and nobody asks for a day that is over.
  `
  CREATE TABLE absences (
    pool_id TEXT NOT NULL REFERENCES pools,
    day TEXT NOT NULL,
    swimmer_id TEXT NOT NULL,
    PRIMARY KEY (pool_id, day, swimmer_id)
  ) STRICT, WITHOUT ROWID;
  `,
  // What bringing the demo back puts back.
  `
  CREATE TABLE removed_demo (
    pool_id TEXT PRIMARY KEY REFERENCES pools,
    removed_at REAL NOT NULL,
    removed_json TEXT NOT NULL
  ) STRICT;
  `,
  `
  CREATE TABLE installation (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    cookie_name TEXT NOT NULL
  ) STRICT;
  CREATE TABLE devices (
    paired_id TEXT PRIMARY KEY,
    name TEXT NOT NULL,
    access TEXT NOT NULL,
    secret_hash TEXT NOT NULL,
    paired_at REAL NOT NULL,
    seen_at REAL NOT NULL
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE wrong_codes (
    at REAL NOT NULL,
    address TEXT NOT NULL
  ) STRICT;
  `,
  // Whom nobody may bring back by an undo; backups that know of fewer of them have to go. `swept` is 0 until their bytes
  // are out of the file, too.
  `
  CREATE TABLE deletions (
    deleted_id TEXT PRIMARY KEY,
    deleted_at REAL NOT NULL,
    swept INTEGER NOT NULL
  ) STRICT, WITHOUT ROWID;
  `,
];

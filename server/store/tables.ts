/** The columns of every table, as Kysely needs them. `…_json` columns hold JSON that is read back through a schema. */
export interface Tables {
  clock_anchor: { id: number; boot: string | null; monotonic_ms: number; wall_ms: number };
  pools: { pool_id: string; settings_json: string };
  /** `place` is the order in the squad's file. */
  swimmers: { swimmer_id: string; pool_id: string; place: number; swimmer_json: string; demo: number };
  /** What an undo of the last load puts back; `file_name` is of what was loaded in its place. */
  squad_before: { pool_id: string; squad_json: string; demo: number; file_name: string; loaded_at: number };
  /** What bringing the demo back puts back. */
  removed_demo: { pool_id: string; removed_at: number; removed_json: string };
  /** Who is away on a day, YYYY-MM-DD. */
  absences: { pool_id: string; day: string; swimmer_id: string };
  practices: {
    practice_id: string;
    version: number;
    pool_id: string;
    title: string;
    text: string;
    demo: number;
    saved_at: number;
  };
  /** The canonical JSON that the hash is of: gzipped, or for sheets of before in `sheet_json`, which is empty otherwise. */
  sheets: { hash: string; sheet_json: string; sheet_gzip: Uint8Array | null };
  runs: {
    run_id: string;
    pool_id: string;
    sheet_hash: string;
    practice_id: string;
    practice_version: number;
    loaded_at: number;
    live: number;
    /** 1: only tried out, nobody swam it. */
    rehearsed: number;
    pinned_json: string;
  };
  /** What the rows of a run in `kept_sets` were worked out from. */
  kept_runs: {
    run_id: string;
    /** Of its last control event, and of its last mark event. */
    seq: number;
    mark_seq: number;
    tolerance_ms_per_50: number;
    /** The version of the working out. */
    working_out: number;
    title: string | null;
    /** How many rows it has there. */
    sets: number;
  };
  /** What each set came to with each swimmer: worked out from sheets, events and marks, and never the truth. */
  kept_sets: {
    run_id: string;
    set_number: number;
    /** In the order of the results: by set, lane and who leaves first. */
    place: number;
    swimmer_id: string;
    rehearsed: number;
    at: number;
    style: string;
    loose: string;
    strict: string;
    reps: number;
    timed: number;
    is_whole: number;
    mean_ms: number | null;
    best_ms: number | null;
    worst_ms: number | null;
    judged: number;
    hits: number;
    metres: number;
    ms: number;
  };
  events: { run_id: string; seq: number; event_json: string };
  mark_events: { run_id: string; seq: number; event_json: string };
  commands: { command_id: string; run_id: string; answer_json: string };
  /** `set_key` is what a set is told by in every version of the run's sheet. */
  loads: { run_id: string; set_key: string; swimmer_id: string; loads_json: string };
  /** Results that were made references. */
  take_overs: { run_id: string; set_key: string; swimmer_id: string; offer: string; take_over_json: string };
  /** Swimmers who were deleted for good; `swept` is 0 until their bytes are out of the file, too. */
  deletions: { deleted_id: string; deleted_at: number; swept: number };
  deleted_practices: { practice_id: string; deleted_at: number };
  /** `day` is YYYY-MM-DD, `place` the order within it. */
  planned_practices: { pool_id: string; day: string; place: number; practice_id: string };
  /** Those that have been set up. */
  walls: { device_id: string; pool_id: string; number: number; settings_json: string };
  /** The name of the cookie of this database's devices: two servers on one machine share its cookies. */
  installation: { id: number; cookie_name: string };
  /** Those that have been paired; of its secret only the SHA-256 is kept, in hex. */
  devices: {
    paired_id: string;
    name: string;
    access: string;
    secret_hash: string;
    paired_at: number;
    seen_at: number;
  };
  /** Codes that were wrong, as long as they count. */
  wrong_codes: { at: number; address: string };
}

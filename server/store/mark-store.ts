import type { StatementSync } from 'node:sqlite';
import { z } from 'zod';
import type { RunId } from '../../shared-types/brand.ts';
import type { Answer } from '../../shared-types/commands.ts';
import { type MarkCommand, type MarkEvent, markEventSchema } from '../../shared-types/marks.ts';
import { type Database, jsonColumn, query } from './database.ts';

/** The times taken of each run. */
export class MarkStore {
  readonly #database: Database;
  readonly #insertEvent: StatementSync;
  readonly #insertAnswer: StatementSync;

  constructor(database: Database) {
    this.#database = database;
    this.#insertEvent = database.prepare('INSERT INTO mark_events (run_id, seq, event_json) VALUES (?, ?, ?)');
    this.#insertAnswer = database.prepare('INSERT INTO commands (command_id, run_id, answer_json) VALUES (?, ?, ?)');
  }

  eventsOf(run: RunId): MarkEvent[] {
    const asked = query.selectFrom('mark_events').select('event_json').where('run_id', '=', run).orderBy('seq');
    const row = z.object({ event_json: jsonColumn(markEventSchema) });
    return this.#database.all(asked, row).map(({ event_json }) => event_json);
  }

  /** Of the run's last mark event; 0 before the first. */
  lastSeqOf(run: RunId): number {
    const asked = query.selectFrom('mark_events').select('seq').where('run_id', '=', run).orderBy('seq', 'desc');
    return this.#database.first(asked.limit(1), z.object({ seq: z.number() }))?.seq ?? 0;
  }

  /** [FLT1] Stores an answer with the event it stands for (none: nothing changed), both or neither; on disk on return. */
  append(command: Pick<MarkCommand, 'id' | 'run'>, answer: Answer, event: MarkEvent | null): void {
    this.#database.inTransaction(() => {
      if (event) this.#insert(event);
      this.#insertAnswer.run(command.id, command.run, JSON.stringify(answer));
    });
  }

  /** Stores what the server does to marks by itself. */
  appendOwn(events: readonly MarkEvent[]): void {
    this.#database.inTransaction(() => {
      for (const event of events) this.#insert(event);
    });
  }

  #insert(event: MarkEvent): void {
    this.#insertEvent.run(event.run, event.seq, JSON.stringify(event));
  }
}

import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Absences } from '../../shared-types/wire/absences.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import { type Problem, problemOf } from './problem.ts';

export interface AbsencesModel {
  /** Who is away today. */
  readonly away: ReadonlySignal<ReadonlySet<SwimmerId>>;
  readonly problem: ReadonlySignal<Problem | null>;
  reload(): Promise<void>;
  set(swimmer: SwimmerId, isAway: boolean): Promise<void>;
}

/** @param onChanged other swimmers are planned for from now on */
export function createAbsences(
  server: Pick<DeskServer, 'absences' | 'setAbsence'>,
  onChanged: () => void,
): AbsencesModel {
  const away = signal<ReadonlySet<SwimmerId>>(new Set());
  const problem = signal<Problem | null>(null);

  function take(answer: Outcome<Absences>): void {
    batch(() => {
      problem.value = answer.ok ? null : problemOf(answer);
      if (answer.ok) away.value = new Set(answer.value.away);
    });
  }

  return {
    away,
    problem,
    reload: async () => take(await server.absences()),
    set: async (swimmer, isAway) => {
      const answer = await server.setAbsence(swimmer, isAway);
      take(answer);
      if (answer.ok) onChanged();
    },
  };
}

/** `24 swimmers`, `22 of 24 swimmers are here today` */
export function hereWords(swimmers: readonly { readonly id: SwimmerId }[], away: ReadonlySet<SwimmerId>): string {
  const all = swimmers.length === 1 ? '1 swimmer' : `${swimmers.length} swimmers`;
  const here = swimmers.filter(({ id }) => !away.has(id)).length;
  if (here === swimmers.length) return all;
  return `${here} of ${all} ${here === 1 || swimmers.length === 1 ? 'is' : 'are'} here today`;
}

import type { JSX } from 'preact';
import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { Desk } from './desk.ts';
import { ProblemNote } from './problem-note.tsx';

export const exportAddress = (swimmer: SwimmerId): string => `/api/squad/swimmers/${swimmer}/export`;

/** Everything that is stored of a swimmer: as a file, or gone. */
export function SwimmerStored({ desk, swimmer: { id } }: { desk: Desk; swimmer: Swimmer }): JSX.Element {
  const { privacy } = desk;
  const deleteForGood = async (): Promise<void> => {
    if (await privacy.deleteForGood(id)) location.hash = '#squad';
  };
  return (
    <section class="card stored-of" aria-label="Stored of this swimmer">
      <h2>Stored of this swimmer</h2>
      <p class="quiet">
        Taken out of the squad, a swimmer is left out of all lanes; name and times stay with the practices of before,
        and an undo brings the swimmer back. Deleted for good, both are out of the database, and with the next backup
        out of all backups; nothing brings them back. What was saved as a file or printed is yours to delete.
      </p>
      <div class="actions">
        <a href={exportAddress(id)} download data-action="export-swimmer">
          Save everything as a file
        </a>
        <button type="button" data-action="delete-for-good" onClick={() => void deleteForGood()}>
          Delete for good
        </button>
      </div>
      <ProblemNote problem={privacy.problem.value} />
    </section>
  );
}

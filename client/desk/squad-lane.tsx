import type { JSX } from 'preact';
import { eventText, howTaken, type Reference, referenceTime, type Swimmer } from '../../shared-types/squad.ts';
import { dateText } from '../../shared-types/time.ts';

/** `200 free 2:08.40 SCM`, `100 free 58.4 SCM (test, by hand, 12 Oct 2026)` */
function referenceText(reference: Reference): string {
  const { event, course, kind, date, handTimed } = reference;
  const when = handTimed && date !== undefined ? [dateText(date)] : [];
  const said = [...(kind === 'best' ? [] : [kind]), ...howTaken(reference), ...when];
  const note = said.length > 0 ? ` (${said.join(', ')})` : '';
  return `${eventText(event)} ${referenceTime(reference)} ${course}${note}`;
}

function Times({ references }: { references: readonly Reference[] }): JSX.Element {
  if (references.length === 0) return <span class="quiet">no times, so no targets</span>;
  return (
    <ul class="times">
      {references.map((reference) => (
        <li key={referenceText(reference)}>{referenceText(reference)}</li>
      ))}
    </ul>
  );
}

/** The swimmers of one lane in the order in which they leave. */
export function SquadLane({ title, swimmers }: { title: string; swimmers: readonly Swimmer[] }): JSX.Element {
  const groups = [...new Set(swimmers.flatMap(({ group }) => group ?? []))];
  return (
    <table class="squad-lane">
      <caption>
        <strong>{title}</strong> {groups.length > 0 && <span>group {groups.join(', ')}</span>}
      </caption>
      <thead>
        <tr>
          <th scope="col">Leaves</th>
          <th scope="col">Swimmer</th>
          <th scope="col">Main</th>
          <th scope="col">Times targets come from</th>
        </tr>
      </thead>
      <tbody>
        {swimmers.map(({ id, name, order, main, references }, place) => (
          <tr key={id}>
            <td class="at">{order ?? place + 1}</td>
            <th scope="row">{name}</th>
            <td>{main ? eventText(main) : ''}</td>
            <td>
              <Times references={references} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

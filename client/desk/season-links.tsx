import type { JSX } from 'preact';
import type { ShownSet } from '../../shared-types/wire/results.ts';
import { seasonAddress } from './address.ts';
import { kindWords } from './season-words.ts';

/** To the same set over the season; where groups swim it differently, to each of theirs. */
export function SeasonLinks({ set: { swimmers, style } }: { set: ShownSet }): JSX.Element {
  const signatures = [...new Set(swimmers.map(({ signature }) => signature.loose))];
  return (
    <>
      {signatures.map((signature) => (
        <a key={signature} class="season-link" href={seasonAddress(signature)} data-action="season">
          Over the season{signatures.length > 1 ? `: ${kindWords({ signature, style })}` : ''}
        </a>
      ))}
    </>
  );
}

import type { JSX } from 'preact';
import type { RunId } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { ReferenceOffer, ShownSet } from '../../shared-types/wire/results.ts';
import type { Desk } from './desk.ts';
import type { OfferedResult } from './desk-server.ts';
import { ForOwners } from './for-owners.tsx';
import { nameOf } from './names.ts';
import { ProblemNote } from './problem-note.tsx';

const beforeWords = ({ before, isTaken }: ReferenceOffer): string =>
  before === null ? (isTaken ? 'there was none before' : 'there is none yet') : `before: ${before}`;

/** `100 free SCM test 58.4 (before: 59.10 of 3 Oct 2026)` */
const offerWords = (offer: ReferenceOffer): string => `${offer.what} ${offer.time} (${beforeWords(offer)})`;

interface OfferProps {
  readonly desk: Desk;
  readonly name: string;
  readonly result: OfferedResult;
}

function Offer({ desk: { references }, name, result }: OfferProps): JSX.Element {
  const { offer } = result;
  const { isTaken } = offer;
  return (
    <li data-offer={offer.id} data-taken={isTaken}>
      <button
        type="button"
        data-action={isTaken ? 'undo-take-over' : 'take-over'}
        aria-label={`${isTaken ? 'Undo' : 'Take over as reference'}: ${isolated(name)}, ${offerWords(offer)}`}
        aria-disabled={references.busy.value}
        onClick={() => void (isTaken ? references.undo(result) : references.takeOver(result))}
      >
        {isTaken ? 'Undo' : 'Take over'}
      </button>
      <span>
        {isTaken && <span class="taken">Taken over: </span>}
        <strong>
          <bdi>{name}</bdi>
        </strong>{' '}
        {offer.what} <strong>{offer.time}</strong>{' '}
        <span class="quiet">{[...offer.notes, beforeWords(offer)].join('; ')}</span>
      </span>
    </li>
  );
}

/** `4 on offer, 1 taken over` */
function summaryWords(offers: readonly ReferenceOffer[]): string {
  const taken = offers.filter(({ isTaken }) => isTaken).length;
  const open = offers.length - taken;
  return [...(open > 0 ? [`${open} on offer`] : []), ...(taken > 0 ? [`${taken} taken over`] : [])].join(', ');
}

interface ReferencesProps {
  readonly desk: Desk;
  readonly run: RunId;
  readonly set: ShownSet;
  readonly labels: Labels;
}

/** What of a set's times can become references, at the coach's press only; nothing on sets without. */
export function ResultReferences({ desk, run, set, labels }: ReferencesProps): JSX.Element | null {
  const results = set.swimmers.flatMap(({ swimmer, offers = [] }) =>
    offers.map((offer): OfferedResult => ({ run, set: set.set, swimmer, offer })),
  );
  const problem = desk.references.problem.value;
  const own = problem?.run === run && problem.set === set.set ? problem : null;
  if (results.length === 0 && !own) return null;
  return (
    <details class="references">
      <summary>References from this set: {summaryWords(results.map(({ offer }) => offer))}</summary>
      <p class="quiet">
        Targets come from references. A time of this set becomes one when you take it over, and not by itself. Practices
        on the wall keep the targets they have.
      </p>
      <ForOwners desk={desk}>
        <ul>
          {results.map((result) => (
            <Offer
              key={`${result.swimmer} ${result.offer.id}`}
              desk={desk}
              name={nameOf(labels, result.swimmer)}
              result={result}
            />
          ))}
        </ul>
      </ForOwners>
      <ProblemNote problem={own} />
    </details>
  );
}

import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';
import type { HeatPad as Words } from './heat-words.ts';
import { TimeButton } from './time-button.tsx';

interface PadProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
  readonly words: Words;
}

/** Over the lanes: which heat it is. */
export const HeatBar = ({ deck }: Pick<PadProps, 'deck'>) => (
  <div class="heat-words" role="status" data-heats>
    {deck.heats.value.map(({ what, where }) => (
      <p key={where}>
        <strong>{what}</strong> <span>{where}</span>
      </p>
    ))}
  </div>
);

/** One swimmer in the water: a press is theirs. Then what they swam, and who goes next. */
export function HeatPad({ deck, lane, words: { swims, came, goes, chief } }: PadProps) {
  return (
    <>
      <TimeButton deck={deck} lane={lane} class={`pad heat ${chief}`} disabled={swims === null}>
        {swims && <Swims {...swims} />}
        {came && <Came {...came} />}
        <Goes goes={goes} isChief={chief === 'goes'} />
      </TimeButton>
      <p class="visually-hidden" role="status" data-last-time>
        {came && `${came.name} ${came.time} ${came.difference}`.trim()}
      </p>
    </>
  );
}

const Swims = ({ name, target, before }: NonNullable<Words['swims']>) => (
  <span class="pad-swims">
    <bdi class="pad-name">{name}</bdi> {target !== '' && <span>{target}</span>}
    {before !== '' && <small> {before}</small>}
  </span>
);

const Came = ({ name, time, difference }: NonNullable<Words['came']>) => (
  <span class="pad-came" aria-hidden="true">
    <bdi class="pad-name">{name}</bdi> <strong>{time}</strong> {difference !== '' && <small>{difference}</small>}
  </span>
);

const Goes = ({ goes, isChief }: Pick<Words, 'goes'> & { readonly isChief: boolean }) => (
  <span class="pad-goes">
    {goes === '' ? (
      isChief ? (
        'nobody'
      ) : (
        ''
      )
    ) : isChief ? (
      <>
        <bdi class="pad-name">{goes}</bdi> goes
      </>
    ) : (
      `then ${goes}`
    )}
  </span>
);

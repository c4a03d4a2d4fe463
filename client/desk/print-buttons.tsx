import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { SwimmerId } from '../../shared-types/brand.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type { ResultsAnswer } from '../../shared-types/wire/results.ts';
import { Modal } from './modal.tsx';
import { usePaper } from './on-paper.ts';
import { Paper, paperTitle } from './paper.tsx';
import { swimmersIn } from './paper-blocks.ts';

interface Props {
  readonly results: ResultsAnswer;
  readonly face: ClockFace;
}

/** Prints the practice, or what one swimmer is handed of it. */
export function PrintButtons({ results, face }: Props): JSX.Element {
  const [isChoosing, setChoosing] = useState(false);
  const toPaper = usePaper<SwimmerId | null>(null, (swimmer) => {
    const props = { results, face, swimmer };
    return { title: paperTitle(props), shown: <Paper {...props} /> };
  });

  function print(of: SwimmerId | null): void {
    setChoosing(false);
    toPaper(of);
  }

  return (
    <>
      <button type="button" data-action="print" onClick={() => print(null)}>
        Print
      </button>
      <button type="button" data-action="print-one" onClick={() => setChoosing(true)}>
        Print for one swimmer
      </button>
      {isChoosing && (
        <Modal title="Print for whom?" onLeave={() => setChoosing(false)}>
          <ul class="print-choice">
            {swimmersIn(results).map(({ swimmer: id, name }) => (
              <li key={id}>
                <button type="button" data-print-for={id} onClick={() => print(id)}>
                  <bdi>{name}</bdi>
                </button>
              </li>
            ))}
          </ul>
          <div class="choices">
            <button type="button" onClick={() => setChoosing(false)}>
              Print nothing
            </button>
          </div>
        </Modal>
      )}
    </>
  );
}

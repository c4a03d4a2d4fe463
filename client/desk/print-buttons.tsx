import { type JSX, render } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { SwimmerId } from '../../shared-types/brand.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type { ResultsAnswer } from '../../shared-types/wire/results.ts';
import { Modal } from './modal.tsx';
import { Paper, paperTitle } from './paper.tsx';
import { quotedForStyle, swimmersIn } from './paper-blocks.ts';

interface Props {
  readonly results: ResultsAnswer;
  readonly face: ClockFace;
}

/**
 * Puts the paper in place of the page for as long as it is printed, also when the browser's own menu does that.
 * @param paper asked for whenever something is printed, called back afterwards with null
 * @returns what ends that
 */
function onPaper(
  paper: () => { readonly title: string; readonly shown: JSX.Element },
  afterwards: () => void,
): () => void {
  const root = document.createElement('div');
  root.className = 'paper';
  document.body.append(root);
  const margin = new CSSStyleSheet();
  const pageTitle = document.title;

  function begin(): void {
    const { title, shown } = paper();
    render(shown, root);
    // What stands in the margin of every page can only be said by a style sheet.
    margin.replaceSync(`@page { @top-left { content: ${quotedForStyle(title)}; } }`);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, margin];
    document.title = title;
    document.body.classList.add('on-paper');
  }
  function end(): void {
    render(null, root);
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((sheet) => sheet !== margin);
    document.title = pageTitle;
    document.body.classList.remove('on-paper');
    afterwards();
  }
  addEventListener('beforeprint', begin);
  addEventListener('afterprint', end);
  return () => {
    removeEventListener('beforeprint', begin);
    removeEventListener('afterprint', end);
    end();
    root.remove();
  };
}

/** Prints the practice, or what one swimmer is handed of it. */
export function PrintButtons({ results, face }: Props): JSX.Element {
  const [isChoosing, setChoosing] = useState(false);
  const latest = useRef<Props>({ results, face });
  const swimmer = useRef<SwimmerId | null>(null);
  latest.current = { results, face };

  useEffect(
    () =>
      onPaper(
        () => {
          const props = { ...latest.current, swimmer: swimmer.current };
          return { title: paperTitle(props), shown: <Paper {...props} /> };
        },
        () => {
          swimmer.current = null;
        },
      ),
    [],
  );

  function print(of: SwimmerId | null): void {
    setChoosing(false);
    swimmer.current = of;
    window.print();
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
                  {name}
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

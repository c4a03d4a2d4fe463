import { type JSX, render } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { quotedForStyle } from './paper-blocks.ts';

/** What is put on paper. */
interface Printed {
  /** Stands in the margin of every page. */
  readonly title: string;
  readonly shown: JSX.Element;
}

/**
 * Puts the paper in place of the page for as long as it is printed, also when the browser's own menu does that.
 * @param paper asked for whenever something is printed; null: the page is printed as it is
 * @returns what ends that
 */
function onPaper(paper: () => Printed | null, afterwards: () => void): () => void {
  const root = document.createElement('div');
  root.className = 'paper';
  document.body.append(root);
  const margin = new CSSStyleSheet();
  let pageTitle = '';
  let isShown = false;

  function begin(): void {
    const asked = paper();
    if (!asked) return;
    const { title, shown } = asked;
    isShown = true;
    render(shown, root);
    // What stands in the margin of every page can only be said by a style sheet.
    margin.replaceSync(`@page { @top-left { content: ${quotedForStyle(title)}; } }`);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, margin];
    pageTitle = document.title;
    document.title = title;
    document.body.classList.add('on-paper');
  }
  function end(): void {
    if (!isShown) return;
    isShown = false;
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

/**
 * Puts on paper what a page can print for as long as it is shown.
 * @param usual what the browser's own menu prints
 * @param paperOf null: the page is printed as it is
 * @returns what prints one of them
 */
export function usePaper<T>(usual: T, paperOf: (what: T) => Printed | null): (what: T) => void {
  const asked = useRef(usual);
  const latest = useRef(paperOf);
  latest.current = paperOf;
  useEffect(
    () =>
      onPaper(
        () => latest.current(asked.current),
        () => {
          asked.current = usual;
        },
      ),
    [usual],
  );
  return (what) => {
    asked.current = what;
    window.print();
  };
}

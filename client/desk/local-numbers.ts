import { Fragment, options, type VNode } from 'preact';

/**
 * Numbers in the browser's language. All words of Farwall, those from the server too, have them as swimming writes them in
 * English, `1:58.40` and `1,800 m`; here they are written anew, at the one place where words become a page. What is typed
 * and read back stays as it is: the shorthand and files have a decimal point, fields take a comma as well.
 */

/** How a language writes numbers. */
interface Writing {
  readonly decimal: string;
  readonly group: string;
}

/** @param language BCP 47, `de-CH` */
export function writingOf(language: string): Writing {
  const parts = new Intl.NumberFormat(language, { numberingSystem: 'latn', useGrouping: true }).formatToParts(12_345.6);
  const part = (type: Intl.NumberFormatPartTypes, usual: string): string =>
    parts.find((one) => one.type === type)?.value ?? usual;
  return { decimal: part('decimal', '.'), group: part('group', ',') };
}

/** Grouped thousands or a decimal fraction; no part of a word, an address or a version. */
const NUMBER = /(?<![\w.,])(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+)(?![.,]?\d)/g;

/** Words with their numbers as a language writes them. */
export const numbersIn = ({ decimal, group }: Writing, text: string): string =>
  text.replace(NUMBER, (number) => number.replace(/[.,]/g, (mark) => (mark === '.' ? decimal : group)));

let written: Writing | null = null;

/** The same in the browser's language. For what is drawn; on the page it happens by itself. */
export const inLocalNumbers = (text: string): string => (written ? numbersIn(written, text) : text);

/** What people have written, and what they are to write. */
const AS_WRITTEN: ReadonlySet<unknown> = new Set(['code', 'pre', 'textarea', 'style', 'script']);
const SPOKEN = ['aria-label', 'title', 'placeholder'] as const;

function localized(child: unknown): unknown {
  if (typeof child === 'string') return inLocalNumbers(child);
  if (typeof child === 'number') return inLocalNumbers(String(child));
  return Array.isArray(child) ? child.map(localized) : child;
}

function writeAnew({ type, props }: VNode): void {
  const own: Record<string, unknown> = props;
  const isWords = typeof type === 'string' || type === Fragment;
  if (!isWords || AS_WRITTEN.has(type) || own.translate === false) return;
  own.children = localized(own.children);
  for (const name of SPOKEN) if (typeof own[name] === 'string') own[name] = localized(own[name]);
}

/**
 * Has the page write all numbers in a language, elements with `translate={false}`, code and typed text apart.
 * @param language BCP 47
 */
export function writeNumbersIn(language: string): void {
  written = writingOf(language);
  if (written.decimal === '.' && written.group === ',') return;
  const before = options.vnode;
  options.vnode = (vnode) => {
    writeAnew(vnode);
    before?.(vnode);
  };
}

/** Words smaller than this nobody reads on a wall, CSS pixels. */
const LEAST_PIXELS = 8;

/** Between parts of a sentence, kept on one line each. */
const BETWEEN = /(; |, )/;
const FIGURES = /(:?\d+(?:[:./]\d+)*)/;

function made(name: 'span' | 'b', text: string, className = ''): HTMLElement {
  const element = document.createElement(name);
  element.textContent = text;
  if (className) element.className = className;
  return element;
}

function partOf(text: string): HTMLElement {
  const part = document.createElement('span');
  part.append(...text.split(FIGURES).map((piece, place) => (place % 2 === 1 ? made('b', piece) : piece)));
  return part;
}

/** Writes a text in parts that stay on one line each, with its figures set off; the text as a whole is the same. */
export function writeInParts(element: HTMLElement, text: string): void {
  const pieces = text.split(BETWEEN);
  element.replaceChildren(
    ...pieces.map((piece, place) => (place % 2 === 1 ? made('span', piece, 'between') : partOf(piece))),
  );
}

export const isWhole = ({ scrollWidth, scrollHeight, clientWidth, clientHeight }: HTMLElement): boolean =>
  scrollWidth <= clientWidth && scrollHeight <= clientHeight;

/** Sets the largest type with which everything in the element is on the screen. @param most CSS pixels */
export function fitType(element: HTMLElement, most: number): void {
  let [fits, tooLarge] = [LEAST_PIXELS, Math.floor(most) + 1];
  while (tooLarge - fits > 1) {
    const tried = Math.floor((fits + tooLarge) / 2);
    element.style.fontSize = `${tried}px`;
    if (isWhole(element)) fits = tried;
    else tooLarge = tried;
  }
  element.style.fontSize = `${fits}px`;
}

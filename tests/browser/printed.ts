import type { Page } from 'playwright-core';
import { getDocumentProxy } from 'unpdf';

/** A page of a PDF. */
export interface PrintedPage {
  /** Its words, by single blanks. */
  readonly text: string;
  /** How far words reach beyond its edges, in points; nought or less where all of it is on the page. */
  readonly beyond: number;
}

/** What the browser would print now. */
export async function printed(page: Page, format: 'A4' | 'Letter'): Promise<PrintedPage[]> {
  const pdf = await getDocumentProxy(new Uint8Array(await page.pdf({ format, preferCSSPageSize: false })));
  return Promise.all(
    Array.from({ length: pdf.numPages }, async (_, index) => {
      const sheet = await pdf.getPage(index + 1);
      const [, , width = 0, height = 0] = sheet.view;
      const { items } = await sheet.getTextContent();
      // The blanks between two words are made up by the reader, and of any width.
      const words = items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item] : []));
      const reach = words.map(({ transform, width: long }) => {
        const [, , , , x = 0, y = 0] = transform.map(Number);
        return Math.max(-x, x + long - width, -y, y - height);
      });
      return {
        text: words
          .map(({ str }) => str)
          .join(' ')
          .replace(/\s+/g, ' '),
        beyond: Math.max(...reach),
      };
    }),
  );
}

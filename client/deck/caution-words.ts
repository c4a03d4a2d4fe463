import type { Board } from '../../shared-types/board/board.ts';
import { DIVES } from '../../shared-types/message.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { capital } from './words.ts';

/** What the sheet says of dives, as a sentence, while a lane is at a rep that begins with one; else empty. Pure. */
export function cautionAt(
  { lanes, phase }: Pick<Board, 'lanes' | 'phase'>,
  { messages }: Pick<Sheet, 'messages'>,
): string {
  if (phase === 'finished' || lanes.every(({ rep }) => rep?.start !== 'dive')) return '';
  const caution = messages.find(({ code, text }) => code === 'caution' && text.startsWith(DIVES));
  return caution ? `${capital(caution.text)}.` : '';
}

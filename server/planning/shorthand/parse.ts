import type { Message } from '../../../shared-types/message.ts';
import type { Practice } from '../../../shared-types/practice.ts';
import { linesWithinLimits } from './lines.ts';
import { PracticeReader } from './practice-reader.ts';
import { Messages } from './report.ts';

/**
 * Reads a practice in deck shorthand. Any text can be given; it never throws.
 * @returns the practice, or null when any message is an error; what could be read of it all the same (null when the
 * text is beyond the limits); the messages by line and column, all at once
 */
export function parsePractice(text: string): {
  practice: Practice | null;
  readable: Practice | null;
  messages: Message[];
} {
  const messages = new Messages();
  const lines = linesWithinLimits(text, messages);
  const practice = lines && new PracticeReader(messages).read(lines);
  const sorted = messages.sorted();
  const failed = sorted.some((message) => message.severity === 'error');
  return { practice: failed ? null : practice, readable: practice, messages: sorted };
}

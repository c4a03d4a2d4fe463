import type { Item, Note, Practice, Section, Style } from '../../../shared-types/practice.ts';
import { Blocks } from './blocks.ts';
import { explainStop } from './explain.ts';
import { isStop, readItem } from './grammar.ts';
import { type Head, readHead } from './heads.ts';
import { columnOf } from './lexer.ts';
import { isMeantAsItem, type Line, setMarkOf, startsWithLetter, takeApart } from './line-form.ts';
import type { RawItem, RawRounds } from './raw.ts';
import { readMeaning, readRounds } from './read-item.ts';
import { type Messages, quote, type Report } from './report.ts';
import { readSectionLine } from './section-line.ts';
import { mendSlips } from './slips.ts';

interface OpenSection {
  readonly name: string;
  readonly style?: Style;
  readonly line: number;
  readonly items: Item[];
  readonly notes: Note[];
}

const isRoundsHead = (raw: RawItem): raw is RawRounds => raw.kind === 'rounds' && raw.inline === undefined;

/** Reads a practice line by line. A line that cannot be read is reported, and reading goes on below it. */
export class PracticeReader {
  private readonly messages: Messages;
  private readonly blocks = new Blocks();
  private readonly sections: OpenSection[] = [];
  private title: string | undefined;
  /** Whether a text line would start a section: at the top, after the title, after an empty line. */
  private afterBreak = true;
  /** The notes of the set that the next note belongs to, if one does. */
  private setNotes: Note[] | null = null;

  constructor(messages: Messages) {
    this.messages = messages;
  }

  read(lines: readonly string[]): Practice {
    for (const [i, source] of lines.entries()) this.readLine(source, i + 1);
    this.blocks.restart([]);
    return { ...(this.title ? { title: this.title } : {}), sections: this.sections satisfies Section[] };
  }

  private readLine(source: string, number: number): void {
    const trimmed = source.trim();
    const report = this.messages.onLine(number);
    if (trimmed === '') {
      this.afterBreak = true;
    } else if (trimmed.startsWith('#')) {
      this.readTitle(trimmed.slice(1).trim(), source, number, report);
    } else {
      const line = takeApart(source, number);
      if (line.text !== '') this.readWords(line, report);
      if (line.note !== '') this.addNote(line.number, line.note);
    }
  }

  private readTitle(title: string, source: string, number: number, report: Report): void {
    if (number === 1) {
      this.title = title;
      return;
    }
    this.afterBreak = false;
    report(source.indexOf('#') + 1, {
      text: 'a # is for the title, which stands on the first line only; take the # out',
      ...(title ? { fix: title } : {}),
    });
  }

  private readWords(line: Line, report: Report): void {
    const head = readHead(line.tokens, line.colon, line.source, report);
    if (head) this.addHead(head, line, report);
    else if (isMeantAsItem(line)) this.addItem(line, report);
    else if (setMarkOf(line) || line.tokens.length === 0) this.refuse(line, report);
    else if (!this.afterBreak || line.indent > 0) this.addTextNote(line, report);
    else if (startsWithLetter(line)) this.startSection(line, report);
    else this.refuse(line, report);
    this.afterBreak = false;
  }

  /** The section being written; before the first section line one without a name. */
  private section(line: number): OpenSection {
    const open = this.sections.at(-1);
    if (open) return open;
    const nameless: OpenSection = { name: '', line, items: this.blocks.items, notes: [] };
    this.sections.push(nameless);
    return nameless;
  }

  private addNote(line: number, text: string): void {
    (this.setNotes ?? this.section(line).notes).push({ line, text });
  }

  private addTextNote(line: Line, report: Report): void {
    const above = this.setNotes ? 'a note to the set above' : 'a note';
    const cure =
      line.indent > 0
        ? 'write -- before it to say so'
        : 'write -- before it to say so, or leave an empty line above it to start a section';
    report(line.column, {
      code: 'note',
      text: `${quote(line.text)} is read as ${above}; ${cure}`,
      fix: `-- ${line.text}`,
    });
    this.addNote(line.number, line.text);
  }

  private startSection(line: Line, report: Report): void {
    const tokens = line.colon ? [...line.tokens, line.colon] : line.tokens;
    const end = line.source.indexOf(line.text) + line.text.length;
    const section = {
      ...readSectionLine(tokens, line.source.slice(0, end), report),
      line: line.number,
      items: [],
      notes: [],
    };
    this.sections.push(section);
    this.blocks.restart(section.items);
    this.setNotes = null;
    // A section has no block of its own, but its lines may be indented under it.
    this.open('section', section.items, line, report);
  }

  private open(kind: 'rounds' | 'groups' | 'broken' | 'section', items: Item[], line: Line, report: Report): void {
    this.blocks.open({ kind, items, report, headIndent: line.indent, column: line.column, head: line.text });
  }

  private refuse(line: Line, report: Report): void {
    this.blocks.place(line.indent, line.column, report);
    this.section(line.number);
    this.setNotes = null;
    const mark = setMarkOf(line);
    const text = mark
      ? `${quote(line.text)} cannot be read as a set; start with the count or the distance, like 8 x 50 free @ 1:10`
      : `${quote(line.text)} cannot be read; start a set with its count or distance, a section with a letter, a note with --`;
    report(line.column, { text });
    if (line.colon) this.open('broken', [], line, report);
  }

  private addHead(head: Head, line: Line, report: Report): void {
    this.blocks.place(line.indent, line.column, report);
    this.section(line.number);
    this.setNotes = null;
    const items: Item[] = [];
    if (head === 'broken') {
      this.open('broken', items, line, report);
      return;
    }
    if (this.blocks.forSome) {
      report(line.column, {
        text: `${quote(line.text)} stands inside the lines of another group; line it up with that group's head`,
      });
    }
    this.blocks.items.push({ kind: 'groups', line: line.number, column: line.column, who: head, items });
    this.open('groups', items, line, report);
  }

  private addItem(line: Line, report: Report): void {
    this.blocks.place(line.indent, line.column, report);
    this.section(line.number);
    this.setNotes = null;
    const raw = this.readRaw(line, report);
    if (raw && isRoundsHead(raw)) {
      this.addRoundsHead(raw, line, report);
      return;
    }
    if (line.colon) {
      if (raw) report(line.colon, { text: 'only rounds, groups and lanes end with a colon; take it out' });
      this.open('broken', [], line, report);
    }
    const read = raw && readMeaning(raw, this.blocks.roundsDepth, { line: line.number, source: line.source, report });
    if (!read) return;
    this.blocks.items.push(read.item);
    this.setNotes = read.notes;
  }

  /** @returns null when the line cannot be read; then it has been reported */
  private readRaw(line: Line, report: Report): RawItem | null {
    const { tokens, guessed } = mendSlips(line.tokens, line.source, report);
    const raw = readItem(tokens);
    if (!isStop(raw)) return raw;
    if (!guessed) explainStop(raw, tokens, report);
    return null;
  }

  private addRoundsHead(raw: RawRounds, line: Line, report: Report): void {
    const items: Item[] = [];
    const rounds = readRounds(raw, this.blocks.roundsDepth, items, { line: line.number, source: line.source, report });
    if (rounds) this.blocks.items.push(rounds);
    if (!line.colon) {
      const fix = `${line.text}:`;
      report(columnOf(raw.first), {
        text: `rounds end with a colon and their lines stand below, indented; write ${fix}`,
        fix,
      });
    }
    this.open(line.colon ? 'rounds' : 'broken', items, line, report);
  }
}

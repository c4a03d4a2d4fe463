import type { Item } from '../../../shared-types/practice.ts';
import { quote, type Report } from './report.ts';

/** What a head opens: the lines indented under it. */
interface Block {
  /** Columns the head is indented by; -1 for the practice itself. */
  readonly headIndent: number;
  /** Columns its lines are indented by; null until the first of them. */
  indent: number | null;
  readonly items: Item[];
  readonly roundsDepth: number;
  readonly forSome: boolean;
  /** Says that nothing is indented under the head; absent where that is no mistake. */
  readonly reportEmpty?: () => void;
}

export interface Opening {
  readonly headIndent: number;
  readonly items: Item[];
  readonly kind: 'rounds' | 'groups' | 'broken' | 'section';
  readonly report: Report;
  readonly column: number;
  /** The head as written. */
  readonly head: string;
}

/** Which block each line belongs to, by its indentation. */
export class Blocks {
  private stack: Block[] = [];
  private top: Block;

  constructor() {
    this.top = { headIndent: -1, indent: 0, items: [], roundsDepth: 0, forSome: false };
    this.stack = [this.top];
  }

  /** The items of the block that the last placed line lies in. */
  get items(): Item[] {
    return this.top.items;
  }

  /** How many rounds are open around the last placed line. */
  get roundsDepth(): number {
    return this.top.roundsDepth;
  }

  /** Whether the last placed line is for some groups or lanes only. */
  get forSome(): boolean {
    return this.top.forSome;
  }

  private close(): void {
    if (this.stack.length < 2) return;
    if (this.top.indent === null) this.top.reportEmpty?.();
    this.stack.pop();
    this.top = this.stack.at(-1) ?? this.top;
  }

  /** Finds the block of a line indented by `indent` columns, closing those that ended before it. */
  place(indent: number, column: number, report: Report): void {
    while (this.top.indent === null && indent <= this.top.headIndent) this.close();
    if (this.top.indent === null) {
      this.top.indent = indent;
      return;
    }
    const inner = this.top.indent;
    while (this.top.indent !== null && indent < this.top.indent) this.close();
    if (indent === this.top.indent) return;
    const text =
      indent < inner
        ? 'this line stands between two indentations; line it up with the lines it belongs to'
        : 'this line is indented, but the line above it has no colon at its end; line it up with the lines before it';
    report(column, { code: 'indent', text });
  }

  open({ headIndent, items, kind, report, column, head }: Opening): void {
    const text = `nothing is indented under ${quote(head)}; write what it is for on the lines below, indented`;
    const block: Block = {
      headIndent,
      indent: null,
      items,
      roundsDepth: this.top.roundsDepth + (kind === 'rounds' ? 1 : 0),
      forSome: this.top.forSome || kind === 'groups',
      ...(kind === 'section' || kind === 'broken'
        ? {}
        : { reportEmpty: () => report(column, { code: 'indent', text }) }),
    };
    this.stack.push(block);
    this.top = block;
  }

  /** Ends every block: a section begins, whose items go to `items`, or the text ends. */
  restart(items: Item[]): void {
    while (this.stack.length > 1) this.close();
    this.top = { headIndent: -1, indent: 0, items, roundsDepth: 0, forSome: false };
    this.stack = [this.top];
  }
}

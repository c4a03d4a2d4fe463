import type {
  Effort,
  Equipment,
  Item,
  Part,
  PerGroup,
  Practice,
  RacePace,
  Release,
  RoundsItem,
  SetItem,
} from '../../shared-types/practice.ts';
import { formatClock } from '../../shared-types/time.ts';

/** Chooses between the ways to write one thing: gives a whole number from 0 up to, not including, `ways`. */
export type Choose = (ways: number) => number;

/** Writes practices down in deck shorthand, each in one of the many ways a coach may choose. */
export class Writer {
  private readonly choose: Choose;

  constructor(choose: Choose) {
    this.choose = choose;
  }

  practice({ title, sections }: Practice): string {
    const lines = title === undefined ? [] : [`# ${title}`];
    for (const { name, style, items } of sections) {
      const indent = this.one('', '', '  ');
      lines.push('', style ? `${name}: ${this.one(style, style.toUpperCase())}` : `${name}${this.one('', ':')}`);
      lines.push(...items.flatMap((item) => this.lines(item, indent)));
    }
    return lines.join(this.one('\n', '\r\n'));
  }

  set(set: SetItem): string {
    const counts = this.slashed(set.counts, String);
    const count = set.counts.length === 1 && counts === '1' && this.choose(2) === 0 ? '' : `${counts}${this.times()}`;
    const size =
      set.size.kind === 'timed' ? formatClock(set.size.timeMs) : `${set.size.distance}${this.one('', '', 's')}`;
    const clauses = this.shuffled(this.clauses(set).filter((clause) => clause !== ''));
    return [`${count}${size}`, ...clauses].join(this.one(' ', '  ', ', ').replace(/^,/, ' '));
  }

  private one(first: string, ...others: string[]): string {
    return [first, ...others][this.choose(others.length + 1)] ?? first;
  }

  private shuffled<T>(list: readonly T[]): T[] {
    const left = [...list];
    return list.flatMap(() => left.splice(this.choose(left.length), 1));
  }

  private times(): string {
    return this.one(' x ', 'x', ' X ', ' × ', '*');
  }

  private slashed<T>(values: PerGroup<T>, text: (value: T) => string): string {
    return values.map(text).join(this.one('/', ' / '));
  }

  private time(value: number): string {
    return this.one(formatClock(value), `${value / 1000}s`);
  }

  private lines(item: Item, indent: string): string[] {
    switch (item.kind) {
      case 'set':
        return [`${indent}${this.set(item)}`];
      case 'rest':
        return [`${indent}${this.one(`rest ${this.time(item.restMs)}`, `${this.time(item.restMs)} REST`)}`];
      case 'rounds':
        return [`${indent}${this.roundsHead(item)}:`, ...this.inside(item.items, indent)];
      case 'groups':
        return [`${indent}${this.who(item.who)}:`, ...this.inside(item.items, indent)];
      default:
        return [`${indent}${item.kind}`];
    }
  }

  private inside(items: readonly Item[], indent: string): string[] {
    const inner = indent + this.one('  ', ' ', '\t', '    ');
    return items.flatMap((item) => this.lines(item, inner));
  }

  private roundsHead({ count, together, betweenMs }: RoundsItem): string {
    const between = betweenMs === undefined ? '' : `${this.one(', ', ' ')}${this.time(betweenMs)} between`;
    return `${count} ${this.one('rounds', 'round', 'ROUNDS')}${together ? ' together' : ''}${between}`;
  }

  private who(who: Extract<Item, { kind: 'groups' }>['who']): string {
    if (who.kind === 'groups') return `${this.one('', '', 'groups ')}${who.groups.join(this.one(', ', ',', ' and '))}`;
    return who.from === who.to ? `lane ${who.from}` : `lanes ${who.from}${this.one('-', ' - ', '–')}${who.to}`;
  }

  private stroke(stroke: string): string {
    const others: Readonly<Record<string, string[]>> = {
      free: ['fr', 'Freestyle'],
      back: ['bk', 'backstroke'],
      breast: ['br', 'BREAST'],
      fly: ['fl', 'butterfly'],
      'IM order': ['im  ORDER'],
    };
    return this.one(stroke, ...(others[stroke] ?? []));
  }

  private clauses(set: SetItem): string[] {
    const dropping = set.release?.kind === 'interval' ? set.release.droppingMs : undefined;
    return [
      set.stroke === 'free' ? this.one('', 'free') : this.stroke(set.stroke),
      set.activity === 'swim' ? this.one('', 'swim') : set.activity,
      set.start === 'dive' ? this.one('dive', 'from a dive', 'from the blocks') : '',
      set.equipment.length > 0
        ? `with ${set.equipment.map((each) => this.equipment(each)).join(this.one('+', ' + '))}`
        : '',
      set.release ? this.release(set.release) : '',
      dropping === undefined ? '' : `dropping ${this.time(dropping)}`,
      set.apartMs === undefined ? '' : `${this.time(set.apartMs)} apart`,
      set.effort ? this.effort(set.effort) : '',
      set.parts.length > 0 ? `(${set.parts.map((part) => this.part(part)).join(this.one(', ', ','))})` : '',
      set.finishTogether ? 'finish together' : '',
    ];
  }

  private equipment({ name, massKg }: Equipment): string {
    return massKg === undefined ? name : `${name} ${massKg}${this.one(' kg', 'kg')}`;
  }

  private release(release: Release): string {
    if (release.kind === 'interval') {
      return `${this.one('@ ', '@', 'on ')}${this.slashed(release.intervalMs, (each) => this.time(each))}`;
    }
    if (release.kind === 'rest')
      return this.one(`rest ${this.time(release.restMs)}`, `${this.time(release.restMs)} rest`);
    return release.byHeat ? 'on go by heat' : 'on GO';
  }

  private part(part: Part): string {
    const clauses = [
      part.stroke ? this.stroke(part.stroke) : '',
      part.activity ?? '',
      part.effort ? this.effort(part.effort) : '',
    ];
    return [String(part.distance), ...this.shuffled(clauses.filter((clause) => clause !== ''))].join(' ');
  }

  private race({ distance, stroke, part }: RacePace): string {
    const own = stroke === 'own' ? 'own ' : '';
    const swum = stroke && stroke !== 'own' ? ` ${this.stroke(stroke)}` : '';
    return `${own}${distance}${swum}${part ? ` ${part}` : ''} pace`;
  }

  private effort(effort: Effort): string {
    switch (effort.kind) {
      case 'descend':
        return effort.over === undefined ? 'descend' : `descend 1-${effort.over}`;
      case 'threshold':
        return effort.plusMsPer100 === 0
          ? 'threshold'
          : `threshold ${this.one('+', '+ ')}${effort.plusMsPer100 / 1000}`;
      case 'pace': {
        const percent = effort.percent === 100 ? '' : `${effort.percent}% of `;
        return `at ${percent}${this.race(effort.race)}`;
      }
      case 'ramp':
        return `from ${effort.fromPercent}${this.one('%', '')} to ${effort.toPercent}% of ${this.race(effort.race)} by ${effort.by}`;
      case 'hold': {
        const times = this.slashed(effort.timeMs, (each) => this.one(String(each / 1000), formatClock(each)));
        return `hold ${times}${effort.perDistance === undefined ? '' : ` per ${effort.perDistance}`}`;
      }
      case 'alternate':
        return `odds ${this.effort(effort.odds)}${this.one(' ', ', ')}evens ${this.effort(effort.evens)}`;
      default:
        return this.one('', 'at ') + effort.kind;
    }
  }
}

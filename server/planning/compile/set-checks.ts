import type { Message } from '../../../shared-types/message.ts';
import { lengthOf, type Pool, unitOf } from '../../../shared-types/pool.ts';
import type { SetItem } from '../../../shared-types/practice.ts';
import { countFor } from './counts.ts';
import { effortsIn } from './effort-on.ts';
import { entryFor, placeInList } from './per-group.ts';

type Problem = Pick<Message, 'severity' | 'code' | 'text'> & { readonly fix?: string };

/** What is wrong with a set line for this pool and these pace groups; errors first. */
export function checkSet(set: SetItem, present: readonly string[], pool: Pool): Message[] {
  const problems = [
    ...lengthProblems(set, pool),
    ...listProblems(set, present),
    ...releaseProblems(set, present, pool),
  ];
  return problems.map((problem) => ({ ...problem, line: set.line, column: columnOf(problem, set) }));
}

const columnOf = ({ code }: Problem, set: SetItem): number =>
  code === 'part-lengths' || code === 'mid-pool' ? set.sizeColumn : set.column;

function lengthProblems(set: SetItem, pool: Pool): Problem[] {
  if (set.size.kind === 'timed') return [];
  const { distance } = set.size;
  const length = lengthOf(pool.course);
  if (distance % length === 0) return [];
  if (length === 50 && distance % 25 === 0) {
    const text = `${distance} ends in the middle of the pool: say where swimmers wait`;
    return [{ severity: 'warning', code: 'mid-pool', text }];
  }
  const whole = Math.max(1, Math.round(distance / length)) * length;
  const text = `${distance} is not a whole number of ${length} ${unitOf(pool.course)} lengths`;
  return [{ severity: 'error', code: 'part-lengths', text, fix: String(whole) }];
}

const COUNT_WORDS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];
const inWords = (count: number): string => COUNT_WORDS[count] ?? String(count);

function listProblems(set: SetItem, present: readonly string[]): Problem[] {
  const lists = [
    { length: set.counts.length, of: 'counts' },
    { length: set.release?.kind === 'interval' ? set.release.intervalMs.length : 1, of: 'send-offs' },
    ...effortsIn(set).map((effort) => ({
      length: effort.kind === 'hold' ? effort.timeMs.length : 1,
      of: 'times to hold',
    })),
  ];
  return lists.flatMap(({ length, of }): Problem[] => {
    if (present.every((group) => placeInList(length, group, present) !== null)) return [];
    const groups = `${inWords(present.length)} pace group${present.length === 1 ? '' : 's'}`;
    const text =
      length < present.length
        ? `${inWords(length)} ${of} for ${groups}`
        : `${inWords(length)} ${of}, and none of them is for pace group ${present.at(-1)}`;
    return [{ severity: 'error', code: 'group-count', text, fix: `give one for each of ${present.join(', ')}` }];
  });
}

function releaseProblems(set: SetItem, present: readonly string[], pool: Pool): Problem[] {
  return set.finishTogether ? togetherProblems(set) : droppingProblems(set, present, pool);
}

function togetherProblems({ release, counts }: SetItem): Problem[] {
  const refused = (text: string, fix: string): Problem[] => [{ severity: 'error', code: 'unreadable', text, fix }];
  if (release?.kind !== 'interval') {
    return refused('finish together needs send-offs to count with', 'write @ 1:20/1:30 or leave it out');
  }
  if (release.droppingMs !== undefined) {
    return refused('finish together cannot count with a dropping send-off', 'write the counts, like 10/9/8 x');
  }
  if (counts.length > 1) {
    return refused('finish together counts the reps of all groups but the first itself', `write ${counts[0]} x`);
  }
  return [];
}

function droppingProblems(set: SetItem, present: readonly string[], pool: Pool): Problem[] {
  const { release } = set;
  if (release?.kind !== 'interval' || release.droppingMs === undefined) return [];
  const { droppingMs, intervalMs } = release;
  return present.flatMap((group): Problem[] => {
    const reps = countFor(set, group, present, pool);
    if (entryFor(intervalMs, group, present) - droppingMs * (reps - 1) > 0) return [];
    const text = `the send-off of pace group ${group} has dropped to nothing before rep ${reps}`;
    return [{ severity: 'error', code: 'unreadable', text, fix: 'drop by less, or swim fewer' }];
  });
}

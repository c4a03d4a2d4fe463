import { type CommandId, type Instant, instant, type SwimmerId } from '../../shared-types/brand.ts';
import { foldMarks, type MarkEvent, type MarkPlace, NO_MARKS } from '../../shared-types/marks.ts';

/** Before every practice: it says nothing of when somebody touched. */
const NEVER: Instant = instant(0);

/**
 * Those of a run's mark events that are others without a swimmer. They keep their numbers, so that the numbering has no
 * gap, but say of nobody that somebody came, and not when; a press that turned out to be another's keeps its instant.
 * @param nobody an id that nothing else has
 */
export function unmarked(events: readonly MarkEvent[], swimmer: SwimmerId, nobody: SwimmerId): MarkEvent[] {
  const { entries } = foldMarks(NO_MARKS, events);
  const isTheirs = (mark: CommandId): boolean => entries.get(mark)?.place.swimmer === swimmer;
  const emptied = (place: MarkPlace): MarkPlace =>
    place.swimmer === swimmer ? { ...place, swimmer: nobody, leftAt: null } : place;
  return events.flatMap((event): MarkEvent[] => {
    const theirs = isTheirs(event.mark);
    if (event.kind === 'void') return theirs ? [{ ...event, decidedAt: NEVER }] : [];
    if (!theirs && event.place.swimmer !== swimmer) return [];
    const place = emptied(event.place);
    if (!theirs) return [{ ...event, place }];
    if (event.kind !== 'mark' && event.kind !== 'miss') return [{ ...event, place, decidedAt: NEVER }];
    const { run, seq, command, device, mark } = event;
    return [{ kind: 'miss', run, seq, command, device, mark, decidedAt: NEVER, pressedAt: NEVER, place }];
  });
}

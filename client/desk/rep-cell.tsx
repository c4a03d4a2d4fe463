import type { JSX } from 'preact';
import { formatSwimTime } from '../../shared-types/time.ts';
import type { JudgedRep } from '../../shared-types/wire/results.ts';
import { missingWords, pacedOpening, targetText, targetWords } from './result-words.ts';

/** The time that was held against the target stands out: the finish, or where only a rep's opening is paced its end. */
function RepTimes({ rep }: { rep: JudgedRep }): JSX.Element {
  const opening = pacedOpening(rep)?.distance;
  const { ms, splits } = rep;
  const isJudged = splits.some(({ distance }) => distance === opening);
  return (
    <>
      {ms !== null && <strong class={opening === undefined ? 'judged' : undefined}>{formatSwimTime(ms, 1)}</strong>}
      {splits.map(({ distance, ms: at }) => (
        <span key={distance} class="split">
          {distance}: {distance === opening ? <b class="judged">{formatSwimTime(at, 1)}</b> : formatSwimTime(at, 1)}
        </span>
      ))}
      {ms === null && <span class={isJudged ? 'visually-hidden' : 'missing'}>{missingWords(rep)}</span>}
    </>
  );
}

/** What became of a rep: its times, what was asked, and how the two agree. */
export function RepCell({ rep }: { rep: JudgedRep | undefined }): JSX.Element {
  if (!rep) return <td class="rep" />;
  const { missing } = rep;
  const target = targetText(rep);
  const became = targetWords(rep);
  return (
    <td class="rep" data-verdict={became?.verdict} data-missing={missing}>
      <RepTimes rep={rep} />
      {target !== null && missing !== 'not swum' && (
        <span class="asked">
          <span class="visually-hidden">asked </span>
          {target} <span class="verdict">{became?.words}</span>
        </span>
      )}
    </td>
  );
}

import type { JSX } from 'preact';
import { formatSwimTime } from '../../shared-types/time.ts';
import type { SwimmerAnswer, SwimmerSet } from '../../shared-types/wire/swimmer.ts';
import { runAddress, seasonAddress } from './address.ts';
import { longDay } from './days.ts';
import type { Desk } from './desk.ts';
import { kindWords, sendOffWords, timedWords } from './season-words.ts';
import { TableFrame } from './table-frame.tsx';

function SwumSet({ desk, swum }: { desk: Desk; swum: SwimmerSet }): JSX.Element {
  const { run, at, title, style, loose, strict, meanMs, bestMs, judged, hits } = swum;
  return (
    <tr data-swum={run}>
      <th scope="row">
        <a href={runAddress(run)}>{longDay(at, desk.link.settings.value)}</a>
        <span class="lead">
          <bdi>{title ?? 'Untitled practice'}</bdi>
        </span>
      </th>
      <td>{style}</td>
      <td class="sent-off">
        <a href={seasonAddress(loose)}>{kindWords({ signature: loose, style })}</a>
        <span class="quiet">{sendOffWords(strict, loose)}</span>
      </td>
      <td class="figure">{timedWords([swum])}</td>
      <td class="figure">{meanMs === null ? '' : <strong>{formatSwimTime(meanMs, 1)}</strong>}</td>
      <td class="figure">{bestMs === null ? '' : formatSwimTime(bestMs, 1)}</td>
      <td class="figure">{judged === 0 ? '' : `${hits} of ${judged}`}</td>
    </tr>
  );
}

/** What a swimmer has swum, the last first. */
export function SwimmerSets({ desk, answer: { sets, more } }: { desk: Desk; answer: SwimmerAnswer }): JSX.Element {
  return (
    <section aria-label="Sets swum">
      <h3>Sets swum</h3>
      {sets.length === 0 ? (
        <p class="quiet">None yet: what is swum from the wall appears here. Rehearsed practices do not count.</p>
      ) : (
        <TableFrame label="Sets swum">
          <table class="times-table season-table">
            <thead>
              <tr>
                <th scope="col">Swum on</th>
                <th scope="col">Style</th>
                <th scope="col" class="sent-off">
                  Set
                </th>
                {['Timed', 'Mean', 'Best', 'Held'].map((head) => (
                  <th key={head} scope="col" class="figure">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {sets.map((swum) => (
                <SwumSet key={`${swum.run} ${swum.set}`} desk={desk} swum={swum} />
              ))}
            </tbody>
          </table>
        </TableFrame>
      )}
      {more && (
        <button type="button" data-action="older-sets" onClick={() => void desk.swimmer.showOlder()}>
          Show older sets
        </button>
      )}
    </section>
  );
}

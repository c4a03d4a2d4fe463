import type { JSX } from 'preact';
import type { Desk } from './desk.ts';
import { ForOwners } from './for-owners.tsx';
import { ProblemNote } from './problem-note.tsx';

/** The first start: nothing stored yet, and the ways to go on. */
export function Welcome({ desk }: { desk: Desk }): JSX.Element {
  return (
    <section class="welcome" aria-label="First steps">
      <div>
        <h2>Nothing is stored here yet</h2>
        <p>
          Farwall needs to know who swims in which lane, and what they have swum; then it works out every send-off and
          target of the practices you write.
        </p>
      </div>
      <div class="actions">
        <ForOwners desk={desk}>
          <button type="button" class="strong" data-action="demo" onClick={() => void desk.demo.add()}>
            Look around with an invented squad and five practices
          </button>
        </ForOwners>
        <a class="button" href="#squad">
          Load your own squad
        </a>
      </div>
      <ProblemNote problem={desk.demo.problem.value} />
    </section>
  );
}

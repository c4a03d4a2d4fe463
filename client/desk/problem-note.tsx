import type { JSX } from 'preact';
import type { Problem } from './problem.ts';

/** A thing that went wrong, said where it happened. */
export function ProblemNote({ problem }: { problem: Problem | null }): JSX.Element | null {
  if (!problem) return null;
  return (
    <p class="problem" role="alert">
      {problem.message}
      {problem.fix && <span class="fix"> {problem.fix}</span>}
    </p>
  );
}

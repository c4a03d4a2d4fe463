import type { JSX } from 'preact';
import type { Desk } from './desk.ts';

/** How far the files that become practices are, and what has come of them. */
export function FilesProgress({ desk: { files } }: { desk: Desk }): JSX.Element {
  const going = files.going.value;
  return (
    <div class="files-progress" data-files={going ? 'going' : 'done'}>
      {going && (
        <>
          <progress aria-label="Files saved" value={going.done} max={going.of} />
          <span>
            {going.done} of {going.of} files
          </span>
          <button type="button" data-action="stop-files" onClick={files.stop}>
            Stop
          </button>
        </>
      )}
      <p role="status">{files.said.value}</p>
      {files.failed.value.length > 0 && (
        <ul class="files-failed">
          {files.failed.value.map((reason) => (
            <li key={reason} translate={false}>
              {reason}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

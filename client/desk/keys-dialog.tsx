import { Fragment, type JSX } from 'preact';
import type { Desk } from './desk.ts';
import { isMac } from './key-strokes.ts';
import { type DeskKey, KEY_GROUPS, keyWords, listedWays } from './keys.ts';
import { Modal } from './modal.tsx';

/** A key, as it is written on a button that does the same. */
export const KeyHint = ({ of }: { of: DeskKey }): JSX.Element => <kbd>{keyWords(of, isMac())}</kbd>;

function Ways({ of }: { of: DeskKey }): JSX.Element {
  const { ways, between } = listedWays(of, isMac());
  return (
    <dt>
      {ways.map((strokes, way) => (
        <Fragment key={strokes.join(' ')}>
          {way > 0 && ` ${between} `}
          {strokes.map((stroke, place) => (
            <Fragment key={`${place} ${stroke}`}>
              {place > 0 && ' then '}
              <kbd>{stroke}</kbd>
            </Fragment>
          ))}
        </Fragment>
      ))}
    </dt>
  );
}

/** All keys of the desk, as the table has them that they act by. */
export function KeysDialog({ desk: { keys } }: { desk: Desk }): JSX.Element | null {
  if (!keys.isOpen.value) return null;
  const close = (): void => keys.show(false);
  return (
    <Modal title="Keys" wide onLeave={close}>
      <label class="check">
        <input
          type="checkbox"
          data-letter-keys
          checked={keys.hasLetters.value}
          onChange={({ currentTarget }) => keys.useLetters(currentTarget.checked)}
        />
        Letters are keys, too: those under “Go to”. Switch them off where they get in the way of a screen reader or of
        speaking to the computer.
      </label>
      <div class="keys">
        {KEY_GROUPS.map(({ title, when, keys: listed }) => (
          <section key={title} aria-label={title}>
            <h3>{title}</h3>
            {when && <p class="quiet">{when}</p>}
            <dl>
              {listed.map((key) => (
                <div key={key.does} data-key={key.ways[0]}>
                  <Ways of={key} />
                  <dd>{key.does}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
      <div class="choices">
        <button type="button" class="strong" data-answer="yes" onClick={close}>
          Close
        </button>
      </div>
    </Modal>
  );
}

/** What may follow the key that was pressed. */
export function KeyBegun({ desk: { keys } }: { desk: Desk }): JSX.Element {
  const begun = keys.begun.value;
  return (
    <p class="key-begun" role="status" data-key-begun={begun?.key}>
      {begun && (
        <>
          <span>
            <kbd>{begun.key}</kbd> then
          </span>
          {begun.next.map(({ key, does }) => (
            <span key={key}>
              <kbd>{key}</kbd> {does}
            </span>
          ))}
        </>
      )}
    </p>
  );
}

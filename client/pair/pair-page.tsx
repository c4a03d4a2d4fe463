import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Access } from '../../shared-types/wire/access.ts';
import type { PairModel } from './pair-model.ts';

const AS: Readonly<Record<Access, string>> = {
  screen: 'a screen: it shows the wall',
  coach: 'a coach’s device: it runs practices and takes times',
  owner: 'an owner’s device: it may do everything',
};

function AlreadyPaired({ pair }: { pair: PairModel }): JSX.Element | null {
  const { paired, asked } = pair;
  if (!paired.value) return null;
  const { name, access } = paired.value;
  const wanted = asked.to?.slice(1);
  return (
    <div class="paired" data-paired={access}>
      <p>
        This device, “<bdi>{name}</bdi>”, is paired as {AS[access]}.{' '}
        {wanted ? `For the ${wanted} that is not enough: pair it anew.` : 'Pair it anew to change that.'}{' '}
      </p>
      <p class="ways">
        <a href="/">Choose a screen</a>
        <button type="button" class="plain" data-action="leave" onClick={() => void pair.leave()}>
          End its pairing
        </button>
      </p>
    </div>
  );
}

function CodeField({ pair: { code } }: { pair: PairModel }): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>Code</label>
      <input
        id={id}
        class="code"
        name="code"
        value={code}
        required
        maxLength={20}
        autocomplete="off"
        autocapitalize="characters"
        spellcheck={false}
        placeholder="0000-0000"
        aria-describedby={`${id}-where`}
        autofocus={code.peek() === ''}
        onInput={({ currentTarget }) => {
          code.value = currentTarget.value;
        }}
      />
      <p class="quiet" id={`${id}-where`}>
        The desk shows one for ten minutes: under Today it says what to pair.
      </p>
    </div>
  );
}

function NameField({ pair: { name } }: { pair: PairModel }): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>Name of this device</label>
      <input
        id={id}
        name="name"
        value={name}
        required
        maxLength={40}
        autocomplete="off"
        aria-describedby={`${id}-what`}
        onInput={({ currentTarget }) => {
          name.value = currentTarget.value;
        }}
      />
      <p class="quiet" id={`${id}-what`}>
        So that you know it in the desk’s list: where it is, or whose.
      </p>
    </div>
  );
}

function Problem({ pair: { problem } }: { pair: PairModel }): JSX.Element | null {
  if (!problem.value) return null;
  return (
    <p class="problem" role="alert">
      {problem.value.message} {problem.value.fix}
    </p>
  );
}

/** The one page of a device that is not paired. */
export function PairPage({ pair }: { pair: PairModel }): JSX.Element | null {
  if (pair.state.value === 'asking') return null;
  const { key } = pair.asked;
  return (
    <main class="pair" data-pair={pair.state.value}>
      <h1>Farwall</h1>
      <p class="chief">{key === '' ? 'Pair this device' : 'Make this device an owner’s'}</p>
      {pair.asked.isEnded && (
        <p class="problem" role="status" data-ended>
          The pairing of this device was ended, on the desk or here. With a new code it goes on where it was; times that
          it had not sent yet are kept.
        </p>
      )}
      <AlreadyPaired pair={pair} />
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void pair.pair();
        }}
      >
        {key === '' && <CodeField pair={pair} />}
        <NameField pair={pair} />
        <Problem pair={pair} />
        <button type="submit" class="strong" disabled={pair.state.value === 'pairing'}>
          Pair
        </button>
      </form>
    </main>
  );
}

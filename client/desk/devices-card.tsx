import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useId } from 'preact/hooks';
import { isolated } from '../../shared-types/isolated.ts';
import type { Access } from '../../shared-types/wire/access.ts';
import type { PairedDevice, ShownCode } from '../../shared-types/wire/pairing.ts';
import type { Desk } from './desk.ts';
import { pairedWords, pairingAddress, placesOf, seenWords } from './devices-words.ts';
import { Modal } from './modal.tsx';
import { ProblemNote } from './problem-note.tsx';
import { QrCode } from './qr-code.tsx';

const KINDS: readonly { readonly access: Access; readonly label: string; readonly what: string }[] = [
  { access: 'screen', label: 'a TV for the wall', what: 'It shows the wall, and is paired as a screen.' },
  {
    access: 'coach',
    label: 'a tablet for the deck',
    what: 'It runs practices, takes times, reads names and results, and is paired as a coach.',
  },
  {
    access: 'owner',
    label: 'another desk',
    what: 'It may do everything, also end the pairing of this one: it is paired as an owner.',
  },
];

function DeviceRow({ desk, device }: { desk: Desk; device: PairedDevice }): JSX.Element {
  const isOwn = device.id === desk.devices.own.value?.id;
  const [now, face] = [desk.link.clock.now(), desk.link.settings.value];
  return (
    <tr data-device={device.access}>
      <th scope="row">
        <bdi>{device.name}</bdi>
        {isOwn && <small> this desk</small>}
      </th>
      <td>{pairedWords(device, now, face)}</td>
      <td>{seenWords(device, now, face)}</td>
      <td>
        <button
          type="button"
          data-action="end-device"
          aria-label={`End the pairing of ${isolated(device.name)}`}
          onClick={() => void desk.devices.end(device)}
        >
          End
        </button>
      </td>
    </tr>
  );
}

function DeviceTable({ desk }: { desk: Desk }): JSX.Element {
  return (
    <table class="screens devices">
      <thead>
        <tr>
          <th scope="col">Device</th>
          <th scope="col">Paired as</th>
          <th scope="col">Last here</th>
          <th scope="col">
            <span class="visually-hidden">What to do</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {desk.devices.list.value?.devices.map((device) => (
          <DeviceRow key={device.id} desk={desk} device={device} />
        ))}
      </tbody>
    </table>
  );
}

function PlaceChoice({
  places,
  chosen,
  choose,
}: {
  places: readonly string[];
  chosen: string;
  choose: (place: string) => void;
}): JSX.Element | null {
  const id = useId();
  if (places.length < 2) return null;
  return (
    <p>
      <label for={id}>This computer is in several networks; the device is in that of </label>
      <select id={id} value={chosen} onChange={({ currentTarget }) => choose(currentTarget.value)}>
        {places.map((place) => (
          <option key={place}>{place}</option>
        ))}
      </select>
    </p>
  );
}

function CodeDialog({ desk, shown }: { desk: Desk; shown: ShownCode }): JSX.Element {
  const places = placesOf(location, desk.devices.list.value?.addresses ?? []);
  const place = useSignal(places[0] ?? location.origin);
  const kind = KINDS.find(({ access }) => access === shown.access);
  return (
    <Modal title={`Pair ${kind?.label ?? ''}`} wide onLeave={() => void desk.devices.hide()}>
      {places.length === 0 && (
        <p class="problem" role="alert">
          Other devices cannot reach this server: it listens to this computer only.
          <span class="fix"> Start it without --host.</span>
        </p>
      )}
      <PlaceChoice
        places={places}
        chosen={place.value}
        choose={(chosen) => {
          place.value = chosen;
        }}
      />
      <div class="pairing">
        <QrCode text={pairingAddress(place.value, shown)} label="The address with the code, for a camera" />
        <div>
          <p>
            Point the device’s camera at this, or open <strong class="pair-address">{`${place.value}/pair`}</strong> on
            it and type:
          </p>
          <p class="pair-code" data-code>
            {shown.code}
          </p>
          <p class="quiet">For one device, for ten minutes. {kind?.what}</p>
        </div>
      </div>
      <div class="actions">
        <button type="button" data-action="hide-code" onClick={() => void desk.devices.hide()}>
          Done
        </button>
      </div>
    </Modal>
  );
}

/** How another device gets in, for owners. */
export function PairDevice({ desk }: { desk: Desk }): JSX.Element | null {
  const { own, shown, joined, problem, reload, show } = desk.devices;
  useEffect(() => void reload(), [reload]);
  if (own.value?.access !== 'owner') return null;
  return (
    <div class="pair-device">
      <p>Each device is paired once, with a code. Pair</p>
      <div class="actions">
        {KINDS.map(({ access, label, what }) => (
          <button
            key={access}
            type="button"
            title={what}
            data-action={`pair-${access}`}
            aria-label={`Pair ${label}`}
            onClick={() => void show(access)}
          >
            {label}
          </button>
        ))}
      </div>
      {joined.value && (
        <p role="status" data-joined>
          “<bdi>{joined.value.name}</bdi>” is paired.
        </p>
      )}
      <ProblemNote problem={problem.value} />
      {shown.value && <CodeDialog desk={desk} shown={shown.value} />}
    </div>
  );
}

/** The devices that may use this server, for owners. */
export function Devices({ desk }: { desk: Desk }): JSX.Element | null {
  const { list, own } = desk.devices;
  if (own.value?.access !== 'owner' || !list.value) return null;
  return (
    <section class="card devices-card" aria-label="Paired devices">
      <h2>Paired devices</h2>
      <p class="quiet">
        Only these get in. End the pairing of one that is lost or sold: it is cut off at once, and its tablet or TV
        shows no name any more.
      </p>
      <DeviceTable desk={desk} />
    </section>
  );
}

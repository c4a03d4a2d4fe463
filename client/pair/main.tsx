import './pair.css';
import { render } from 'preact';
import { endedSchema, pairedSchema } from '../../shared-types/wire/pairing.ts';
import { ask } from '../common/ask.ts';
import { deviceNameFor } from './device-name.ts';
import { askedBy, createPair } from './pair-model.ts';
import { PairPage } from './pair-page.tsx';

const asked = askedBy(location);
// The code is worth something: it stays neither in the address bar nor in the history.
history.replaceState(null, '', location.pathname + location.search);

const pair = createPair({
  asked,
  name: deviceNameFor(asked.key === '' ? asked.to : '/desk', navigator),
  server: {
    access: () => ask(pairedSchema, 'GET', '/api/access'),
    pair: (device) => ask(pairedSchema, 'POST', '/api/devices', device),
    leave: () => ask(endedSchema, 'DELETE', '/api/access'),
  },
  open: (path) => location.replace(path),
});
void pair.start();

const page = document.getElementById('page');
if (page) render(<PairPage pair={pair} />, page);

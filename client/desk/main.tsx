import './desk.css';
import './chart.css';
import './demo.css';
import './devices.css';
import './keys.css';
import './lanes.css';
import './library.css';
import './loads.css';
import './plan.css';
import './practice.css';
import './print.css';
import './privacy.css';
import './references.css';
import './results.css';
import './season.css';
import './sheet.css';
import './squad.css';
import './swimmer.css';
import './squad-preview.css';
import './walls.css';
import './weeks.css';
import { render } from 'preact';
import { leaveWhenUnpaired } from '../common/let-in.ts';
import { openLink } from '../common/link.ts';
import { App } from './app.tsx';
import { createDesk } from './desk.ts';
import { deskServer } from './desk-server.ts';
import { draftsIn, keptStorage } from './drafts.ts';
import { isMac } from './key-strokes.ts';
import { createKeys } from './keys-model.ts';
import { writeNumbersIn } from './local-numbers.ts';

/** How often the desk tells the server how well its clock agrees, ms. */
const REPORT_MS = 5000;

const page = document.getElementById('page');
if (!page) throw new Error('index.html has no #page');

const link = openLink({ role: 'desk' });
leaveWhenUnpaired(link, 'desk');
const desk = createDesk({
  link,
  server: deskServer,
  drafts: draftsIn(keptStorage()),
  keys: createKeys(keptStorage(), isMac()),
  later: (run, delayMs) => {
    const timer = setTimeout(run, delayMs);
    return () => clearTimeout(timer);
  },
});

const report = (): void =>
  link.report({ syncBoundMs: link.clock.boundMs(), width: window.innerWidth, height: window.innerHeight });
setInterval(report, REPORT_MS);
report();

writeNumbersIn(navigator.language);
desk.start();
render(<App desk={desk} />, page);

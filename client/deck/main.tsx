import './deck.css';
import './top.css';
import './lanes.css';
import './controls.css';
import './panel.css';
import './times.css';
import { render } from 'preact';
import { fetchJson } from '../common/fetch-json.ts';
import { deviceStorage } from '../common/ids.ts';
import { leaveWhenUnpaired } from '../common/let-in.ts';
import { openLink } from '../common/link.ts';
import { contactsOn } from './contacts.ts';
import { DeckPage } from './deck.tsx';
import { deckOver } from './deck-model.ts';
import { leadLinesOver } from './lead-lines.ts';
import { TakingChoices } from './taking-choices.ts';

/** Ten times a second: a countdown's second changes within a tenth of its time. */
const TICK_MS = 100;
const REPORT_MS = 5000;
/** What takes longer has been overtaken by the next question. */
const LINES_WITHIN_MS = 10_000;

const link = openLink({ role: 'deck' });
leaveWhenUnpaired(link, 'deck');
const deck = deckOver({
  link,
  contacts: contactsOn(window),
  choices: new TakingChoices(deviceStorage()),
  pageNow: () => performance.now(),
  lines: leadLinesOver({
    link,
    fetchJson: (path) => fetchJson(path, LINES_WITHIN_MS),
    later: (delayMs, call) => {
      const timer = setTimeout(call, delayMs);
      return () => clearTimeout(timer);
    },
  }),
});

const report = (): void =>
  link.report({ syncBoundMs: link.clock.boundMs(), width: window.innerWidth, height: window.innerHeight });

setInterval(() => deck.tick(), TICK_MS);
setInterval(report, REPORT_MS);
report();

const page = document.getElementById('page');
if (page) render(<DeckPage deck={deck} />, page);

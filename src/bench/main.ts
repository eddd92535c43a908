import './page.css';
import { procedures } from '../../procedures/index.ts';
import { deviceKey } from '../journal/keys.dom.ts';
import { IdbJournalStore } from '../journal/store.dom.ts';
import { browserSpeaker } from '../say/speaker.dom.ts';
import { App } from './app.ts';
import { readClocks } from './clock.dom.ts';
import { benchPins, browserFiles, browserSettings, type Desk } from './desk.dom.ts';
import { keepUpdated } from './update.dom.ts';

declare const __APP_VERSION__: string;

// The one place where the edges are chosen and handed in.
const desk: Desk = {
  store: new IdbJournalStore(),
  procedures,
  settings: browserSettings(),
  speaker: browserSpeaker(),
  pins: benchPins(),
  files: browserFiles(),
  app: __APP_VERSION__,
  now: () => Date.now(),
  clocks: readClocks,
  newId: () => crypto.randomUUID(),
  key: () => deviceKey(),
};

const app = new App();
app.desk = desk;
document.body.prepend(app);
keepUpdated();

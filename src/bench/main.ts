import './page.css';
import { procedures } from '../../procedures/index.ts';
import { deviceKey } from '../journal/keys.dom.ts';
import { IdbJournalStore } from '../journal/store.dom.ts';
import { browserSpeaker } from '../say/speaker.dom.ts';
import { App } from './app.ts';
import { readClocks } from './clock.dom.ts';
import { benchPins, browserFiles, browserSettings, type Desk } from './desk.dom.ts';
import { openDevice } from './device.dom.ts';
import { offered } from './offered.ts';
import { BenchOffice } from './office.dom.ts';
import { browserPublished } from './published.dom.ts';

declare const __APP_VERSION__: string;

const published = browserPublished();
const app = new App();
const device = openDevice(() => app.atRest, {
  told: (typed) => app.pressed(typed),
  odd: (line) =>
    app.fail(new Error(`The gauge sent "${line}", which is no reading as it was set up: set it up again.`)),
  changed: () => app.redraw(),
});

// The one place where the edges are chosen and handed in.
const desk: Desk = {
  store: new IdbJournalStore(),
  get procedures() {
    return offered(procedures, published.kept);
  },
  published,
  settings: browserSettings(),
  speaker: browserSpeaker(),
  pins: benchPins(),
  files: browserFiles(),
  app: __APP_VERSION__,
  device,
  office: new BenchOffice(),
  now: () => device.clock.now(),
  clocks: readClocks,
  newId: () => crypto.randomUUID(),
  key: () => deviceKey(),
};

app.desk = desk;
const { hash } = location;
document.body.prepend(app);
desk.office?.begin(hash, {
  store: desk.store,
  key: desk.key,
  now: () => Date.now(),
  async keepWorkshop(workshop) {
    await desk.settings.keepWorkshop(workshop);
    const first = app.workshop === null;
    app.workshop = workshop;
    if (first) await app.toShelf();
  },
  changed: () => app.redraw(),
  fail: (error) => app.fail(error),
});

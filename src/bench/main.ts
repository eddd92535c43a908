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
import { browserPasskeys } from './passkeys.dom.ts';
import { browserPublished } from './published.dom.ts';
import { shutOutWhy } from './shut-out.ts';

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
  passkeys: browserPasskeys(),
  files: browserFiles(),
  app: __APP_VERSION__,
  device,
  office: new BenchOffice(),
  now: () => device.clock.now(),
  clocks: readClocks,
  newId: () => crypto.randomUUID(),
  key: () => deviceKey(),
  shutOut: (person) => shutOutWhy(app.workshop, desk.office?.status?.shutOut ?? null)(person),
};

/** Fetched when somebody was shut out, and not before. */
async function pauseTheirs(): Promise<void> {
  if (!app.workshop?.shutOut?.length && !desk.office?.status?.shutOut) return;
  const { pauseShutOut } = await import('./shut-out.dom.ts');
  await pauseShutOut(desk);
}

app.desk = desk;
const { hash } = location;
document.body.prepend(app);
desk.office?.begin(hash, {
  store: desk.store,
  key: desk.key,
  now: () => Date.now(),
  files: desk.files,
  shelf: async () => (await import('./office-shelf.dom.ts')).officeShelf(desk),
  async keepWorkshop(workshop, pins) {
    for (const [person, pin] of Object.entries(pins)) await desk.pins.adopt(person, pin);
    await desk.settings.keepWorkshop(workshop);
    const first = app.workshop === null;
    app.workshop = workshop;
    await pauseTheirs();
    if (first || app.atRest) await app.toShelf();
  },
  changed() {
    app.redraw();
    if (desk.office?.status?.shutOut) app.try(pauseTheirs());
  },
  fail: (error) => app.fail(error),
});

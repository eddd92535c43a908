import { exportJWK, generateKeyPair } from 'jose';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { procedures as own } from '../../procedures/index.ts';
import { demoPins, demoWorkshop } from '../../seeds/demo.ts';
import { App } from '../../src/bench/app.ts';
import { readClocks } from '../../src/bench/clock.dom.ts';
import { benchPins, browserFiles, browserSettings, type Desk } from '../../src/bench/desk.dom.ts';
import { openDevice } from '../../src/bench/device.dom.ts';
import { offered } from '../../src/bench/offered.ts';
import { drawingNames } from '../../src/bench/parts/drawing.ts';
import { browserPublished } from '../../src/bench/published.dom.ts';
import '../../src/bench/page.css';
import { deviceKey } from '../../src/journal/keys.dom.ts';
import { keyCode, publish } from '../../src/journal/published.ts';
import { keyId, publicJwkOf, type SigningKey, signData } from '../../src/journal/seal.ts';
import { IdbJournalStore } from '../../src/journal/store.dom.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { revisionHash } from '../../src/procedure/proof/certificate.ts';
import { revisionOf } from '../../src/procedure/publish/published.ts';
import { browserSpeaker } from '../../src/say/speaker.dom.ts';
import { NOON, sample } from '../procedure/sample.ts';

/*
 * The procedures of a bench in the app itself: real screens, storage and keys, each test with databases of its own.
 */

async function newKey(): Promise<SigningKey> {
  const { privateKey, publicKey } = await generateKeyPair('ES256', { extractable: true });
  const publicJwk = publicJwkOf(await exportJWK(publicKey));
  return { privateKey, publicJwk, kid: await keyId(publicJwk) };
}

let key: SigningKey;
let stranger: SigningKey;
const second: Definition = {
  ...sample,
  meta: { ...sample.meta, revision: 2, covers: 'Nothing real, told anew.' },
};

async function published(definition: Definition, by = key, name = 'Ada Sample'): Promise<string> {
  const { revision } = revisionOf(definition);
  if (!revision) throw new Error('not proved');
  return publish(revision, name, NOON, by);
}

beforeAll(async () => {
  await page.viewport(1280, 800);
  [key, stranger] = await Promise.all([newKey(), newKey()]);
});

let app: App;
let desk: Desk;

/** The app as it starts, with the databases of this name. */
async function start(name: string): Promise<void> {
  app = new App();
  const shelf = browserPublished(name);
  const device = openDevice(() => app.atRest, {
    told: (typed) => app.pressed(typed),
    odd: () => undefined,
    changed: () => app.redraw(),
  });
  desk = {
    store: new IdbJournalStore(name),
    get procedures() {
      return offered(own, shelf.kept);
    },
    published: shelf,
    settings: browserSettings(name),
    speaker: browserSpeaker(),
    pins: benchPins(name),
    files: browserFiles(name),
    device,
    app: 'test',
    now: () => device.clock.now(),
    clocks: readClocks,
    newId: () => crypto.randomUUID(),
    key: () => deviceKey(name),
  };
  await desk.settings.keepWorkshop(demoWorkshop);
  app.desk = desk;
  document.body.append(app);
  await until('the shelf', () => says().includes('Start a job'));
}

async function begin(): Promise<string> {
  const name = `procedures-${crypto.randomUUID()}`;
  await start(name);
  for (const [person, pin] of Object.entries(demoPins)) await desk.pins.enrol(person, pin);
  return name;
}

afterEach(() => app.remove());

function deep(what: string, from: ParentNode = app): HTMLElement[] {
  const root = from instanceof Element && from.shadowRoot ? from.shadowRoot : from;
  const here = [...root.querySelectorAll<HTMLElement>(what)];
  const below = [...root.querySelectorAll('*')].flatMap((one) => (one.shadowRoot ? deep(what, one) : []));
  return [...here, ...below];
}

// biome-ignore lint/performance/useDomNodeTextContent: what is drawn is wanted, not what is in the tree.
const drawn = (element: HTMLElement) => element.innerText.replaceAll(/\s+/g, ' ').trim();

function says(): string {
  return deep('h1, h2, p, li, .band, button').map(drawn).join(' | ');
}

async function until(what: string, seen: () => boolean): Promise<void> {
  for (let n = 0; n < 400; n++) {
    if (seen()) return;
    await pause(15);
  }
  throw new Error(`Never came to ${what}: ${says().slice(0, 600)}`);
}

const pause = (ms: number) => new Promise((done) => setTimeout(done, ms));

/** Presses a key as a person does: keys that follow each other faster are a device that types. */
async function press(keys: string): Promise<void> {
  await pause(90);
  await userEvent.keyboard(keys);
}

const lit = () => deep('li.lit').map(drawn)[0] ?? '';

/** Takes the line with this text, by keys alone. */
async function take(text: string): Promise<void> {
  await until('a list', () => lit() !== '');
  const seen = new Set<string>();
  for (let n = 0; n < 40 && !lit().includes(text); n++) {
    seen.add(lit());
    const before = lit();
    await press(' ');
    await until('the next line', () => lit() !== before);
  }
  if (!lit().includes(text)) throw new Error(`No line says "${text}": ${[...seen].join(' / ')}`);
  await press('{Enter}');
}

async function toProcedures(): Promise<void> {
  await take('Procedures');
  await until('the procedures', () => says().includes('Load a published procedure'));
}

function drop(content: string): void {
  const carried = new DataTransfer();
  carried.items.add(new File([content], 'sample-r1.procedure.json'));
  deep('hf-procedure-drop')[0]?.dispatchEvent(
    new DragEvent('drop', { dataTransfer: carried, cancelable: true }),
  );
}

const alerts = () => deep('[role=alert]').map(drawn).join(' ');

const supervisor = demoWorkshop.people.find(({ role }) => role === 'supervisor');

/** Says that the code is the same, and signs on as the supervisor. */
async function enrol(): Promise<void> {
  await take('The code is the same');
  if (demoWorkshop.people.filter(({ role }) => role === 'supervisor').length > 1)
    await take(supervisor?.name ?? '');
  await until('the PIN', () => deep('hf-sign-on').length > 0);
  for (const digit of demoPins[supervisor?.id ?? ''] ?? '') await press(digit);
  await press('{Enter}');
}

describe('loading a procedure into a running bench', { timeout: 90_000 }, () => {
  test('what is unsigned, tampered with or unproved is refused with the reason, and nothing is kept', async () => {
    await begin();
    await toProcedures();
    const file = JSON.parse(await published(sample));
    const { clipWay } = sample.states;
    const bypass = { target: 'slack', guard: { type: 'advances', params: { station: 'clipWay' } } };
    const harmed = {
      ...file.definition,
      states: { ...sample.states, clipWay: { ...clipWay, on: { ...clipWay?.on, advance: [bypass] } } },
    };
    const hash = revisionHash(harmed);
    const says = {
      procedure: 'sample',
      revision: 1,
      hash,
      publishedAt: '2026-11-25T09:00:00.000Z',
      publishedBy: 'Ada',
    };
    const refused: readonly (readonly [unknown, RegExp])[] = [
      [sample, /This is no published procedure/],
      [{ ...file, seal: '' }, /Nobody has signed this procedure/],
      [
        JSON.parse(JSON.stringify(file).replaceAll('open end trails', 'open end leads')),
        /The file was changed after it was published/,
      ],
      [
        { ...file, definition: harmed, hash, seal: await signData(says, key) },
        /The procedure cannot be proved: clipWay: The job can be finished without|The procedure cannot be proved: clipWay: A hold has no way/,
      ],
      [{ ...file, seal: `${file.seal.slice(0, -4)}AAAA` }, /The author's seal does not hold/],
    ];
    for (const [content, reason] of refused) {
      drop(JSON.stringify(content));
      await until(String(reason), () => reason.test(alerts()));
    }
    expect(desk.published.kept).toEqual([]);
  });

  test('an author is enrolled by a supervisor who signs on; then the procedure is offered, and stays', async () => {
    const name = await begin();
    await toProcedures();
    drop(await published(sample));
    await until('the code of the key', () => says().includes(keyCode(key.kid)));
    expect(desk.published.authors).toEqual([]);
    await enrol();
    await until('the list with it', () => says().includes('Taken: “Sample with every kind of station”'));
    expect(desk.published.authors).toMatchObject([
      { kid: key.kid, name: 'Ada Sample', enrolledBy: supervisor?.id },
    ]);
    expect(says()).toMatch(/Sample with every kind of station.*by Ada Sample/);
    await press('{Escape}');
    await take('Start a job');
    await until('the jobs', () => says().includes('Which job?'));
    await take('Sample with every kind of station');
    await until('the machines', () => says().includes('On which machine?'));
    app.remove();
    await start(name);
    expect(desk.procedures.map(({ id }) => id)).toContain('sample');
    expect(revisionHash((await desk.procedures.find(({ id }) => id === 'sample')?.load()) ?? sample)).toBe(
      revisionHash(sample),
    );
  });

  test('with a wrong PIN, or when the codes differ, nothing is enrolled', async () => {
    await begin();
    await toProcedures();
    drop(await published(sample, stranger, 'Ada Sample'));
    await until('the code', () => says().includes(keyCode(stranger.kid)));
    await take('It is another');
    await until('the list', () => says().includes('Load a published procedure'));
    drop(await published(sample));
    await until('the code', () => says().includes(keyCode(key.kid)));
    await take('The code is the same');
    await until('the PIN', () => deep('hf-sign-on').length > 0);
    for (const keys of ['0', '0', '0', '0', '{Enter}']) await press(keys);
    await until('the refusal', () =>
      /PIN is not right/.test(
        deep('hf-sign-on')
          .map((one) => one.shadowRoot?.textContent)
          .join(' '),
      ),
    );
    expect(desk.published.authors).toEqual([]);
    expect(desk.published.kept).toEqual([]);
  });

  test('a revision never changes; a new one is offered in its place, and a job keeps the one that it began with', async () => {
    await begin();
    await desk.published.enrol({ kid: key.kid, name: 'Ada Sample', enrolledAt: NOON, enrolledBy: 'x' });
    await toProcedures();
    drop(await published(sample));
    await until('revision 1', () => says().includes('Taken:'));
    const { openingRecord } = await import('../../src/job/open-job.ts');
    const first = await desk.procedures.find(({ id }) => id === 'sample')?.load();
    const [card] = demoWorkshop.machines;
    if (!first || !card) throw new Error('nothing to begin with');
    const by = demoWorkshop.people[0]?.id ?? '';
    const job = crypto.randomUUID();
    await desk.store.append(
      openingRecord(
        job,
        { definition: first, card, workshop: demoWorkshop },
        { at: Math.trunc(desk.now()), by, via: 'keys' },
        'test',
      ),
    );
    drop(await published({ ...sample, meta: { ...sample.meta, covers: 'Changed in silence.' } }));
    await until('the refusal', () =>
      /a published revision never changes: publish it as revision 2\./.test(alerts()),
    );
    drop(await published(second));
    await until('revision 2', () => says().includes('revision 2, by Ada Sample'));
    expect(says()).toMatch(/Earlier: Sample with every kind/);
    expect(desk.procedures.filter(({ id }) => id === 'sample').map(({ revision }) => revision)).toEqual([2]);
    const [opening] = await desk.store.read(job);
    expect(opening?.event).toMatchObject({ procedureHash: revisionHash(sample) });
    await take('Sample with every kind');
    await take('What changed since revision 1');
    await until('what changed', () => deep('hf-procedure-changes').length > 0);
    expect(deep('section li').map(drawn).join(' ')).toContain(
      'Covers was “Nothing real: it exists for tests.”',
    );
  });

  test('a procedure that shows a drawing of another app is refused in a plain sentence; one of this app is taken', async () => {
    await begin();
    await desk.published.enrol({ kid: key.kid, name: 'Ada Sample', enrolledAt: NOON, enrolledBy: 'x' });
    await toProcedures();
    const [at = ''] = Object.keys(sample.states);
    const state = sample.states[at] ?? {};
    const showing = (drawing: string) =>
      ({
        ...sample,
        states: { ...sample.states, [at]: { ...state, meta: { ...state.meta, drawing } } },
      }) as Definition;
    drop(await published(showing('elsewhere.svg')));
    await until('the refusal', () =>
      alerts().includes(
        `This app has no drawing “elsewhere.svg”, which the station “${at}” shows: bring the`,
      ),
    );
    expect(desk.published.kept).toEqual([]);
    const [there = ''] = await drawingNames();
    drop(await published(showing(there)));
    await until('the revision', () => says().includes('Taken:'));
  });

  test('from an author who was withdrawn nothing more is taken, and what was taken stays', async () => {
    await begin();
    await desk.published.enrol({ kid: key.kid, name: 'Ada Sample', enrolledAt: NOON, enrolledBy: 'x' });
    await toProcedures();
    drop(await published(sample));
    await until('revision 1', () => says().includes('Taken:'));
    await take('Take nothing more from Ada Sample');
    await until('the question', () => says().includes('will not count on this bench any more'));
    await take('Take nothing more');
    await until('the PIN', () => deep('hf-sign-on').length > 0);
    for (const digit of demoPins[supervisor?.id ?? ''] ?? '') await press(digit);
    await press('{Enter}');
    await until('the list', () => says().includes('Nothing more is taken from Ada Sample.'));
    expect(desk.published.authors).toEqual([]);
    drop(await published(second));
    await until('the code', () => says().includes(keyCode(key.kid)));
    expect(desk.published.kept.map(({ revision }) => revision)).toEqual([1]);
  });

  test('what was changed in the database is not begun with', async () => {
    const name = await begin();
    await desk.published.enrol({ kid: key.kid, name: 'Ada Sample', enrolledAt: NOON, enrolledBy: 'x' });
    await toProcedures();
    drop(await published(sample));
    await until('revision 1', () => says().includes('Taken:'));
    await new Promise<void>((done, failed) => {
      const opening = indexedDB.open(`${name}-published`);
      opening.onerror = () => failed(opening.error);
      opening.onsuccess = () => {
        const db = opening.result;
        const transaction = db.transaction('revisions', 'readwrite');
        const store = transaction.objectStore('revisions');
        const reading = store.get('sample 1');
        reading.onsuccess = () => {
          const text = JSON.stringify(reading.result).replaceAll('open end trails', 'open end leads');
          store.put(JSON.parse(text), 'sample 1');
        };
        transaction.oncomplete = () => {
          db.close();
          done();
        };
      };
    });
    await desk.published.look();
    const listed = desk.procedures.find(({ id }) => id === 'sample');
    await expect(listed?.load()).rejects.toThrow('is not what was published');
  });
});

describe('practice', { timeout: 90_000 }, () => {
  test('plays a procedure to its end under its band, right and wrong, and leaves no record', async () => {
    await begin();
    await desk.published.enrol({ kid: key.kid, name: 'Ada Sample', enrolledAt: NOON, enrolledBy: 'x' });
    await toProcedures();
    drop(await published(sample));
    await until('revision 1', () => says().includes('Taken:'));
    await take('Sample with every kind');
    await take('Practise it');
    await until('the set-up', () => says().includes('Begin the practice'));
    await take('Joining link: asked on the way');
    await until('the fact', () => says().includes('Joining link: clip'));
    await take('Begin the practice');
    await until('the practice', () => deep('hf-job').length > 0);
    const stations: string[] = [];
    const station = () => deep('article.station')[0]?.dataset.station ?? '';
    const wrongAt = new Set(['clipWay', 'slack', 'torque']);
    for (let n = 0; n < 90 && deep('hf-job').length > 0; n++) {
      expect(deep('.band').map(drawn)).toContain('PRACTICE — no record is kept');
      const at = station();
      if (stations.at(-1) !== at) stations.push(at);
      await press(wrongAt.delete(at) ? 'x' : 'r');
    }
    expect(stations.join(' ')).toContain(
      'which clipWay refit clipWay slack adjust slack torque loosen torque',
    );
    await until('the end', () => says().includes('The practice is complete'));
    expect(says()).toContain('2 hold points passed');
    expect(await desk.store.heads()).toEqual([]);
    expect(deep('.band').map(drawn)).toContain('PRACTICE — no record is kept');
    expect(location.hash).toBe('');
  });

  test('is worked by hand as a job is: a tap does not open a hold point', async () => {
    await begin();
    await toProcedures();
    await take('Renew chain');
    await take('Practise it');
    await take('Begin the practice');
    await until('the practice', () => deep('hf-job').length > 0);
    for (let n = 0; n < 120 && deep('article.hold').length === 0; n++) {
      await press('r');
    }
    const at = deep('article.hold')[0]?.dataset.station;
    await press(' ');
    await until('the refusal', () => says().includes('This is a hold point'));
    expect(deep('article.hold')[0]?.dataset.station).toBe(at);
    await press('{Escape}');
    await until('the set-up', () => says().includes('Begin the practice'));
    expect(await desk.store.heads()).toEqual([]);
  });
});

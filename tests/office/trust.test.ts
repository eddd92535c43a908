import { gzipSync } from 'fflate';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { demoWorkshop } from '../../seeds/demo.ts';
import { sha256Hex } from '../../src/journal/hash.ts';
import { toMoment } from '../../src/journal/moment.ts';
import { type SigningKey, signData } from '../../src/journal/seal.ts';
import { openApi, refusalsOf } from '../../src/office/openapi.ts';
import { routes } from '../../src/office/routes.ts';
import { json } from '../../src/sync/courier.dom.ts';
import { OFFICE_CODES, statusOf } from '../../src/sync/fault.ts';
import { openSettings } from '../../src/sync/trust.ts';
import { API, MOST_BYTES, MOST_SENT } from '../../src/sync/wire.ts';
import { makeKey } from '../journal/play.ts';
import { randomJob } from '../journal/random-jobs.ts';
import { sample } from '../procedure/sample.ts';
import { onBothEngines } from './engines.ts';
import {
  courierFor,
  enrol,
  type Member,
  openWorld,
  sealFor,
  TestBench,
  type World,
  worldOn,
} from './world.ts';

const JOB = '00000000-0000-4000-8000-00000000abcd';
const code = (name: string) => expect.objectContaining({ code: name });

interface Sent {
  readonly method?: string;
  readonly body?: Uint8Array;
  readonly headers?: Record<string, string>;
  readonly signed?: Partial<Record<'method' | 'path' | 'body' | 'at' | 'nonce' | 'office', string>>;
  readonly authorization?: string | null;
  readonly key?: SigningKey;
}

onBothEngines((engine) => {
  let world: World;
  let bench: Member;
  let desk: Member;

  beforeAll(async () => {
    world = await worldOn(engine);
    bench = await enrol(world, 'bench', 'Bench 1');
    desk = await enrol(world, 'desk', 'Desk');
  });
  afterAll(async () => {
    await world.close();
  });

  /** A request put together by hand, so that anything about it can be wrong. */
  async function send(
    path: string,
    sent: Sent = {},
  ): Promise<{ status: number; code: string; answer: Record<string, unknown> }> {
    const { method = 'GET', body = new Uint8Array(), headers = {}, key = bench.key } = sent;
    const request = {
      method,
      path: `${API}${path}`,
      body: sha256Hex(body),
      at: toMoment(world.clock.now),
      nonce: crypto.randomUUID(),
      office: world.office.key.kid,
      ...sent.signed,
    };
    const authorization = sent.authorization ?? `Holdfast ${await signData(request, key)}`;
    const response = await fetch(`${world.origin}${API}${path}`, {
      method,
      headers: { ...(sent.authorization === null ? {} : { Authorization: authorization }), ...headers },
      ...(body.length > 0 ? { body: body as Uint8Array<ArrayBuffer> } : {}),
    });
    const answer = (await response.json()) as Record<string, unknown>;
    return { status: response.status, code: String(answer.code ?? ''), answer };
  }

  const bytes = (text: string) => new TextEncoder().encode(text);
  const JSON_TYPE = { 'Content-Type': 'application/json' };

  describe('who asks', () => {
    test.each([
      ['nothing', { authorization: null }, 'not-signed'],
      ['another scheme', { authorization: 'Bearer abc' }, 'not-signed'],
      ['rubbish', { authorization: 'Holdfast a.b.c' }, 'signature-wrong'],
      ['a header of a kilometre', { authorization: `Holdfast ${'a'.repeat(5000)}` }, 'not-signed'],
      ['the signature of another address', { signed: { path: `${API}/offered` } }, 'signature-wrong'],
      ['the signature of another method', { signed: { method: 'POST' } }, 'signature-wrong'],
      ['the signature of another body', { signed: { body: sha256Hex(bytes('x')) } }, 'signature-wrong'],
      ['a moment that is none', { signed: { at: 'today' } }, 'signature-wrong'],
      ['a clock that is off', { signed: { at: '2026-11-20T11:00:00.000Z' } }, 'clock-off'],
      ['another office in mind', { signed: { office: 'x' } }, 'other-office'],
      ['no office in mind', { signed: { office: '' } }, 'other-office'],
    ] as const)('with %s is turned away', async (_, sent, wanted) => {
      const { status, code: got } = await send('/log/root', sent);
      expect([got, status]).toEqual([wanted, statusOf(wanted)]);
    });

    test('with a key that nobody enrolled is turned away', async () => {
      expect(await send('/log/root', { key: await makeKey() })).toMatchObject({
        code: 'key-unknown',
        status: 403,
      });
    });

    test('with the same request again is turned away', async () => {
      const signed = { nonce: crypto.randomUUID() };
      expect((await send('/log/root', { signed })).status).toBe(200);
      expect((await send('/log/root', { signed })).code).toBe('used-twice');
    });

    test('with a wrong clock learns the right one and is let in', async () => {
      const late = courierFor({ ...world, clock: { now: world.clock.now - 86_400_000 } }, bench.key);
      expect(await late.ask('GET', '/log/root')).toHaveProperty('jws');
    });
  });

  describe('a code', () => {
    const enrolment = (body: object, key: SigningKey) =>
      courierFor(world, key, undefined, '').ask('POST', '/enrol', json(body));

    test('lets one device in, once; the same device may ask again when the answer was lost', async () => {
      const key = await makeKey();
      const made = await world.office.devices.makeCode('bench');
      const name = 'Bench A';
      const answer = { kind: 'bench', name, office: world.office.key.publicJwk };
      expect(await enrolment({ code: made.code.toLowerCase().replaceAll('-', ' '), name }, key)).toEqual(
        answer,
      );
      expect(await enrolment({ code: made.code, name }, key)).toEqual(answer);
      await expect(enrolment({ code: made.code, name: 'Bench B' }, await makeKey())).rejects.toEqual(
        code('code-wrong'),
      );
    });

    test('that is wrong, old or empty lets nobody in, and a name is given once', async () => {
      const key = await makeKey();
      await expect(enrolment({ code: 'AAAA-BBBB-CCCC', name: 'X' }, key)).rejects.toEqual(code('code-wrong'));
      await expect(enrolment({ code: '', name: 'X' }, key)).rejects.toEqual(code('bad-request'));
      await expect(enrolment({ name: 'X' }, key)).rejects.toEqual(code('bad-request'));
      const made = await world.office.devices.makeCode('bench');
      await expect(enrolment({ code: made.code, name: 'Bench 1' }, key)).rejects.toEqual(code('name-taken'));
      world.clock.now += 31 * 60_000;
      await expect(enrolment({ code: made.code, name: 'Bench C' }, key)).rejects.toEqual(code('code-wrong'));
    });

    test('is nowhere in the database, and neither it nor a signature is in the log', async () => {
      const made = await world.office.devices.makeCode('bench');
      await enrolment({ code: made.code, name: 'Bench D' }, await makeKey());
      const rows = await world.office.db.selectFrom('code').selectAll().execute();
      const plain = made.code.replaceAll('-', '');
      expect(JSON.stringify(rows)).not.toContain(plain);
      const log = world.log.join('\n');
      expect(log).toContain('POST /api/enrol 200');
      expect(log).not.toContain(plain);
      expect(log).not.toContain(made.code);
      expect(log).not.toMatch(/eyJ|Holdfast |AAAA/);
    });
  });

  describe('rights', () => {
    const path = (route: (typeof routes)[number]) =>
      route.path
        .replace('{job}', JOB)
        .replace('{hash}', 'a'.repeat(64))
        .replace('{kid}', 'a'.repeat(43))
        .replace('{sha256}', 'a'.repeat(64))
        .replace('{person}', 'ada');

    test('are the least: a bench asks nothing of the desk’s, a desk nothing of a bench’s, a stranger nothing at all', async () => {
      for (const route of routes) {
        const query = route.query?.type === 'object' ? (route.query.required ?? []) : [];
        const values: Record<string, string> = { from: '0', fence: '0', size: '0', bytes: '0', as: 'csv' };
        const question = query.length > 0 ? `?${query.map((one) => `${one}=${values[one]}`).join('&')}` : '';
        const ask = (key: SigningKey) => send(`${path(route)}${question}`, { method: route.method, key });
        if (route.rights === 'bench') expect((await ask(desk.key)).code, route.path).toBe('not-allowed');
        if (route.rights === 'desk') expect((await ask(bench.key)).code, route.path).toBe('not-allowed');
        if (route.rights === 'anyone' || route.rights === 'enrolling') continue;
        expect((await ask(await makeKey())).code, route.path).toBe('key-unknown');
        const unsigned = await send(`${path(route)}${question}`, {
          method: route.method,
          authorization: null,
        });
        expect(unsigned.code, route.path).toBe('not-signed');
      }
    });

    test('a bench reads its own jobs only', async () => {
      const records = randomJob(60, [sample]);
      const a = await TestBench.join(world, 'Reader A');
      await a.write(records);
      await a.round();
      await expect(bench.calls.pull(records[0]?.job ?? '', 0)).rejects.toEqual(code('not-allowed'));
      expect(await desk.courier.text('GET', `/jobs/${records[0]?.job}/records`)).toContain('"seq":0');
    });

    test('a device that is shut out is out at once; its older seals stay good, its later ones do not', async () => {
      const old = randomJob(61, [sample]);
      const late = randomJob(62, [sample]);
      const a = await TestBench.join(world, 'Lost tablet');
      for (const records of [old, late]) {
        await a.write(records);
        await a.round();
      }
      const set = await a.seal(old);
      await a.round();
      const b = await TestBench.join(world, 'Found tablet');
      await desk.courier.ask('POST', `/devices/${a.member.kid}/revoke`, json({ why: 'Left on a train.' }));
      await expect(a.round()).rejects.toEqual(code('key-revoked'));
      // What is in the log stays; what its key signs now counts for nothing, whatever day it says.
      await b.member.calls.seal(old[0]?.job ?? '', set);
      const after = await sealFor(late, a.member.key);
      await expect(b.member.calls.seal(late[0]?.job ?? '', after)).rejects.toEqual(code('seal-wrong'));
      const made = await world.office.devices.makeCode('bench');
      const again = courierFor(world, a.member.key, undefined, '');
      await expect(again.ask('POST', '/enrol', json({ code: made.code, name: 'Again' }))).rejects.toEqual(
        code('key-revoked'),
      );
    });
  });

  describe('a bad request is a clear answer', () => {
    test.each([
      ['an address that is none', '/nothing', {}, 'no-such-path'],
      ['another method', '/heads', { method: 'GET' }, 'wrong-method'],
      ['a job that is none', '/jobs/5/take', { method: 'POST' }, 'bad-request'],
      ['a number that is none', `/jobs/${JOB}/records?from=x`, {}, 'bad-request'],
      ['a number below nothing', `/jobs/${JOB}/records?from=-1`, {}, 'bad-request'],
      ['a question that is not asked here', `/jobs/${JOB}/records?to=5`, {}, 'bad-request'],
      ['no kind of body', '/heads', { method: 'POST', body: bytes('{}') }, 'wrong-type'],
      [
        'another kind of body',
        '/heads',
        { method: 'POST', body: bytes('{}'), headers: { 'Content-Type': 'text/xml' } },
        'wrong-type',
      ],
      [
        'half of JSON',
        '/heads',
        { method: 'POST', body: bytes('{"heads":['), headers: JSON_TYPE },
        'not-json',
      ],
      [
        'another form',
        '/heads',
        { method: 'POST', body: bytes('{"heads":5}'), headers: JSON_TYPE },
        'bad-request',
      ],
      [
        'more than belongs there',
        '/heads',
        { method: 'POST', body: bytes('{"heads":[],"more":1}'), headers: JSON_TYPE },
        'bad-request',
      ],
      [
        'bytes that are no text',
        '/heads',
        { method: 'POST', body: new Uint8Array([0xff, 0xfe]), headers: JSON_TYPE },
        'bad-request',
      ],
      [
        'what does not unpack',
        '/heads',
        { method: 'POST', body: bytes('xx'), headers: { ...JSON_TYPE, 'Content-Encoding': 'gzip' } },
        'bad-request',
      ],
      [
        'another packing',
        '/heads',
        { method: 'POST', body: bytes('xx'), headers: { ...JSON_TYPE, 'Content-Encoding': 'br' } },
        'wrong-type',
      ],
      [
        'a small body that unpacks to a large one',
        '/heads',
        {
          method: 'POST',
          body: gzipSync(new Uint8Array(MOST_BYTES + 1)),
          headers: { ...JSON_TYPE, 'Content-Encoding': 'gzip' },
        },
        'too-large',
      ],
      [
        'a body that is too large',
        '/heads',
        { method: 'POST', body: new Uint8Array(MOST_SENT + 1), headers: JSON_TYPE },
        'too-large',
      ],
    ] as [string, string, Sent, (typeof OFFICE_CODES)[number]][])('%s', async (_, path, sent, wanted) => {
      const { status, code: got, answer } = await send(path, sent);
      expect([got, status]).toEqual([wanted, statusOf(wanted)]);
      expect(answer.says).toMatch(/\.$/);
    });

    test.each(['2026-02-31', '2026-13-01', '0000-00-00'])('a day that is on no calendar: %s', async (day) => {
      const { code: got } = await send(`/book?from=${day}`, { key: desk.key });
      expect(got).toBe('bad-request');
    });

    test('never one of our own faults, whatever is sent', async () => {
      const odd = ['', ' ', '%00', '../x', "'; drop table job; --", '%', '_', '\u{1f600}', 'x'.repeat(150)];
      for (const one of odd) {
        const text = encodeURIComponent(one);
        for (const path of [
          `/book?text=${text}`,
          `/book?machine=${text}`,
          `/book?after=${text}`,
          `/charts?procedure=${text}`,
        ]) {
          const { status } = await send(path, { key: desk.key });
          expect(status, path).toBeLessThan(500);
        }
      }
    });
  });

  describe('what comes down', () => {
    let before: { version: number };
    beforeEach(async () => {
      before = await desk.courier.ask<{ version: number }>('GET', '/settings');
    });

    test('is signed by the office, and goes up by versions', async () => {
      const { hint: _, ...workshop } = demoWorkshop;
      const { version } = await desk.courier.ask<{ version: number }>('PUT', '/settings', json(workshop));
      expect(version).toBe(before.version + 1);
      const { jws } = await bench.courier.ask<{ jws: string }>('GET', '/settings');
      const opened = await openSettings(jws, world.office.key.kid, before.version);
      expect(opened).toMatchObject({
        value: { version, workshop: demoWorkshop.name, people: demoWorkshop.people },
      });
      expect(await openSettings(jws, world.office.key.kid, version + 1)).toMatchObject({
        distrust: { code: 'settings-older' },
      });
      expect(await openSettings(jws, 'another', 0)).toMatchObject({ distrust: { code: 'not-our-office' } });
      const taken = await TestBench.join(world, `Taker ${version}`);
      await taken.round();
      expect(taken.workshop).toMatchObject({ name: demoWorkshop.name, tools: demoWorkshop.tools });
    });

    test('of a workshop that is not complete, or a procedure without its proof, is refused', async () => {
      const { people: _, ...halves } = demoWorkshop;
      await expect(desk.courier.ask('PUT', '/settings', json(halves))).rejects.toEqual(
        code('settings-wrong'),
      );
      await expect(desk.courier.ask('POST', '/procedures', json({ id: 'x' }))).rejects.toEqual(
        code('procedure-unusable'),
      );
      const round = { ...sample, states: { ...sample.states } } as Record<string, unknown> & typeof sample;
      const [first] = Object.keys(round.states);
      const open = {
        ...round,
        states: {
          ...round.states,
          [first ?? '']: { ...round.states[first ?? ''], always: [{ target: 'complete' }] },
        },
      };
      await expect(desk.courier.ask('POST', '/procedures', json(open))).rejects.toEqual(
        expect.objectContaining({ code: expect.stringMatching(/^procedure-/) }),
      );
    });

    test('of a procedure is published once for each revision', async () => {
      const finalDrive = (await import('../../procedures/final-drive/index.ts')).default;
      await desk.courier.ask('POST', '/procedures', json(finalDrive));
      await desk.courier.ask('POST', '/procedures', json(finalDrive));
      const changed = { ...finalDrive, meta: { ...finalDrive.meta, title: 'Another title' } };
      await expect(desk.courier.ask('POST', '/procedures', json(changed))).rejects.toEqual(
        code('revision-taken'),
      );
      const { jws } = await bench.courier.ask<{ jws: string }>('GET', '/settings');
      const opened = await openSettings(jws, world.office.key.kid, 0);
      const listed =
        'value' in opened ? opened.value.procedures.find(({ id }) => id === 'final-drive') : null;
      expect(await bench.calls.procedure(listed?.hash ?? '')).toEqual(JSON.parse(JSON.stringify(finalDrive)));
    });
  });

  test('who asks too often waits; the others do not', async () => {
    const fresh = await engine.fresh();
    const small = await openWorld(fresh.database, {
      rate: { burst: 3, perSecond: 1 },
      strangers: { burst: 4, perSecond: 0.1 },
    });
    const one = await enrol(small, 'bench', 'One');
    const two = await enrol(small, 'bench', 'Two');
    for (let n = 0; n < 3; n++) await one.courier.ask('GET', '/log/root');
    await expect(one.courier.ask('GET', '/log/root')).rejects.toMatchObject({
      code: 'too-many',
      detail: { seconds: 1 },
    });
    await two.courier.ask('GET', '/log/root');
    small.clock.now += 1000;
    await one.courier.ask('GET', '/log/root');
    const stranger = courierFor(small, await makeKey());
    const codes: string[] = [];
    for (let n = 0; n < 4; n++)
      await stranger.ask('GET', '/log/root').catch((error: { code: string }) => codes.push(error.code));
    expect(codes).toEqual(['key-unknown', 'key-unknown', 'too-many', 'too-many']);
    await small.close();
    await fresh.remove();
  });
});

describe('the description', () => {
  const document = openApi(routes);

  test('names every question, with its fields and every refusal', () => {
    for (const route of routes) {
      const operation = document.paths[`${API}${route.path}`]?.[route.method.toLowerCase()] as {
        parameters: { name: string }[];
        responses: Record<string, { description: string }>;
      };
      const said = Object.values(operation.responses)
        .map(({ description }) => description)
        .join(' ');
      for (const refusal of refusalsOf(route)) expect(said, route.path).toContain(`${refusal}: `);
      const named = [...route.path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      expect(operation.parameters.map(({ name }) => name)).toEqual(expect.arrayContaining(named));
    }
  });

  test('has a name of its own for every operation, and every refusal has a place', () => {
    const ids = Object.values(document.paths).flatMap((methods) =>
      Object.values(methods).map((one) => (one as { operationId: string }).operationId),
    );
    expect(new Set(ids).size).toBe(routes.length);
    const met = new Set(routes.flatMap(refusalsOf));
    const everywhere = ['no-such-path', 'wrong-method'];
    expect(OFFICE_CODES.filter((one) => !met.has(one) && !everywhere.includes(one))).toEqual([]);
  });
});

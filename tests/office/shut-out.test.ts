import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import { demoWorkshop } from '../../seeds/demo.ts';
import { jobFrom, step } from '../../src/job/runner.ts';
import { publish } from '../../src/journal/published.ts';
import { signData } from '../../src/journal/seal.ts';
import type { BookPage, PersonRow } from '../../src/office/page/wire.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { revisionOf } from '../../src/procedure/publish/published.ts';
import { json } from '../../src/sync/courier.dom.ts';
import { weighSent } from '../../src/sync/procedures.ts';
import { openShutOut } from '../../src/sync/trust.ts';
import type { PublishedProcedure } from '../../src/sync/wire.ts';
import { makeKey, play } from '../journal/play.ts';
import { sample, sampleInput } from '../procedure/sample.ts';
import { onBothEngines } from './engines.ts';
import { enrol, type Member, TestBench, type World, worldOn } from './world.ts';

const uuid = (n: number) => `55555555-0000-4000-8000-${String(n).padStart(12, '0')}`;
const { hint: _, ...workshop } = demoWorkshop;
const renewed = (definition: Definition, revision: number): Definition => ({
  ...definition,
  meta: { ...definition.meta, revision },
});

onBothEngines((engine) => {
  let world: World;
  let desk: Member;
  let made = 0;
  const join = () => TestBench.join(world, `Bench ${++made}`);
  const complaints = (bench: TestBench) => bench.state.complaints.map(({ code, says }) => `${code}: ${says}`);
  const publishWorkshop = (value: unknown) =>
    desk.courier.ask<{ version: number }>('PUT', '/settings', json(value));
  const publishProcedure = (value: unknown) => desk.courier.ask('POST', '/procedures', json(value));

  beforeAll(async () => {
    world = await worldOn(engine);
    desk = await enrol(world, 'desk', 'Desk');
    await publishWorkshop(workshop);
  });
  afterAll(async () => {
    await world.close();
  });

  describe('procedures, people, tools and parts', () => {
    test('come down to a bench as they were published', async () => {
      const bench = await join();
      await bench.round();
      const { name, machines, people, tools, parts, badges } = workshop;
      expect(bench.workshop).toEqual(
        JSON.parse(JSON.stringify({ name, machines, people, tools, parts, badges, shutOut: [] })),
      );
      const recalibrated = tools.map((tool) => ({ ...tool, calibratedUntil: '2027-12-31' }));
      await publishWorkshop({ ...workshop, tools: recalibrated });
      await bench.round();
      expect(bench.workshop?.tools.map(({ calibratedUntil }) => calibratedUntil)).toEqual(
        tools.map(() => '2027-12-31'),
      );
    });

    test('a procedure comes with its proof run again; the file that its author sealed can be published as it is', async () => {
      const bench = await join();
      const revision = revisionOf(renewed(finalDrive, 901)).revision;
      if (!revision) throw new Error('The procedure holds no proof.');
      const file = await publish(revision, 'An author', world.clock.now, await makeKey());
      await publishProcedure(JSON.parse(file));
      await bench.round();
      expect([...bench.shelf.values()].map(({ definition }) => definition.meta.revision)).toContain(901);
      expect(complaints(bench)).toEqual([]);
      const asked = world.log.length;
      await publishWorkshop(workshop);
      await bench.round();
      expect(world.log.slice(asked).filter((line) => line.includes('/procedures/'))).toEqual([]);
      const [seal = ''] = (/"seal":"([^"]+)"/.exec(file) ?? []).slice(1);
      const spoilt = { ...JSON.parse(file), seal: seal.replace(/.$/, (sign) => (sign === 'A' ? 'B' : 'A')) };
      await expect(publishProcedure({ ...spoilt, seal: seal.slice(0, -9) })).rejects.toMatchObject({
        code: 'procedure-not-proved',
      });
      const changed = { ...JSON.parse(file), definition: renewed(finalDrive, 902) };
      await expect(publishProcedure(changed)).rejects.toMatchObject({ code: 'procedure-not-proved' });
    });

    test('what is not the one that was signed for, or holds no proof, is refused with the reason', () => {
      const { hash } = revisionOf(sample).revision ?? { hash: '' };
      const named: PublishedProcedure = {
        id: sample.id,
        title: sample.meta.title,
        revision: sample.meta.revision,
        hash,
      };
      expect(weighSent(sample, named)).toMatchObject({ revision: { hash } });
      expect(weighSent(renewed(sample, 99), named)).toMatchObject({
        refused: expect.stringContaining('signed for'),
      });
      expect(weighSent(sample, { ...named, revision: 99 })).toMatchObject({
        refused: expect.stringContaining('signed'),
      });
      const states = Object.entries(sample.states).filter(([name]) => name !== Object.keys(sample.states)[1]);
      expect(weighSent({ ...sample, states: Object.fromEntries(states) }, named)).toMatchObject({
        refused: expect.stringContaining('cannot be proved'),
      });
      expect(weighSent({ id: 'x' }, named)).toMatchObject({ refused: expect.any(String) });
    });

    test('a bench that is sent another procedure than was signed for says so, and goes on', async () => {
      const bench = await join();
      const { calls } = bench.ports;
      const sent = { ...bench.ports, calls: { ...calls, procedure: async () => renewed(finalDrive, 77) } };
      Object.assign(bench, { ports: sent });
      await bench.round();
      expect(bench.shelf.size).toBe(0);
      expect(complaints(bench).join()).toMatch(/procedure-refused: .*not taken: .*signed for/);
      expect(bench.state.settings).toBeGreaterThan(0);
    });
  });

  describe('a person who was shut out', () => {
    const person = workshop.people[0]?.id ?? '';

    test('is named in the settings that benches fetch, and can be let in again', async () => {
      const bench = await join();
      await desk.courier.ask('POST', `/people/${person}/shut-out`, json({ why: 'Left the workshop' }));
      const { people } = await desk.courier.ask<{ people: PersonRow[] }>('GET', '/people');
      expect(people.find(({ id }) => id === person)).toMatchObject({ shutOutWhy: 'Left the workshop' });
      await bench.round();
      expect(bench.workshop?.shutOut).toEqual([person]);
      // A workshop that is published anew changes nothing in that.
      await publishWorkshop(workshop);
      await bench.round();
      expect(bench.workshop?.shutOut).toEqual([person]);
      await desk.courier.ask('POST', `/people/${person}/let-in`);
      await bench.round();
      expect(bench.workshop?.shutOut).toEqual([]);
    });

    test('a PIN comes down as what is kept of it, and a bad one is refused', async () => {
      const pin = { salt: 'a'.repeat(32), hash: 'b'.repeat(64), rounds: 600_000 };
      const set = (what: object, who = person) => desk.courier.ask('PUT', `/people/${who}/pin`, json(what));
      await set(pin);
      const bench = await join();
      await bench.round();
      expect(bench.pins).toEqual({ [person]: pin });
      const { people } = await desk.courier.ask<{ people: PersonRow[] }>('GET', '/people');
      expect(people.find(({ id }) => id === person)).toMatchObject({ hasPin: true, shutOutAt: null });
      expect(JSON.stringify(people)).not.toContain(pin.hash);
      for (const bad of [{ ...pin, rounds: 10 }, { ...pin, hash: '1234' }, { pin: '1234' }])
        await expect(set(bad)).rejects.toMatchObject({ code: 'bad-request' });
      await expect(set(pin, 'nobody')).rejects.toMatchObject({ code: 'no-such-person' });
    });

    test('must be one of the workshop', async () => {
      await expect(
        desk.courier.ask('POST', '/people/nobody/shut-out', json({ why: 'x' })),
      ).rejects.toMatchObject({ code: 'no-such-person' });
    });

    test('who works on at a bench that has not heard of it: the records are kept and shown as odd', async () => {
      const ada = sampleInput.people[0];
      if (!ada) throw new Error('Nobody works in the sample.');
      await publishWorkshop({ ...workshop, people: [...workshop.people, ada] });
      const bench = await join();
      const records = play([{ type: 'pause' }], { job: uuid(1) });
      world.clock.now = Date.parse(records.at(-1)?.at ?? '') + 5000;
      await bench.write(records);
      await bench.round();
      await desk.courier.ask('POST', `/people/${ada.id}/shut-out`, json({ why: 'Lost badge' }));
      const at = (after: number) => ({ at: world.clock.now + after, by: ada.id, via: 'keys' as const });
      // Saying that something is wrong is open to all.
      const noted = step(jobFrom(records), { type: 'note', says: 'Odd sound.' }, at(1000)).state;
      await bench.store.append(noted.records.at(-1) as (typeof records)[0]);
      await bench.round();
      const shown = async () =>
        (await desk.courier.ask<BookPage>('GET', `/book?text=${uuid(1)}`)).rows[0]?.shutOut;
      expect(await shown()).toBe(false);
      const moved = step(noted, { type: 'resume' }, at(2000)).state;
      await bench.store.append(moved.records.at(-1) as (typeof records)[0]);
      await bench.round();
      expect(await shown()).toBe(true);
      const odd = await desk.courier.ask<BookPage>('GET', '/book?odd=true');
      expect(odd.rows.map(({ job }) => job)).toContain(uuid(1));
    });
  });

  describe('a bench that was shut out', () => {
    test('is told so by its office’s own signature, keeps everything, and its open jobs are free for others', async () => {
      const bench = await join();
      const records = play([{ type: 'pause' }], { job: uuid(2) });
      await bench.write(records);
      await bench.round();
      await desk.courier.ask('POST', `/devices/${bench.member.kid}/revoke`, json({ why: 'Tablet lost' }));
      await expect(bench.round()).rejects.toMatchObject({ code: 'key-revoked' });
      expect(bench.state.shutOut).toMatchObject({ why: 'Tablet lost' });
      expect(await bench.store.read(uuid(2))).toEqual(records);
      const other = await join();
      expect((await other.member.calls.offered()).map(({ job }) => job)).toContain(uuid(2));
    });

    test('is not stopped by anybody else who says so', async () => {
      const bench = await join();
      const said = { bench: bench.member.kid, why: 'x', at: '2026-11-20T12:00:00.000Z' };
      const { key } = world.office;
      const mine = (jws: unknown) => openShutOut(jws, key.kid, bench.member.kid);
      expect(await mine(await signData(said, key))).toEqual(said);
      expect(await mine(await signData(said, await makeKey()))).toBeNull();
      expect(await mine(await signData({ ...said, bench: 'another' }, key))).toBeNull();
      expect(await mine('x')).toBeNull();
      expect(await mine(undefined)).toBeNull();
    });
  });
});

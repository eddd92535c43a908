import { createHash } from 'node:crypto';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { jobFrom, step } from '../../src/job/runner.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { zipOf } from '../../src/office/export.ts';
import type { BookPage, JobFile } from '../../src/office/page/wire.ts';
import { statusOf } from '../../src/sync/fault.ts';
import { takeOver } from '../../src/sync/fetch.ts';
import { mayForget } from '../../src/sync/plan.ts';
import { FILE_PART, MOST_FILE, MOST_SENT } from '../../src/sync/wire.ts';
import { onBothEngines } from './engines.ts';
import { jobWith, noise, type Photo, photoOf } from './photos.ts';
import {
  courierFor,
  enrol,
  type Fetch,
  type Member,
  openWorld,
  TestBench,
  type World,
  worldOn,
} from './world.ts';

const uuid = (n: number) => `22222222-0000-4000-8000-${String(n).padStart(12, '0')}`;
const hashed = (bytes: Uint8Array = new Uint8Array()) => createHash('sha256').update(bytes).digest('hex');
/** Three parts, the last of them short. */
const large = photoOf(noise(1, 2 * FILE_PART + 1234));

onBothEngines((engine) => {
  let world: World;
  let desk: Member;
  let made = 0;

  beforeAll(async () => {
    world = await worldOn(engine);
    desk = await enrol(world, 'desk', 'Desk');
  });
  afterAll(async () => {
    await world.close();
  });

  const join = (fetching?: Fetch) => TestBench.join(world, `Bench ${++made}`, fetching);
  const complaints = (bench: TestBench) => bench.state.complaints.map(({ code }) => code);

  async function took(bench: TestBench, job: string, photos: readonly Photo[], stopped = false) {
    const records = jobWith(job, photos, stopped);
    await bench.write(records);
    for (const photo of photos) bench.files.set(photo.sha256, photo.blob);
    return records;
  }

  const kept = async (sha256: string, by = desk) =>
    new Uint8Array(await (await by.courier.stream('GET', `/files/${sha256}`, null)).arrayBuffer());
  const parts = async (sha256: string) =>
    (await world.office.db.selectFrom('file_part').select('place').where('sha256', '=', sha256).execute())
      .length;

  describe('photos and voice notes', () => {
    test('follow their records, are seen at the desk, and go out with the export', async () => {
      const bench = await join();
      const photo = photoOf(noise(2, 40_000));
      const voice = photoOf(noise(3, 9_000), 'audio/webm');
      const records = await took(bench, uuid(1), [photo, voice, large], true);
      await bench.seal(records);
      await bench.round();
      for (const one of [photo, voice, large]) expect(hashed(await kept(one.sha256))).toBe(one.sha256);
      const { files } = await desk.courier.ask<{ files: JobFile[] }>('GET', `/jobs/${uuid(1)}/files`);
      expect(files.map(({ kind, here, bytes }) => [kind, here, bytes])).toEqual([
        ['photo', true, 40_000],
        ['voice', true, 9_000],
        ['photo', true, large.bytes],
      ]);
      const page = await desk.courier.ask<BookPage>('GET', `/book?text=${uuid(1)}`);
      expect(page.rows[0]).toMatchObject({ files: 3, filesHere: 3 });
      const pieces: Uint8Array[] = [];
      for await (const piece of zipOf(world.office.db, {})) pieces.push(piece);
      const zip = unzipSync(Buffer.concat(pieces));
      expect(hashed(zip[`attachments/${photo.sha256}.jpg`])).toBe(photo.sha256);
      expect(hashed(zip[`attachments/${voice.sha256}.webm`])).toBe(voice.sha256);
      expect(hashed(zip[`attachments/${large.sha256}.jpg`])).toBe(large.sha256);
      await bench.round();
      const asked = world.log.length;
      await bench.round();
      expect(world.log.slice(asked).filter((line) => line.includes('/files'))).toEqual([]);
      expect(complaints(bench)).toEqual([]);
    });

    test('a job is not let go of before the office has its photos', async () => {
      let away = true;
      const bench = await join(async (url, init) => {
        if (away && url.includes('/files/')) throw new TypeError('fetch failed');
        return fetch(url, init);
      });
      const records = await took(bench, uuid(2), [photoOf(noise(4, 100))], true);
      await bench.seal(records);
      const head = { job: uuid(2), count: records.length, hash: records.at(-1)?.hash ?? '' };
      const local = { ...head, closed: true, sealed: true };
      for (let n = 0; n < 3; n++) await bench.round().catch(() => undefined);
      expect(bench.state.jobs[uuid(2)]).toMatchObject({ count: records.length, sealed: true, filed: false });
      expect(mayForget(local, bench.state.jobs[uuid(2)])).toBe(false);
      away = false;
      await bench.round();
      await bench.round();
      expect(mayForget(local, bench.state.jobs[uuid(2)])).toBe(true);
    });

    test.each([
      ['before the office gets it', true],
      ['after the office stored it', false],
    ])('a line that is cut at any part, %s, costs that part and doubles nothing', async (_, before) => {
      for (let cutAt = 1; cutAt <= 4; cutAt++) {
        let calls = 0;
        const sent: string[] = [];
        const bench = await join(async (url, init) => {
          if (!url.includes('/files/')) return fetch(url, init);
          const cut = ++calls === cutAt;
          if (cut && before) throw new TypeError('fetch failed');
          const response = await fetch(url, init);
          if (init.method === 'PUT') sent.push(new URL(url).search);
          if (!cut) return response;
          await response.body?.cancel();
          throw new TypeError('terminated');
        });
        const photo = photoOf(noise(10 + cutAt + (before ? 10 : 0), large.bytes));
        await took(bench, uuid(10 + cutAt + (before ? 10 : 0)), [photo]);
        await expect(bench.round()).rejects.toThrow('does not answer');
        await bench.round();
        expect(hashed(await kept(photo.sha256))).toBe(photo.sha256);
        expect(await parts(photo.sha256)).toBe(3);
        // Resumed where it was: no part went twice.
        expect(new Set(sent).size).toBe(sent.length);
        expect(complaints(bench)).toEqual([]);
      }
    });

    test('two benches that bring the same photo at once leave it there once', async () => {
      const [one, two] = [await join(), await join()];
      const photo = photoOf(noise(40, 3 * FILE_PART));
      await took(one, uuid(40), [photo]);
      await took(two, uuid(41), [photo]);
      await Promise.all([one.round(), two.round()]);
      expect(hashed(await kept(photo.sha256))).toBe(photo.sha256);
      expect(await parts(photo.sha256)).toBe(3);
      for (const bench of [one, two]) {
        await bench.round();
        expect(bench.state.jobs[bench === one ? uuid(40) : uuid(41)]?.filed).toBe(true);
        expect(complaints(bench)).toEqual([]);
      }
    });

    test('one that is lost or altered on the bench is told, and stops nothing else', async () => {
      const bench = await join();
      const [lost, altered, good] = [5, 6, 7].map((seed) => photoOf(noise(seed, 500))) as [
        Photo,
        Photo,
        Photo,
      ];
      await took(bench, uuid(50), [lost]);
      await took(bench, uuid(51), [altered]);
      await took(bench, uuid(52), [good]);
      bench.files.delete(lost.sha256);
      bench.files.set(altered.sha256, new Blob([noise(8, 500)]));
      await bench.round();
      await bench.round();
      expect(complaints(bench)).toEqual(['file-lost', 'file-lost']);
      expect(hashed(await kept(good.sha256))).toBe(good.sha256);
      expect(bench.state.jobs[uuid(50)]?.filed).toBe(false);
      await expect(kept(lost.sha256)).rejects.toMatchObject({ code: 'no-such-file' });
    });

    test('of a job that went to another bench are still brought by the one that took them', async () => {
      let away = true;
      const first = await join(async (url, init) => {
        if (away && url.includes('/files/')) throw new TypeError('fetch failed');
        return fetch(url, init);
      });
      const photo = photoOf(noise(60, 3000));
      let records = await took(first, uuid(60), [photo]);
      const last = Date.parse(records.at(-1)?.at ?? '');
      const paused = step(jobFrom(records), { type: 'pause' }, { at: last + 1000, by: 'ada', via: 'keys' });
      records = [...paused.state.records] as JournalRecord[];
      await first.store.append(records.at(-1) as JournalRecord);
      await first.round().catch(() => undefined);
      const second = await join();
      second.state = await takeOver(second.ports, second.state, uuid(60), 1);
      await second.round();
      expect(complaints(second)).toEqual([]);
      expect(second.state.jobs[uuid(60)]?.filed).not.toBe(true);
      away = false;
      await first.round();
      expect(hashed(await kept(photo.sha256))).toBe(photo.sha256);
      await second.round();
      expect(second.state.jobs[uuid(60)]?.filed).toBe(true);
      // Whoever has the job may see its photos; a bench that has nothing to do with it may not.
      expect(hashed(await kept(photo.sha256, second.member))).toBe(photo.sha256);
      await expect(kept(photo.sha256, (await join()).member)).rejects.toMatchObject({ code: 'not-allowed' });
    });
  });

  describe('what is no file that a record names', () => {
    const named = photoOf(noise(70, FILE_PART + 10));
    const tooLarge = { ...photoOf(noise(71, 10)), bytes: MOST_FILE + 1 };
    const odd = photoOf(noise(72, 10), 'image/svg+xml');
    let bench: TestBench;
    const put = (
      photo: Photo,
      {
        from = 0,
        bytes = photo.content.slice(from, from + FILE_PART),
        media = photo.media,
        by = bench.member,
      } = {},
    ) =>
      by.courier
        .ask('PUT', `/files/${photo.sha256}?from=${from}&bytes=${photo.bytes}`, { type: media, bytes })
        .then(
          () => 'taken',
          (error: { code: string }) => error.code,
        );

    beforeAll(async () => {
      bench = await join();
      await took(bench, uuid(70), [named, tooLarge, odd]);
      bench.files.clear();
      await bench.round();
    });

    test('is refused, each for its own reason, and nothing of it is kept', async () => {
      expect(await put(photoOf(noise(73, 10)))).toBe('file-not-named');
      expect(await put(named, { media: 'image/png' })).toBe('file-kind');
      expect(await put(odd)).toBe('file-kind');
      expect(await put(tooLarge)).toBe('too-large');
      expect(await put({ ...named, bytes: named.bytes + 1 })).toBe('file-differs');
      expect(await put(named, { from: FILE_PART })).toBe('file-gap');
      expect(await put(named, { from: 7 })).toBe('file-gap');
      expect(await put(named, { bytes: noise(1, 10) })).toBe('file-differs');
      expect(await put(named, { bytes: noise(1, MOST_SENT + 1) })).toBe('too-large');
      expect(await put(named, { by: desk })).toBe('not-allowed');
      expect(await parts(named.sha256)).toBe(0);
    });

    test('other bytes of the right length: the whole does not stand its hash, and can be sent anew', async () => {
      const other = noise(74, named.bytes);
      expect(await put(named, { bytes: other.slice(0, FILE_PART) })).toBe('taken');
      expect(await put(named, { from: FILE_PART, bytes: other.slice(FILE_PART) })).toBe('file-differs');
      expect(await parts(named.sha256)).toBe(0);
      expect(await put(named)).toBe('taken');
      expect(await put(named)).toBe('taken');
      expect(await put(named, { from: FILE_PART })).toBe('taken');
      expect(hashed(await kept(named.sha256))).toBe(named.sha256);
      // What is whole stays as it is, whatever comes.
      expect(await put(named, { bytes: other.slice(0, FILE_PART) })).toBe('taken');
      expect(hashed(await kept(named.sha256))).toBe(named.sha256);
    });

    test('a part that changed on the way does not fit its signature', async () => {
      const spoilt = courierFor(world, bench.member.key, (url, init) => {
        const body = new Uint8Array(init.body as Uint8Array<ArrayBuffer>);
        body[5] = (body[5] ?? 0) ^ 1;
        return fetch(url, { ...init, body });
      });
      expect(await put(named, { by: { ...bench.member, courier: spoilt } })).toBe('signature-wrong');
    });

    test('a file that is packed, or has no kind, is not taken', async () => {
      const packed = courierFor(world, bench.member.key, (url, init) =>
        fetch(url, { ...init, headers: { ...(init.headers as object), 'Content-Encoding': 'gzip' } }),
      );
      expect(await put(named, { by: { ...bench.member, courier: packed } })).toBe('wrong-type');
    });

    test('every refusal has its status', () => {
      const codes = ['file-not-named', 'no-such-file', 'file-gap', 'file-differs', 'file-kind'] as const;
      expect(codes.map(statusOf)).toEqual([404, 404, 409, 422, 415]);
    });
  });

  test('who brings too much at once waits, and goes on', async () => {
    const fresh = await engine.fresh();
    const small = await openWorld(fresh.database, { fileBytes: { burst: 600_000, perSecond: 300_000 } });
    const bench = await TestBench.join(small, 'Bench');
    const photo = photoOf(noise(80, 800_000));
    await bench.write(jobWith(uuid(80), [photo]));
    bench.files.set(photo.sha256, photo.blob);
    await expect(bench.round()).rejects.toMatchObject({ code: 'too-many', detail: { seconds: 1 } });
    small.clock.now += 1000;
    await bench.round();
    expect(bench.state.jobs[uuid(80)]?.filed).toBe(true);
    await small.close();
    await fresh.remove();
  });
});

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { keyCode, loadPublished } from '../../src/journal/published.ts';
import { keyId, publicJwkOf } from '../../src/journal/seal.ts';
import { definitionIn } from '../procedure/publish-scxml.ts';
import { sample } from '../procedure/sample.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'publish-'));
afterAll(() => rmSync(folder, { recursive: true }));

function publish(...words: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['node_modules/tsx/dist/cli.mjs', 'src/cli/publish.ts', ...words],
    { cwd: root, encoding: 'utf8' },
  );
  return { status, stdout, stderr };
}

const at = (name: string) => join(folder, name);
const written = (name: string, value: unknown) => {
  writeFileSync(at(name), JSON.stringify(value));
  return at(name);
};

const key = at('ada.jwk');
const keyMade = publish('--new-key', key, '--by', 'Ada Sample');
const first = publish(written('sample.json', sample), '--key', key, '--to', folder, '--scxml');
const published = at('sample-r1.procedure.json');

describe('publishing', () => {
  test('makes a key for its owner alone, and never over another', async () => {
    expect([keyMade.status, keyMade.stderr]).toEqual([0, '']);
    expect(statSync(key).mode & 0o077).toBe(0);
    const jwk = JSON.parse(readFileSync(key, 'utf8'));
    expect(keyMade.stdout).toContain(keyCode(await keyId(publicJwkOf(jwk))));
    expect(publish('--new-key', key, '--by', 'Ben').status).toBe(2);
    expect(publish('--new-key', at('nobody.jwk')).status).toBe(2);
  });

  test('writes a file that a bench which knows the author takes', async () => {
    expect([first.status, first.stderr]).toEqual([0, '']);
    const kid = await keyId(publicJwkOf(JSON.parse(readFileSync(key, 'utf8'))));
    const loaded = await loadPublished(readFileSync(published, 'utf8'), new Set([kid]));
    expect(loaded.revision?.definition).toEqual(sample);
    expect(loaded.author).toEqual({ name: 'Ada Sample', kid });
    expect(first.stdout).toContain(loaded.revision?.hash);
    expect(first.stdout).toContain(keyCode(kid));
    expect(readFileSync(published, 'utf8')).not.toContain('"d":');
  });

  test('writes the chart beside it when asked', () => {
    expect(definitionIn(readFileSync(at('sample-r1.scxml'), 'utf8'))).toEqual(sample);
  });

  test('the same again is no change; another under the same number is refused and nothing is written', () => {
    expect(publish(at('sample.json'), '--key', key, '--to', folder).status).toBe(0);
    const before = readFileSync(published, 'utf8');
    const changed = { ...sample, meta: { ...sample.meta, covers: 'Something else.' } };
    const { status, stdout, stderr } = publish(
      written('changed.json', changed),
      '--key',
      key,
      '--to',
      folder,
    );
    expect([status, stdout]).toEqual([1, '']);
    expect(stderr).toContain('publish it as revision 2.');
    expect(JSON.parse(readFileSync(published, 'utf8')).definition).toEqual(JSON.parse(before).definition);
  });

  test('a new revision says what changed since the last', () => {
    const { slack } = sample.states;
    const wider = {
      ...sample,
      meta: { ...sample.meta, revision: 2 },
      states: {
        ...sample.states,
        slack: {
          ...slack,
          meta: {
            ...slack?.meta,
            measure: { name: 'slack', label: 'Slack', unit: 'mm', min: 30, max: 60, tool: 'steelRule' },
          },
        },
      },
    };
    const { status, stdout } = publish(written('wider.json', wider), '--key', key, '--to', folder);
    expect(status).toBe(0);
    expect(stdout).toContain(
      'Since revision 1:\n  Limits and tools\n    Reading “Measure the slack.”: Slack: was 30 to 40 mm, is now 30 to 60 mm.',
    );
  });

  test('what is not proved is not published', () => {
    const { clipWay } = sample.states;
    const bypass = {
      ...sample,
      states: {
        ...sample.states,
        clipWay: { ...clipWay, on: { ...clipWay?.on, advance: [{ target: 'slack' }] } },
      },
    };
    const { status, stderr } = publish(written('bypass.json', bypass), '--key', key, '--to', folder);
    expect(status).toBe(1);
    expect(stderr).toContain('clipWay: The job can be finished without this hold point');
    expect(stderr).toContain('Not published');
  });

  test('a procedure that comes with the app cannot be published as something else under its number', () => {
    const taken = { ...sample, id: 'final-drive' };
    const { status, stderr } = publish(written('taken.json', taken), '--key', key, '--to', folder);
    expect(status).toBe(1);
    expect(stderr).toContain('Another final-drive, revision 1 is here already');
  });
});

test.each([
  [['nothing.json', '--key', 'x'], /cannot be read/],
  [[at('sample.json'), '--key', at('none.jwk')], /key cannot be read/],
  [[at('sample.json'), '--key', at('sample.json')], /no private P-256 key/],
  [[at('sample.json')], /^usage: /],
  [[at('sample.json'), '--prove'], /usage: /],
])('%s: exit 2 and a sentence', (words, says) => {
  const { status, stdout, stderr } = publish(...words);
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr).toMatch(says);
});

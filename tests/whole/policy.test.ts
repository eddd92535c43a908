import { afterAll, beforeAll, expect, test } from 'vitest';
import { Bench } from './app.ts';
import { onShelf } from './hands.ts';
import { until } from './screen.ts';
import { type Server, serve } from './server.ts';

// The content security policy as the served app has it, and what the browser makes of it.

let server: Server;
let bench: Bench;
beforeAll(async () => {
  server = await serve();
  bench = await Bench.open(server.origin);
});
afterAll(async () => {
  await bench.close();
  await server.stop();
});

const policyOf = (header: string | null): Map<string, string[]> =>
  new Map(
    (header ?? '').split(';').map((part) => {
      const [name = '', ...sources] = part.trim().split(/\s+/);
      return [name, sources] as const;
    }),
  );

test('every page that is served allows the app itself and nothing else', async () => {
  for (const path of ['/', '/index.html', '/sw.js', '/manifest.webmanifest']) {
    const { headers } = await fetch(`${server.origin}${path}`);
    const policy = policyOf(headers.get('content-security-policy'));
    expect(policy.get('default-src')).toEqual(["'none'"]);
    for (const [name, sources] of policy) {
      const allowed = ["'none'", "'self'", "'wasm-unsafe-eval'", 'data:', 'blob:'];
      expect(
        sources.filter((source) => !allowed.includes(source)),
        `${path} ${name}`,
      ).toEqual([]);
    }
    for (const name of ['script-src', 'connect-src', 'worker-src', 'style-src', 'font-src'])
      expect(
        policy
          .get(name)
          ?.filter(
            (source) => /data:|blob:|unsafe-inline|unsafe-eval'$/.test(source) && !source.includes('wasm'),
          ),
      ).toEqual([]);
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('referrer-policy')).toBe('no-referrer');
  }
});

test('the browser refuses inline scripts, inline styles, evaluated text, frames and every other address', async () => {
  const page = await bench.window();
  const tried = await page.evaluate(async () => {
    const broken: string[] = [];
    document.addEventListener('securitypolicyviolation', (event) => broken.push(event.effectiveDirective));
    const after = () => new Promise((done) => setTimeout(done, 200));

    const script = document.createElement('script');
    script.textContent = 'globalThis.ranInline = true';
    document.body.append(script);
    const link = document.createElement('p');
    link.setAttribute('onclick', 'globalThis.ranHandler = true');
    document.body.append(link);
    link.click();
    const styled = document.createElement('p');
    styled.setAttribute('style', 'color: rgb(1, 2, 3)');
    document.body.append(styled);
    const sheet = document.createElement('style');
    sheet.textContent = 'p { outline: 7px solid }';
    document.body.append(sheet);
    const frame = document.createElement('iframe');
    frame.src = 'https://example.org/';
    document.body.append(frame);
    const picture = new Image();
    picture.src = 'https://example.org/a.png';
    const fetched = await fetch('https://example.org/').then(
      () => true,
      () => false,
    );
    const beacon = navigator.sendBeacon('https://example.org/', 'x');
    await after();
    let evaluated = true;
    try {
      // biome-ignore lint/security/noGlobalEval: that it is refused is what is tested.
      globalThis.eval('1');
    } catch {
      evaluated = false;
    }
    const { color, outlineWidth } = getComputedStyle(styled);
    const ran = globalThis as { ranInline?: boolean; ranHandler?: boolean };
    return {
      broken,
      fetched,
      evaluated,
      color,
      outlineWidth,
      beacon,
      inline: ran.ranInline,
      handler: ran.ranHandler,
    };
  });
  expect(tried).toMatchObject({ fetched: false, evaluated: false });
  expect([tried.inline, tried.handler]).toEqual([undefined, undefined]);
  expect(tried.color).not.toBe('rgb(1, 2, 3)');
  expect(tried.outlineWidth).not.toBe('7px');
  for (const directive of [
    'script-src-elem',
    'script-src-attr',
    'style-src-attr',
    'style-src-elem',
    'frame-src',
    'img-src',
    'connect-src',
  ])
    expect(tried.broken, directive).toContain(directive);
});

test('from the first start through all screens of the shelf the app asks no other address for anything', async () => {
  const asked: string[] = [];
  bench.context.on('request', (request) => asked.push(request.url()));
  const hands = await bench.hands();
  await hands.page.reload();
  await hands.loadDemo();
  for (const line of [/^This bench/, /^Plan the gearing/, /^Set up the pedal/, /^Start a job/]) {
    await hands.take(line);
    await until(hands.page, `the screen of ${line}`, (sight) => sight.screen !== 'none' && !onShelf(sight));
    // What it fetches, it fetches now.
    await hands.page.waitForTimeout(300);
    await hands.tap('Escape');
    await until(hands.page, 'the shelf', onShelf);
  }
  await hands.startJob(/^Renew chain and sprockets/, /^Trail machine 4/, /Tomas Reedle/);
  await hands.page.evaluate(async () => void (await navigator.serviceWorker.ready));
  const elsewhere = asked.filter(
    (url) => !/^(blob|data):/.test(url) && new URL(url).origin !== server.origin,
  );
  expect(asked.length).toBeGreaterThan(5);
  expect(elsewhere).toEqual([]);
});

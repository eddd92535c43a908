import { fileURLToPath } from 'node:url';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { chromiumArgs, chromiumPath } from './tools/chromium.ts';

const root = fileURLToPath(new URL('..', import.meta.url));

/**
 * Five projects: pure (unit and property), outside (published sources), browser (elements), office (both databases), whole
 * (the built app).
 */
export default defineConfig({
  root,
  test: {
    projects: [
      {
        root,
        test: {
          name: 'pure',
          environment: 'node',
          include: [
            'tests/{trade,procedure,procedures,journal,job,press,say,hear,book,cli,seeds,tools}/**/*.test.ts',
          ],
          setupFiles: ['tests/tools/seed.ts'],
          testTimeout: 30_000,
        },
      },
      {
        root,
        test: {
          name: 'outside',
          environment: 'node',
          include: ['tests/outside/**/*.test.ts'],
          setupFiles: ['tests/tools/seed.ts'],
        },
      },
      {
        root,
        optimizeDeps: {
          include: [
            '@open-wc/testing',
            '@dagrejs/dagre',
            'lit',
            'xstate',
            'idb-keyval',
            'jose',
            'fflate',
            'canonicalize',
            'fast-check',
            '@noble/hashes/sha2.js',
            '@noble/hashes/utils.js',
          ],
        },
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          setupFiles: ['tests/tools/browser-setup.ts'],
          testTimeout: 30_000,
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({ launchOptions: { executablePath: chromiumPath(), args: chromiumArgs } }),
            instances: [{ browser: 'chromium' }],
          },
        },
      },
      {
        root,
        test: {
          name: 'office',
          environment: 'node',
          include: ['tests/office/**/*.test.ts', 'tests/sync/**/*.test.ts'],
          globalSetup: ['tests/office/set-up.ts'],
          setupFiles: ['tests/tools/seed.ts'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        root,
        test: {
          name: 'whole',
          environment: 'node',
          include: ['tests/whole/**/*.test.ts'],
          testTimeout: 240_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
});

import { fileURLToPath } from 'node:url';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { chromiumArgs, chromiumPath } from './tools/chromium.ts';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Ends what hangs, ms. What has to be quick says so in its own test: groups run at once, some on left-over time only. */
const PATIENCE = 120_000;

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
          testTimeout: PATIENCE,
        },
      },
      {
        root,
        test: {
          name: 'outside',
          environment: 'node',
          include: ['tests/outside/**/*.test.ts'],
          setupFiles: ['tests/tools/seed.ts'],
          testTimeout: PATIENCE,
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
          testTimeout: PATIENCE,
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
          testTimeout: PATIENCE,
          hookTimeout: PATIENCE,
        },
      },
      {
        root,
        test: {
          name: 'whole',
          environment: 'node',
          include: ['tests/whole/**/*.test.ts'],
          testTimeout: 240_000,
          hookTimeout: PATIENCE,
          fileParallelism: false,
        },
      },
    ],
  },
});

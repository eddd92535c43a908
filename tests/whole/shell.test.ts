import { expect, test } from 'vitest';
import { serve } from './server.ts';
import { SHELL_BUDGET, sizesOfShell, sum } from './shell.ts';

test('the app shell stays within its budget', async () => {
  // Starting the server builds the app when it is older than its sources.
  const server = await serve();
  await server.stop();
  const { shell, later } = sizesOfShell();
  expect(Object.keys(shell)).toEqual(expect.arrayContaining(['index.html', 'manifest.webmanifest']));
  expect(Object.keys(shell).filter((file) => /assets\/index-.*\.(js|css)$/.test(file))).toHaveLength(2);
  expect(Object.keys(later).some((file) => /final-drive/.test(file))).toBe(true);
  expect(sum(shell), JSON.stringify(shell, null, 1)).toBeLessThanOrEqual(SHELL_BUDGET);
});

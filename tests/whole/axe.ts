import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const WCAG = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** What axe finds on the screen as it is, by WCAG 2.0 to 2.2, A and AA, and by what else is named. */
export async function axeFinds(page: Page, ...more: readonly string[]): Promise<string[]> {
  await page.evaluate(axe);
  return page.evaluate(
    async (tags) => {
      const { axe } = globalThis as unknown as {
        axe: {
          run(
            on: unknown,
            how: unknown,
          ): Promise<{ violations: { id: string; nodes: { target: unknown; failureSummary: string }[] }[] }>;
        };
      };
      const { violations } = await axe.run(document, { runOnly: tags });
      return violations.flatMap(({ id, nodes }) =>
        nodes.map((node) => `${id}: ${JSON.stringify(node.target)} ${node.failureSummary}`),
      );
    },
    [...WCAG, ...more],
  );
}

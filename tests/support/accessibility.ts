import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** What axe-core finds serious or critical on the page as it stands, one line each: rule, how bad, where. */
export async function barriersOn(page: Page): Promise<string[]> {
  // Evaluated from outside the page: its content security policy lets no foreign script in.
  await page.evaluate(await readFile(AXE, 'utf8'));
  const { violations } = await page.evaluate(() =>
    (globalThis as unknown as { axe: { run: () => Promise<AxeResults> } }).axe.run(),
  );
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .flatMap(({ id, impact, nodes }) => nodes.map((node) => `${id} (${impact ?? ''}): ${node.target.join(' ')}`));
}

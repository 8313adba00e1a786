import type { Page } from 'playwright-core';
import { vi } from 'vitest';

const WITHIN_MS = 150_000;

interface Answer {
  readonly id: string;
  readonly zoneName: string;
}

/** Waits until the zones of the demo job have their answers. */
export async function demoAnswers(page: Page): Promise<{ sternPlate: string; rudderStock: string }> {
  const answers = await vi.waitFor(
    async () => {
      const response = await page.request.get('/api/assessments?state=done');
      const { items } = (await response.json()) as { items: Answer[] };
      if (items.length < 2) throw new Error(`Expected two answers but received ${items.length}`);
      return items;
    },
    { timeout: WITHIN_MS, interval: 1000 },
  );
  const idOf = (zone: RegExp): string => {
    const found = answers.find(({ zoneName }) => zone.test(zoneName));
    if (found === undefined) throw new Error(`Expected an answer for ${zone.source}`);
    return found.id;
  };
  return { sternPlate: idOf(/Stern plate/), rudderStock: idOf(/rudder stock/) };
}

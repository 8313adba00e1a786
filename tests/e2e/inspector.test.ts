import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { barriersOn } from '../support/accessibility.ts';
import { openBrowser, openVisit } from '../support/browser.ts';
import type { StorageState } from '../support/browser.ts';
import { demoAnswers } from '../support/demo-answers.ts';
import { tabAndPress, tabTo } from '../support/keyboard.ts';
import { bringIn, makeAdministrator } from '../support/people-of-shop.ts';
import { startProgram } from '../support/running-program.ts';
import type { RunningProgram } from '../support/running-program.ts';

const ANSWER_WITHIN_MS = 150_000;
const SOON = { timeout: 10_000 };

let program: RunningProgram;
let browser: Browser;
let inspector: StorageState;
let sternPlate: string;

beforeAll(async () => {
  program = await startProgram();
  browser = await openBrowser();
  const administrator = await makeAdministrator(browser, program);
  inspector = await bringIn(browser, program, administrator, { name: 'Noor Quay', role: 'Inspector' });
  const { context, page } = await openVisit(browser, { width: 'desk', baseURL: program.url, session: inspector });
  ({ sternPlate } = await demoAnswers(page));
  await context.close();
}, 240_000);
afterAll(async () => {
  await browser.close();
  await program.stop();
});

/** A share in a row of the table of classes, percent. */
async function shareOf(page: Page, row: RegExp, column: 'measured' | 'now'): Promise<number> {
  const cell = page
    .getByRole('row', { name: row })
    .getByRole('cell')
    .nth(column === 'measured' ? 0 : 1);
  return Number.parseFloat((await cell.textContent()) ?? '');
}

describe("the inspector's path on a phone", () => {
  it('leads from the list to a correction with its reason, its shares at once, and back', async () => {
    const { context, page, complaints } = await openVisit(browser, {
      width: 'phone',
      baseURL: program.url,
      session: inspector,
    });
    await page.goto('/more');
    await page.getByRole('link', { name: /^Inspect/ }).click();
    await page.getByRole('link', { name: /Stern plate/ }).click();
    expect(await page.locator('.decision-big').textContent()).toBe('Does not meet');
    await page.getByText(/A second segmenter reads [\d.]+ % of it differently/).waitFor();
    await page
      .getByRole('row', { name: /Sa 2 1\/2/ })
      .getByText('does not meet')
      .waitFor();
    await page.locator('.pane canvas.pane-layer').waitFor();
    await page.getByRole('switch', { name: 'Doubtful area' }).click();
    await expect.poll(() => page.locator('.pane canvas.pane-layer').count()).toBe(2);

    await page.getByRole('radio', { name: 'Brush' }).check();
    await page.getByRole('radio', { name: 'scale' }).check();
    await paintAcross(page);
    await expect
      .poll(() => shareOf(page, /^scale/, 'now'), SOON)
      .toBeGreaterThan(await shareOf(page, /^scale/, 'measured'));
    const afterOne = await shareOf(page, /^scale/, 'now');

    await page.getByRole('radio', { name: 'Outline' }).check();
    await page.getByRole('radio', { name: 'bare' }).check();
    await setCorners(page);
    await page.getByRole('button', { name: 'Close the outline' }).click();
    await page.getByText('2 marks not kept yet').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('1 mark not kept yet').waitFor();
    await expect.poll(() => shareOf(page, /^scale/, 'now'), SOON).toBe(afterOne);
    expect(await barriersOn(page)).toEqual([]);

    await page.getByLabel('Why').fill('shadow of the bracket');
    await page.getByRole('button', { name: 'Keep the correction' }).click();
    const log = page.getByRole('listitem').filter({ hasText: 'Noor Quay' });
    await log.getByText('After · 1 mark · shadow of the bracket').waitFor();
    await page.getByText('after corrections by hand').waitFor();
    await page.getByText('As measured: does not meet').waitFor();
    await page
      .getByRole('region', { name: 'As corrected by hand' })
      .getByRole('row', { name: /Sa 2 1\/2/ })
      .waitFor();
    expect(await shareOf(page, /^worst square/, 'now')).toBeGreaterThan(0);
    await page.goto(`/assessments/${sternPlate}`);
    await page.getByText('A person has corrected the class map').waitFor();

    await page.getByRole('link', { name: 'Inspect this answer' }).click();
    await log.getByRole('button', { name: 'Take it back' }).click();
    await log.getByText('taken back by Noor Quay').waitFor();
    await page.getByText('19 times out of 20').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  }, 120_000);
});

async function paintAcross(page: Page): Promise<void> {
  const [x, y] = await middleOfLayer(page);
  await page.mouse.move(x - 40, y);
  await page.mouse.down();
  await page.mouse.move(x + 40, y + 10, { steps: 8 });
  await page.mouse.up();
}

async function middleOfLayer(page: Page): Promise<[x: number, y: number]> {
  const layer = page.locator('.paint-layer');
  await layer.evaluate((element) => {
    element.scrollIntoView({ block: 'center' });
  });
  const box = await layer.boundingBox();
  if (box === null) throw new Error('Expected a layer to paint on');
  return [box.x + box.width / 2, box.y + box.height / 2];
}

async function setCorners(page: Page): Promise<void> {
  const [x, y] = await middleOfLayer(page);
  for (const [dx, dy] of [
    [-30, -60],
    [30, -60],
    [0, 40],
  ]) {
    await page.mouse.click(x + dx, y + dy);
  }
}

describe("the inspector's path at a desk", () => {
  it('can be walked with the keyboard alone: correct, keep, take back, scrape test, remarks', async () => {
    const { context, page, complaints } = await openVisit(browser, {
      width: 'desk',
      baseURL: program.url,
      session: inspector,
    });
    await page.goto('/');
    await page.getByRole('link', { name: 'Inspect', exact: true }).waitFor();
    await tabAndPress(page, /^Inspect$/);
    await page.getByRole('heading', { level: 1, name: 'Inspect' }).waitFor();
    await page.getByRole('link', { name: /Stern plate/ }).waitFor();
    await tabAndPress(page, /Stern plate/);
    await page.locator('.pane canvas.pane-layer').waitFor();

    await tabTo(page, /^Move$/);
    await page.keyboard.press('ArrowRight');
    await page.getByRole('application', { name: /Class map, Brush/ }).waitFor();
    await tabTo(page, /^bare$/);
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    expect(await page.getByRole('radio', { name: 'coating' }).isChecked()).toBe(true);

    // The layer stands before the tools: back to it.
    await page.getByRole('application', { name: /Class map, Brush/ }).focus();
    await page.keyboard.press('Enter');
    for (let press = 0; press < 6; press++) await page.keyboard.press('Shift+ArrowRight');
    expect(await page.locator('.paint-layer [role=status]').textContent()).toMatch(
      /^\d+ % across, \d+ % down, on .+, brush down$/,
    );
    await page.keyboard.press('Enter');
    await expect.poll(() => shareOf(page, /^coating/, 'now'), SOON).toBeGreaterThan(0.5);
    await tabAndPress(page, /^Keep the correction$/);
    await page.getByText('after corrections by hand').waitFor();
    await tabAndPress(page, /^Take it back$/);
    await page.getByText('19 times out of 20').waitFor();

    await tabTo(page, /^Not done$/);
    await page.keyboard.press('ArrowRight');
    await page.getByRole('button', { name: 'Measure again with this' }).waitFor();
    await tabTo(page, /^Remarks on this round/);
    await page.keyboard.type('Pits hold rust; one more round, slower.');
    await tabAndPress(page, /^Keep the remarks$/);
    await page.getByText('The remarks are kept.').waitFor();
    expect(await barriersOn(page)).toEqual([]);

    await tabAndPress(page, /Measure again with this/);
    await page.getByRole('heading', { name: 'Best next setting' }).waitFor({ timeout: ANSWER_WITHIN_MS });
    await tabAndPress(page, /^Inspect this answer$/);
    // With a clean scrape test what is left is firm: brush-off asks for no more.
    await page
      .getByRole('row', { name: /Brush-Off/ })
      .getByText('meets', { exact: true })
      .waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  }, 240_000);
});

import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { barriersOn } from '../support/accessibility.ts';
import { openBrowser, openVisit } from '../support/browser.ts';
import type { StorageState, Visit, WidthName } from '../support/browser.ts';
import { demoAnswers } from '../support/demo-answers.ts';
import { bringIn, makeAdministrator } from '../support/people-of-shop.ts';
import { startProgram } from '../support/running-program.ts';
import type { RunningProgram } from '../support/running-program.ts';

const COUPON = fileURLToPath(new URL('../../fixtures/demo/stern-plate-after.jpg', import.meta.url));
const MEASURED_WITHIN_MS = 150_000;

let program: RunningProgram;
let browser: Browser;
let trainer: StorageState;
let sternPlate: string;

const visit = (width: WidthName): Promise<Visit> =>
  openVisit(browser, { width, baseURL: program.url, session: trainer });

beforeAll(async () => {
  program = await startProgram();
  browser = await openBrowser();
  const administrator = await makeAdministrator(browser, program);
  trainer = await bringIn(browser, program, administrator, { name: 'Toni Quay', role: 'Trainer' });
  const { context, page } = await visit('desk');
  ({ sternPlate } = await demoAnswers(page));
  await context.close();
}, 240_000);
afterAll(async () => {
  await browser.close();
  await program.stop();
});

describe("the trainer's path", () => {
  it('sets two answers side by side on a phone and says which difference is not real', async () => {
    const { context, page, complaints } = await visit('phone');
    await page.goto('/more');
    await page.getByRole('link', { name: /^Side by side/ }).click();
    await page.getByText('No comparison yet').waitFor();
    await page.getByRole('link', { name: 'Set side by side' }).click();
    await page.getByLabel('Title').fill('Stern or rudder');
    await page.getByRole('button', { name: 'Compare' }).click();
    await page.getByRole('alert').getByText('Pick at least two.').waitFor();
    await page.getByRole('checkbox', { name: /Stern plate/ }).check();
    await page.getByRole('checkbox', { name: /rudder stock/ }).check();
    await page.getByText('2 of at most 6 picked').waitFor();
    expect(await barriersOn(page)).toEqual([]);
    await page.getByRole('button', { name: 'Compare' }).click();

    await page.getByRole('heading', { name: 'Stern or rudder' }).waitFor();
    await page.getByRole('img', { name: /Stern plate, round 1, a piece 80 mm wide/ }).waitFor();
    await page.getByRole('radio', { name: '40 mm' }).check();
    await page.getByRole('img', { name: /rudder stock, round 1, a piece 40 mm wide/ }).waitFor();
    await page.getByText('A against B').waitFor();
    const row = page.getByRole('row', { name: /^Travel speed/ });
    expect(await row.getByRole('cell').allTextContents()).toEqual(['50 mm/s', '12 mm/s']);
    // The pair's own words, and what the page makes of them, say the same.
    const isReal = (await page.getByText(/within its uncertainty of/).count()) === 0;
    expect(await page.locator('.compare-big').textContent()).toMatch(isReal ? /is cleaner$/ : /^No real difference$/);
    expect(await barriersOn(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  }, 90_000);

  it('compares patches of one photo at a desk', async () => {
    const { context, page, complaints } = await visit('desk');
    await page.goto('/compare/new');
    await page.getByLabel('Title').fill('Left and right of the plate');
    await page.getByRole('radio', { name: 'Patches of one photo' }).check();
    await page.getByLabel('Choose the photo').setInputFiles(COUPON);
    await page.getByRole('img', { name: 'Photo with the patches' }).waitFor();
    await page.getByLabel('Name of this patch').fill('Left');
    await page.getByRole('switch', { name: 'Its settings are known' }).click();
    await page.getByLabel('Travel speed', { exact: true }).waitFor();
    await movePatch(page, 0);
    await page.getByRole('radio', { name: 'B' }).check();
    await movePatch(page, 0.2);
    expect(await barriersOn(page)).toEqual([]);
    await page.getByRole('button', { name: 'Compare' }).click();
    await page.getByText('One photo, one light.').waitFor({ timeout: MEASURED_WITHIN_MS });
    await page.getByText('A against B').waitFor();
    const work = page.getByRole('row', { name: /^Work/ });
    expect((await work.getByRole('cell').allTextContents())[1]).toBe('not known');
    expect(await barriersOn(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  }, 240_000);

  it('teaches from a plate: its streaks, the line to scale as the dials turn, kept as a lesson', async () => {
    const { context, page, complaints } = await visit('desk');
    await page.goto(`/assessments/${sternPlate}`);
    await page.getByRole('link', { name: 'Teach from this answer' }).click();
    // 50 mm/s at 10 Hz, to and fro: 2.5 mm from stroke to stroke, under a 2 mm spot.
    expect(await page.locator('.teach-big').textContent()).toBe('0.5 mm missed between strokes');
    await page.getByText(/On the plate the stripes lie 3\.\d+ mm apart; these settings give 2\.5 mm/).waitFor();
    await page.locator('.pane .mark-dashed').waitFor({ state: 'attached' });
    expect(((await page.locator('.pane .mark-dashed').getAttribute('d')) ?? '').length).toBeGreaterThan(100);
    const strokes = await page.locator('.line-stroke').getAttribute('d');

    for (let step = 0; step < 10; step++) await page.getByRole('button', { name: 'Frequency: more' }).click();
    // 20 Hz: 1.25 mm, so 1 - 1.25 / 2 = 37.5 %.
    expect(await page.locator('.teach-big').textContent()).toBe('Strokes overlap by 38 %');
    expect(await page.locator('.line-stroke').getAttribute('d')).not.toBe(strokes);
    expect(await barriersOn(page)).toEqual([]);

    await page.getByLabel('Title').fill('Outrunning the mirror');
    await page.getByLabel('Notes').fill('Count the stripes, then the strokes.');
    await page.getByRole('button', { name: 'Keep the lesson' }).click();
    await page.getByRole('heading', { name: 'Outrunning the mirror' }).waitFor();
    await page.goto('/teach');
    await page.getByRole('link', { name: /Outrunning the mirror/ }).click();
    expect(await page.getByLabel('Frequency', { exact: true }).inputValue()).toBe('20');
    expect(await page.getByLabel('Notes').inputValue()).toBe('Count the stripes, then the strokes.');
    await page.getByRole('button', { name: 'As on the plate' }).click();
    expect(await page.locator('.teach-big').textContent()).toBe('0.5 mm missed between strokes');
    expect(complaints).toEqual([]);
    await context.close();
  }, 90_000);

  it('shows a lesson on a phone without a barrier', async () => {
    const { context, page } = await visit('phone');
    await page.goto(`/teach/new?answer=${sternPlate}`);
    await page.getByRole('img', { name: /The swept line to scale: 150 mm wide/ }).waitFor();
    expect(await barriersOn(page)).toEqual([]);
    await context.close();
  }, 60_000);
});

/** Drags the corners of the patch in view onto the cleaned plate, a part of the photo's width to the right. */
async function movePatch(page: Visit['page'], right: number): Promise<void> {
  const picture = page.locator('.outline');
  await picture.getByRole('img').evaluate((image: HTMLImageElement) => image.decode());
  const corners = [
    [0.5, 0.36],
    [0.6, 0.36],
    [0.6, 0.6],
    [0.5, 0.6],
  ];
  for (const [index, [across, down]] of corners.entries()) {
    const corner = picture.locator('.corner').nth(index);
    await corner.scrollIntoViewIfNeeded();
    const handle = await corner.boundingBox();
    const frame = await picture.boundingBox();
    if (handle === null || frame === null) throw new Error('Expected corners on the photo');
    await page.mouse.move(handle.x + handle.width / 2, handle.y + handle.height / 2);
    await page.mouse.down();
    await page.mouse.move(frame.x + (across + right) * frame.width, frame.y + down * frame.height, { steps: 3 });
    await page.mouse.up();
  }
}

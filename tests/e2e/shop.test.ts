import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { referenceCard } from '../../server/measure/card/card-layout.ts';
import { barriersOn } from '../support/accessibility.ts';
import { openBrowser, openVisit } from '../support/browser.ts';
import type { StorageState, Visit, WidthName } from '../support/browser.ts';
import { cardValuesText } from '../support/card-values-text.ts';
import { bringIn, makeAdministrator } from '../support/people-of-shop.ts';
import { startProgram } from '../support/running-program.ts';
import type { RunningProgram } from '../support/running-program.ts';

const ASSESSED_WITHIN_MS = 150_000;

let program: RunningProgram;
let browser: Browser;
let administrator: StorageState;

const visit = (width: WidthName, session = administrator): Promise<Visit> =>
  openVisit(browser, { width, baseURL: program.url, session });

beforeAll(async () => {
  program = await startProgram();
  browser = await openBrowser();
  administrator = await makeAdministrator(browser, program);
}, 120_000);
afterAll(async () => {
  await browser.close();
  await program.stop();
});

describe('machines', () => {
  it('are described once, follow the units of the shop, and are put away', async () => {
    const { context, page, complaints } = await visit('phone');
    await page.goto('/machines');
    await page.getByRole('link', { name: 'Add a machine' }).click();
    await page.getByLabel('Name').fill('Line at slip 2');
    const width = page.getByRole('group', { name: /Scan width/ });
    await width.getByLabel('From').fill('200');
    await page.getByRole('button', { name: 'Add the machine' }).click();
    await page.getByText('The first number must not be above the second.').waitFor();
    await width.getByLabel('From').fill('10');
    await width.getByLabel('To').fill('127');
    await page.getByRole('button', { name: 'Add the machine' }).click();
    await page.getByRole('link', { name: /Line at slip 2/ }).click();

    await page.request.patch('/api/shop', { data: { units: 'inches' }, headers: { origin: program.url } });
    await page.reload();
    // 127 mm are exactly 5 in.
    expect(await width.getByLabel('To').inputValue()).toBe('5');
    await width.getByLabel('To').fill('4.5');
    await page.getByRole('button', { name: 'Keep the changes' }).click();
    await page.getByText('The changes are kept.').waitFor();
    await page.request.patch('/api/shop', { data: { units: 'millimetres' }, headers: { origin: program.url } });
    await page.reload();
    // 4.5 x 25.4
    expect(await width.getByLabel('To').inputValue()).toBe('114.3');
    expect(await width.getByLabel('From').inputValue()).toBe('10');
    expect(await barriersOn(page)).toEqual([]);

    await page.getByRole('button', { name: 'Put it away' }).click();
    await page.getByRole('button', { name: 'Use it again' }).waitFor();
    await page.goto('/machines');
    await page.getByRole('link', { name: /Demo machine/ }).waitFor();
    expect(await page.getByRole('link', { name: /Line at slip 2/ }).count()).toBe(0);
    await page.getByLabel('Show').selectOption('All');
    await page.getByRole('link', { name: /Line at slip 2/ }).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  }, 60_000);
});

describe('cards', () => {
  it('print as PDF, take measured colours, refuse a foreign file, and show how they age', async () => {
    const { context, page, complaints } = await visit('desk');
    await page.goto('/cards');
    const sheet = (await page.getByRole('link', { name: 'Card for A4' }).getAttribute('href')) ?? '';
    const printed = await page.request.get(sheet);
    expect((await printed.body()).subarray(0, 5).toString('latin1')).toBe('%PDF-');

    await page.getByRole('link', { name: 'Add a card' }).click();
    await page.getByLabel('Name').fill('Card 1');
    await page.getByRole('button', { name: 'Add the card' }).click();
    await page.getByText('colours as drawn', { exact: true }).waitFor();
    await registerFile(page, 'not a card at all');
    await page.getByRole('alert').waitFor();
    await registerFile(page, cardValuesText(referenceCard(), { row: darkerByOne }));
    await page.getByText('The measured colours count').waitFor();
    await page.getByText('paint maker', { exact: true }).waitFor();

    await assessDemoWith(page, page.url().split('/').at(-1) ?? '');
    await page.reload();
    await page.getByRole('img', { name: /Colour error of the card/ }).waitFor();
    await page.getByText('As a table').click();
    const row = page.getByRole('row', { name: /Stern plate/ });
    expect(await row.getByRole('cell').nth(1).textContent()).toMatch(/^\d\.\d$/);
    expect(await barriersOn(page)).toEqual([]);
    // The refused file is said by the browser too; nothing else is.
    expect(complaints.filter((line) => !line.includes('422'))).toEqual([]);
    await context.close();
  }, 240_000);
});

/** One unit of lightness darker than drawn. */
const darkerByOne = (id: string, { L, a, b }: { L: number; a: number; b: number }): string =>
  `${id} ${L - 1} ${a} ${b}`;

async function registerFile(page: Page, text: string): Promise<void> {
  await page
    .getByLabel('CGATS file')
    .setInputFiles({ name: 'card.txt', mimeType: 'text/plain', buffer: Buffer.from(text) });
  await page.getByLabel('Measured with').fill('paint maker');
  await page.getByRole('button', { name: 'Register the colours' }).click();
}

/** Makes the card the usual one and has the stern plate assessed again. */
async function assessDemoWith(page: Page, usualCardId: string): Promise<void> {
  const headers = { origin: program.url };
  await page.request.patch('/api/shop', { data: { usualCardId }, headers });
  const zones = (await (await page.request.get('/api/zones?q=stern')).json()) as { items: { id: string }[] };
  const rounds = (await (await page.request.get(`/api/zones/${zones.items[0].id}/rounds`)).json()) as {
    items: { id: string }[];
  };
  const started = await page.request.post(`/api/rounds/${rounds.items[0].id}/assessments`, { data: {}, headers });
  const { id } = (await started.json()) as { id: string };
  const state = async (): Promise<string> =>
    ((await (await page.request.get(`/api/assessments/${id}`)).json()) as { state: string }).state;
  await expect.poll(state, { timeout: ASSESSED_WITHIN_MS, interval: 1000 }).toBe('done');
}

describe('people', () => {
  it('come in by a one-time link, get another role, lose their sessions, and are switched off', async () => {
    const kim = { name: 'Kim Quay', role: 'Operator' } as const;
    const session = await bringIn(browser, program, administrator, kim);
    const own = await visit('phone', session);
    await own.page.goto('/more');
    await own.page.getByText('Kim Quay, Operator').waitFor();
    expect(await own.page.getByRole('link', { name: 'People' }).count()).toBe(0);

    const { context, page, complaints } = await visit('desk');
    await page.goto('/people');
    await page.getByRole('link', { name: /Kim Quay/ }).click();
    const kept = page.waitForResponse((response) => response.request().method() === 'PATCH');
    await page.getByRole('radio', { name: 'Trainer' }).check();
    await kept;
    await own.page.goto('/more');
    await own.page.getByText('Kim Quay, Trainer').waitFor();
    expect(await barriersOn(page)).toEqual([]);

    await page.getByRole('button', { name: 'End all sessions' }).click();
    await page.getByText('They are signed out everywhere.').waitFor();
    await own.page.goto('/more');
    await own.page.getByRole('heading', { name: 'Sign in' }).waitFor();

    await page.getByRole('button', { name: 'Switch off' }).click();
    await page.getByRole('button', { name: 'Switch on again' }).waitFor();
    await page.goto('/people');
    await page.getByRole('link', { name: /Robin Shore/ }).waitFor();
    expect(await page.getByRole('link', { name: /Kim Quay/ }).count()).toBe(0);
    expect(complaints).toEqual([]);
    await own.context.close();
    await context.close();
  }, 90_000);

  it('find the program by a square code for their phone', async () => {
    const { context, page } = await visit('phone');
    await page.goto('/shop');
    await page.getByRole('img', { name: `Square code of ${program.url}` }).waitFor();
    await page.getByLabel('Name of the shop').fill('Boatyard at the quay');
    await page.getByLabel('Cost of an hour of work').fill('86,50');
    await page.getByRole('button', { name: 'Keep the changes' }).click();
    await page.getByText('The changes are kept.').waitFor();
    await page.reload();
    expect(await page.getByLabel('Cost of an hour of work').inputValue()).toBe('86.5');
    expect(await page.locator('.head-shop').textContent()).toBe('Boatyard at the quay');
    expect(await barriersOn(page)).toEqual([]);
    await context.close();
  }, 60_000);

  it('get a label that prints on one piece of tape, and a page to hang up without switches', async () => {
    const { context, page } = await visit('desk');
    await page.goto('/zones');
    await page.getByRole('link', { name: /Stern plate/ }).click();
    await page.getByRole('link', { name: 'Print the label' }).click();
    await page.getByRole('img', { name: /Label with a square code/ }).waitFor();
    const printed = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(printed.match(/\/Type \/Page\b/g)).toHaveLength(1);
    await page.goto('/shop');
    await page.getByRole('heading', { name: 'Records of this shop' }).waitFor();
    await page.emulateMedia({ media: 'print' });
    await page.getByRole('heading', { name: 'For the phones' }).waitFor();
    expect(await page.getByRole('switch').count()).toBe(0);
    await context.close();
  }, 60_000);
});

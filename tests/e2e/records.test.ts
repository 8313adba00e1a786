import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { barriersOn } from '../support/accessibility.ts';
import { openBrowser, openVisit } from '../support/browser.ts';
import type { StorageState, Visit, WidthName } from '../support/browser.ts';
import { demoAnswers } from '../support/demo-answers.ts';
import { readPdf } from '../support/pdf-file.ts';
import { bringIn, makeAdministrator, PASSWORD } from '../support/people-of-shop.ts';
import { runCommand } from '../support/run-command.ts';
import { startProgram } from '../support/running-program.ts';
import type { RunningProgram } from '../support/running-program.ts';
import { addZone, dragCorners, givePhoto, sternPlatePhoto } from '../support/stern-plate.ts';

const ANSWER_WITHIN_MS = 150_000;

let program: RunningProgram;
let browser: Browser;
let administrator: StorageState;
let inspector: StorageState;
let folder: string;

const visit = (width: WidthName, session: StorageState): Promise<Visit> =>
  openVisit(browser, { width, baseURL: program.url, session });

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-records-'));
  program = await startProgram();
  browser = await openBrowser();
  administrator = await makeAdministrator(browser, program);
  inspector = await bringIn(browser, program, administrator, { name: 'Noor Quay', role: 'Inspector' });
  const { context, page } = await visit('desk', inspector);
  await demoAnswers(page);
  await context.close();
}, 300_000);
afterAll(async () => {
  await browser.close();
  await program.stop();
  await rm(folder, { recursive: true, force: true });
});

/** A zone of its own with one round, photographed, outlined and measured in the browser. Ends on its answer. */
async function measureZone(page: Page, name: string): Promise<void> {
  await addZone(page, name);
  await page.getByRole('link', { name: 'Check this zone' }).click();
  await page.getByRole('button', { name: /These are set/ }).click();
  for (const role of ['before', 'after'] as const) await givePhoto(page, role, sternPlatePhoto(role));
  await page.getByRole('link', { name: 'On to the zone' }).click();
  for (const role of ['before', 'after'] as const) {
    await dragCorners(page, role);
    await page.getByRole('button', { name: 'The zone is right' }).click();
  }
  await page.locator('.answer-big').waitFor({ timeout: ANSWER_WITHIN_MS });
}

async function download(page: Page, link: string | RegExp, name: string): Promise<string> {
  const coming: Promise<Download> = page.waitForEvent('download', { timeout: 60_000 });
  await page.getByRole('link', { name: link }).click();
  const path = join(folder, name);
  await (await coming).saveAs(path);
  return path;
}

const enterClimate = async (page: Page): Promise<void> => {
  await page.getByLabel('Air temperature').fill('20');
  await page.getByLabel('Steel temperature').fill('13,5');
  await page.getByLabel('Relative humidity').fill('50');
};

describe("an inspector's record", () => {
  it('leads on a phone from photos to a signed report and a bundle that holds', async () => {
    const { context, page, complaints } = await visit('phone', inspector);
    await measureZone(page, 'Anchor locker');
    await page.getByRole('link', { name: 'Zone story' }).click();
    await page.getByRole('link', { name: 'Inspection record' }).click();
    await page.getByRole('button', { name: 'Begin the record' }).click();
    await page.getByText('Sa 2 1/2 (ISO 8501-1)').waitFor();
    await enterClimate(page);
    // Computed while it is typed, before anything is kept. Magnus with the constants of the WMO: 9.3 C at 20 C and 50 %.
    const metric = 'Dew point 9.3 °C; the steel is 4.2 °C above it. The 3 °C rule is met.';
    await page.getByText(metric).waitFor();
    await page.getByLabel('Steel temperature').fill('12,2');
    await page
      .getByText('Dew point 9.3 °C; the steel is 2.9 °C above it. The 3 °C rule is not met: do not coat.')
      .waitFor();
    await page.getByRole('radio', { name: 'US customary' }).check();
    expect(await page.getByLabel('Air temperature').inputValue()).toBe('68');
    await page.getByLabel('Steel temperature').fill('56.3');
    await page.getByText('Dew point 48.7 °F; the steel is 7.6 °F above it. The 3 °C (5.4 °F) rule is met.').waitFor();
    await page.getByText('Readings that were typed are not kept yet').waitFor();
    expect(await page.getByRole('button', { name: 'Ready for signature' }).count()).toBe(0);
    await page.getByRole('button', { name: 'Keep the readings' }).click();
    await page.getByText('The readings are kept.').waitFor();
    await page.getByRole('radio', { name: 'Metric' }).check();
    await page.getByText(metric).waitFor();
    expect(await barriersOn(page)).toEqual([]);

    await page.getByRole('button', { name: 'Ready for signature' }).click();
    await page.getByLabel('Your password').fill('not my password');
    await page.getByRole('button', { name: 'Sign: accepted' }).click();
    await page.getByRole('alert').getByText('password is not right').waitFor();
    expect(await barriersOn(page)).toEqual([]);
    await page.getByLabel('Your password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Sign: accepted' }).click();
    await page.getByText('Signed and sealed').waitFor();
    expect(await barriersOn(page)).toEqual([]);

    const bundle = await download(page, 'Bundle (zip)', 'locker.zip');
    const key = (await (await page.request.get('/api/seal-key')).json()) as { fingerprint: string };
    const verified = await runCommand('verify', bundle, '--key', key.fingerprint);
    expect([verified.exitCode, JSON.parse(verified.stdout)]).toMatchObject([
      0,
      { holds: true, record: { verdict: 'accepted', signerName: 'Noor Quay', signerRole: 'inspector' } },
    ]);
    const report = readPdf(await readFile(await download(page, 'Report (PDF)', 'locker.pdf')));
    const text = report.pageTexts().join(' ').replace(/\s+/g, ' ');
    expect(text).toContain('Anchor locker');
    expect(text).toContain('Noor Quay');
    expect(text).toContain('typed “56.3 °F”');
    expect(text).toContain('Accepted');
    // Refusing the wrong password is the one answer that a browser writes into its console.
    expect(complaints.filter((complaint) => !complaint.includes('422'))).toEqual([]);
    await context.close();
  }, 300_000);

  it('says at a desk which byte of a bundle is not as it was', async () => {
    const { context, page } = await visit('desk', inspector);
    const bytes = await readFile(join(folder, 'locker.zip'));
    const at = bytes.indexOf('Noor Quay');
    bytes.writeUInt8(bytes.readUInt8(at) ^ 1, at);
    await writeFile(join(folder, 'altered.zip'), bytes);
    await page.goto('/records');
    await page.getByRole('link', { name: 'Check a bundle' }).click();
    await page.getByLabel('Bundle (zip)').setInputFiles(join(folder, 'locker.zip'));
    await page.getByRole('button', { name: 'Check it' }).click();
    await page.getByRole('heading', { name: 'It holds' }).waitFor();
    await page.getByLabel('Bundle (zip)').setInputFiles(join(folder, 'altered.zip'));
    await page.getByRole('button', { name: 'Check it' }).click();
    await page.getByRole('heading', { name: 'It does not hold' }).waitFor();
    await page.getByText('record.json', { exact: true }).first().waitFor();
    expect(await barriersOn(page)).toEqual([]);
    await context.close();
  }, 120_000);

  it('is rejected at a desk with its reason, and a later one takes its place', async () => {
    const { context, page, complaints } = await visit('desk', inspector);
    await page.goto('/zones');
    await page.getByRole('link', { name: /Stern plate/ }).click();
    await page.getByRole('link', { name: 'Inspection record' }).click();
    await page.getByRole('button', { name: 'Begin the record' }).click();
    await page.getByLabel('Air temperature').fill('warm');
    await page.getByRole('button', { name: 'Keep the readings' }).click();
    await page
      .getByRole('alert')
      .getByText(/Air, steel and dew point: this is not complete/)
      .waitFor();
    await enterClimate(page);
    await page.getByText('Surface profile', { exact: true }).click();
    await page.getByLabel('Method').selectOption('stylus');
    await page.getByRole('textbox', { name: 'Readings', exact: true }).fill('62, 71 66');
    await page.getByRole('group', { name: 'Instrument 1' }).or(page.getByText('Instruments')).first().click();
    await page.getByLabel('Instrument', { exact: true }).fill('stylus gauge');
    await page.getByLabel('Serial number').fill('S-104');
    await page.getByLabel('Used for').fill('surface profile');
    await page.getByLabel('Remarks').fill('Lines from the hand outrunning the mirror.');
    await page.getByRole('button', { name: 'Keep the readings' }).click();
    await page.getByText('The readings are kept.').waitFor();
    await page.getByRole('button', { name: 'Ready for signature' }).click();
    await page.getByText('62, 71, 66 µm, stylus').waitFor();
    await page.getByRole('radio', { name: 'Reject' }).check();
    await page.getByLabel('Reason').fill('Lines are left; another round, slower.');
    await page.getByLabel('Your password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Sign: rejected' }).click();
    await page.getByText('Signed and sealed').waitFor();
    expect(await barriersOn(page)).toEqual([]);
    await page.getByRole('button', { name: 'Begin a record that takes its place' }).click();
    await page.getByText('Readings can be entered').waitFor();
    await page.getByRole('button', { name: 'Ready for signature' }).click();
    await page.getByLabel('Your password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Sign: accepted' }).click();
    await page.getByText('Signed and sealed').waitFor();
    await page.getByRole('link', { name: 'Open the record that it takes the place of' }).click();
    await page.getByText('A later record has taken its place.').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  }, 120_000);

  it('leaves its rows in the log, whose chain an administrator follows', async () => {
    const { context, page, complaints } = await visit('phone', administrator);
    await page.goto('/more');
    await page.getByRole('link', { name: /Audit log/ }).click();
    await page.getByRole('button', { name: 'Follow the chain' }).click();
    await page.getByText(/All \d+ rows hold/).waitFor();
    await page.getByLabel('Act').selectOption('superseded');
    await page.getByText('Noor Quay').first().waitFor();
    expect(await barriersOn(page)).toEqual([]);
    await page.goto('/records');
    await page.getByText('Take the ledger along').click();
    const csv = await readFile(await download(page, 'Readings, CSV', 'readings.csv'), 'utf8');
    expect(csv).toContain('airTemperatureC');
    expect(csv).toContain('66.33');
    expect(await barriersOn(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  }, 120_000);

  it('has no barrier in the dark at a desk and in the light on a phone, whoever looks', async () => {
    for (const [width, theme, session] of [
      ['desk', 'dark', administrator],
      ['phone', 'light', inspector],
    ] as const) {
      const { context, page } = await openVisit(browser, { width, theme, baseURL: program.url, session });
      await page.goto('/records');
      const record = (await page.getByRole('link', { name: /Anchor locker/ }).getAttribute('href')) ?? '';
      const paths = ['/records', '/records/check', record, ...(session === administrator ? ['/audit', '/shop'] : [])];
      const found: string[] = [];
      for (const path of paths) {
        await page.goto(path);
        await page.getByRole('heading', { level: 1 }).waitFor();
        await page.waitForLoadState('networkidle');
        found.push(...(await barriersOn(page)).map((barrier) => `${width} ${path}: ${barrier}`));
      }
      expect(found).toEqual([]);
      await context.close();
    }
  }, 120_000);
});

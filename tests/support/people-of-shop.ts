import type { Browser } from 'playwright-core';
import { openVisit } from './browser.ts';
import type { StorageState } from './browser.ts';
import type { RunningProgram } from './running-program.ts';

export const PASSWORD = 'a sentence for the shop';

/** Makes the first administrator by the one-time link of the console. */
export async function makeAdministrator(browser: Browser, { url, setupPath }: RunningProgram): Promise<StorageState> {
  const { context, page } = await openVisit(browser, { width: 'phone', baseURL: url });
  await page.goto(setupPath);
  await page.getByLabel('Your name').fill('Robin Shore');
  await page.getByLabel('Sign-in name').fill('robin');
  await page.getByLabel('Password').fill(PASSWORD);
  await page.getByRole('button', { name: 'Start' }).click();
  await page.getByRole('heading', { name: 'Check a zone' }).waitFor();
  const session = await context.storageState();
  await context.close();
  return session;
}

interface Newcomer {
  readonly name: string;
  readonly role: 'Operator' | 'Inspector' | 'Trainer' | 'Administrator';
}

/** Has the administrator invite a person, and the person follow the link in a browser of their own. */
export async function bringIn(
  browser: Browser,
  { url }: RunningProgram,
  administrator: StorageState,
  { name, role }: Newcomer,
): Promise<StorageState> {
  const inviting = await openVisit(browser, { width: 'phone', baseURL: url, session: administrator });
  await inviting.page.goto('/people/new');
  await inviting.page.getByLabel('Name', { exact: true }).fill(name);
  await inviting.page.getByLabel('Sign-in name').fill(name.toLowerCase().replaceAll(' ', '.'));
  await inviting.page.getByRole('radio', { name: role }).check();
  await inviting.page.getByRole('button', { name: 'Make the link' }).click();
  const link = await inviting.page.getByLabel('One-time link').inputValue();
  await inviting.context.close();

  const joining = await openVisit(browser, { width: 'phone', baseURL: url });
  await joining.page.goto(link);
  await joining.page.getByRole('heading', { name: `Welcome, ${name}` }).waitFor();
  await joining.page.getByLabel('Password').fill(PASSWORD);
  await joining.page.getByRole('button', { name: 'Set the password and sign in' }).click();
  await joining.page.getByRole('heading', { name: 'Check a zone' }).waitFor();
  const session = await joining.context.storageState();
  await joining.context.close();
  return session;
}

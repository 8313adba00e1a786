import type { Page } from 'playwright-core';

const MOST_TABS = 90;

/** Goes on with Tab until the control of this name has the focus, as somebody without a mouse does. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let tabs = 0; tabs < MOST_TABS; tabs++) {
    if (name.test(await focusedName(page))) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Expected a control named ${name.source} within ${MOST_TABS} presses of Tab`);
}

export async function tabAndPress(page: Page, name: RegExp, key = 'Enter'): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press(key);
}

/** The name that a screen reader would say, near enough: label, own words, or what labels it. */
async function focusedName(page: Page): Promise<string> {
  return page.evaluate(() => {
    const focused = document.activeElement;
    if (!(focused instanceof HTMLElement) || focused === document.body) return '';
    const labels = 'labels' in focused ? [...((focused.labels ?? []) as Iterable<HTMLElement>)] : [];
    const said = [focused.getAttribute('aria-label'), ...labels.map((label) => label.textContent), focused.textContent];
    return said.filter((part) => part !== null && part !== '').join(' ');
  });
}

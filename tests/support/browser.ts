import chromium from '@sparticuz/chromium';
import { chromium as playwright } from 'playwright-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';

/** The sizes that every screen is looked at: a phone in the hand, a desk. */
export const WIDTHS = { phone: { width: 390, height: 844 }, desk: { width: 1440, height: 900 } } as const;
export type WidthName = keyof typeof WIDTHS;

/** Starts the browser that lies in the package itself. Nothing is fetched. */
export async function openBrowser(): Promise<Browser> {
  return playwright.launch({
    executablePath: await chromium.executablePath(),
    args: [
      ...chromium.args.filter((arg) => !arg.startsWith('--headless') && arg !== '--single-process'),
      '--headless=new',
    ],
  });
}

export interface Visit {
  readonly context: BrowserContext;
  readonly page: Page;
  /** What the page complained about: an error thrown, a refused script, a console error. */
  readonly complaints: readonly string[];
}

export async function openVisit(browser: Browser, name: WidthName, baseURL: string): Promise<Visit> {
  const isPhone = name === 'phone';
  const context = await browser.newContext({
    baseURL,
    viewport: WIDTHS[name],
    deviceScaleFactor: 1,
    hasTouch: isPhone,
    isMobile: isPhone,
    locale: 'en-GB',
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  return { context, page, complaints };
}

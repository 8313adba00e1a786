import chromium from '@sparticuz/chromium';
import { chromium as playwright } from 'playwright-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';

export type StorageState = Awaited<ReturnType<BrowserContext['storageState']>>;

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

export interface VisitOptions {
  readonly width: WidthName;
  readonly baseURL: string;
  /** Cookies of somebody who is signed in. */
  readonly session?: StorageState;
  readonly theme?: 'light' | 'dark';
}

export async function openVisit(browser: Browser, options: VisitOptions): Promise<Visit> {
  const { width, baseURL, session, theme = 'light' } = options;
  const isPhone = width === 'phone';
  const context = await browser.newContext({
    baseURL,
    viewport: WIDTHS[width],
    hasTouch: isPhone,
    isMobile: isPhone,
    locale: 'en-GB',
    reducedMotion: 'reduce',
    colorScheme: theme,
    ...(session === undefined ? {} : { storageState: session }),
  });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  return { context, page, complaints };
}

/** A real browser, sized like a phone unless told otherwise. */
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { findBrowser } from './find-browser.ts';

/** The phone that the pages are made for. */
export const phone = { width: 360, height: 740 } as const;

/**
 * Starts the browser without anything that would call out to the network.
 * @param more further parameters of its command line
 */
export async function launchBrowser(more: readonly string[] = []): Promise<Browser> {
  const executablePath = findBrowser();
  if (executablePath === undefined) throw new Error('No browser found: run `npm run setup:browser` first.');
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      ...more,
    ],
  });
}

/** A fresh page at phone size in a context of its own. */
export async function openPhone(browser: Browser, options: BrowserContextOptions = {}): Promise<Page> {
  const context = await browser.newContext({ viewport: phone, reducedMotion: 'reduce', ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  return page;
}

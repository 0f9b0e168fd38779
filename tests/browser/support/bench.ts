/** What every browser test stands on: the real program, a real browser, and the model that the patients are made from. */
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { type Content, loadContent } from '../../../src/content/index.ts';
import type { DiagnosisModel, Person } from '../../../src/diagnosis/index.ts';
import { makePatient, type Patient } from '../../support/patient.ts';
import { type RunningServer, startServer } from '../../support/server.ts';
import { launchBrowser, openPhone } from './browser.ts';

const flowsFolder = new URL('../../../flows/', import.meta.url).pathname;

export type BrowserBench = {
  readonly server: RunningServer;
  readonly browser: Browser;
  readonly content: Content;
  readonly model: DiagnosisModel;
  /** An instrument (an alto saxophone if nothing is said) with this fault, or a sound one for null. */
  patient(fault: string | null, person?: Person, instrument?: string): Patient;
  /** A phone of its own, with nothing of the other tests on it. */
  phone(options?: BrowserContextOptions): Promise<Page>;
  dispose(): Promise<void>;
};

/** Everything under flows/. */
export function readContent(): Content {
  return loadContent(flowsFolder);
}

/** Starts the program on an empty folder, and the browser. */
export async function openBrowserBench(content: Content = readContent()): Promise<BrowserBench> {
  const modelOf = (instrument: string): DiagnosisModel => content.instruments.get(instrument)!.model;
  const [server, browser] = await Promise.all([startServer(), launchBrowser()]);
  return {
    server,
    browser,
    content,
    model: modelOf('alto-saxophone'),
    patient: (fault, person = 'director', instrument = 'alto-saxophone') =>
      makePatient(modelOf(instrument), fault, 'moderate', person),
    phone: (options) => openPhone(browser, options),
    async dispose() {
      await browser.close();
      await server.dispose();
    },
  };
}

/**
 * Collects what must never happen on a page: errors in the console (a broken content security policy among them),
 * uncaught errors, and answers of the server that are its own fault.
 */
export function watchForTrouble(page: Page): string[] {
  const trouble: string[] = [];
  page.on('console', (message) => {
    // A page that says "not found" or "too late" comes with its status, which the browser logs.
    const isStatusOfPage =
      message.text().startsWith('Failed to load resource') && message.location().url === page.url();
    if (message.type() === 'error' && !isStatusOfPage) trouble.push(message.text());
  });
  page.on('pageerror', (error) => trouble.push(error.message));
  page.on('response', (response) => {
    if (response.status() >= 500) trouble.push(`${response.status()} ${response.url()}`);
  });
  return trouble;
}

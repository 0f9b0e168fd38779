/** Where the browser for the tests is. */
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';

const usualPlaces = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

/** The program file of a Chromium on this machine: the variable CHROMIUM, a usual place, or the test library's own. */
export function findBrowser(): string | undefined {
  const named = process.env.CHROMIUM;
  return [named, ...usualPlaces, chromium.executablePath()].find(
    (place) => place !== undefined && place !== '' && existsSync(place),
  );
}

/** What a page becomes on paper. */
import type { Page } from 'playwright-core';

/** How many sheets a page takes: the page objects of its PDF, which are not compressed. */
export async function countPages(page: Page, format: 'A4' | 'Letter'): Promise<number> {
  const pdf = await page.pdf({ format, preferCSSPageSize: false });
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}

/** The smallest size of type within an element when it is printed, in points; drawings are left out. */
export async function smallestType(page: Page, selector: string): Promise<number> {
  await page.emulateMedia({ media: 'print' });
  return page.locator(selector).evaluate((element) => {
    const sizes = [...element.querySelectorAll('*')]
      .filter((one) => one.closest('svg') === null && getComputedStyle(one).display !== 'none')
      .filter((one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim()))
      .map((one) => (Number.parseFloat(getComputedStyle(one).fontSize) * 72) / 96);
    return Math.round(Math.min(...sizes) * 100) / 100;
  });
}

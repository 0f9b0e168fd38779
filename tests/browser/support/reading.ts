/** What a person reads on a page. */
import type { Locator, Page } from 'playwright-core';
import type { StepView } from '../../../src/runs/view.ts';

/** The words that can be seen in a part of the page; blanks and line ends are one blank. */
export async function seen(part: Locator): Promise<string> {
  // biome-ignore lint/performance/useDomNodeTextContent: the point is what is seen, not what stands in the document
  const text = await part.innerText();
  return text.replaceAll(/\s+/g, ' ').trim();
}

/** The title of the page's own part, as it stands in large letters. */
export function headline(page: Page): Promise<string> {
  return seen(page.getByRole('heading', { level: 1 }));
}

/** All the words of the page's own part, without the conversation beside it. */
export function words(page: Page): Promise<string> {
  return seen(page.locator('main'));
}

/** The words under a heading of an outcome or a ticket. */
export async function wordsUnder(page: Page, heading: string): Promise<string> {
  const section = page.locator('section', { has: page.getByRole('heading', { name: heading, exact: true }) });
  return (await seen(section)).replace(`${heading} `, '');
}

export type Diary = {
  /** To be called at each step of a walk. */
  readonly look: (step: StepView) => Promise<void>;
  /** What stood on the page of a step, at its first visit or a later one. */
  read(step: string, visit?: number): string;
  /** The steps in the order in which their pages were shown. */
  readonly steps: string[];
  /** The titles of the pages, as the browser's tab shows them, in the same order. */
  readonly titles: string[];
};

/** Writes down what each page of a walk says. */
export function keepDiary(page: Page): Diary {
  const pages = new Map<string, string[]>();
  const steps: string[] = [];
  const titles: string[] = [];
  return {
    steps,
    titles,
    async look({ id, notes }) {
      const isInTheMiddle = notes.some(({ answered }) => answered !== null) && steps.at(-1) === id;
      if (isInTheMiddle) return;
      steps.push(id);
      titles.push(await page.title());
      pages.set(id, [...(pages.get(id) ?? []), await words(page)]);
    },
    read(step, visit = 0) {
      const text = pages.get(step)?.[visit];
      if (text === undefined)
        throw new Error(`The walk did not come to ${step} so often: ${steps.join(', ')}`);
      return text;
    },
  };
}

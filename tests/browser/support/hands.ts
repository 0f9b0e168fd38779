/** How a person works a page: by pointer or by keyboard alone, always on what can be seen. */
import type { Locator, Page } from 'playwright-core';

export type Hands = {
  readonly page: Page;
  /** Presses a button, link, option or summary. */
  press(target: Locator): Promise<void>;
  /** Writes into a field. */
  write(target: Locator, text: string): Promise<void>;
};

/** A finger or a mouse. */
export function pointerHands(page: Page): Hands {
  return {
    page,
    press: (target) => target.click(),
    async write(target, text) {
      await target.click();
      await page.keyboard.type(text);
    },
  };
}

/** Where the page is so long that this many tabs do not reach something, nobody would either. */
const mostTabs = 60;

/**
 * Tab, Enter and Space only. Radio buttons are one stop of the tab key; arrows move within them.
 *
 * @throws if something cannot be reached, or is reached without a visible mark of the focus
 */
export function keyboardHands(page: Page): Hands {
  const reach = async (target: Locator): Promise<void> => {
    for (let tabs = 0; tabs <= mostTabs; tabs += 1) {
      if (await hasFocus(target)) return expectMarked(target);
      await page.keyboard.press('Tab');
      if (await sharesRadioGroup(target)) {
        for (let arrows = 0; arrows < 10 && !(await hasFocus(target)); arrows += 1) {
          await page.keyboard.press('ArrowDown');
        }
      }
    }
    throw new Error(`The tab key does not reach ${target} within ${mostTabs} stops.`);
  };
  return {
    page,
    async press(target) {
      await reach(target);
      const isBox =
        (await target.getAttribute('type')) !== null && (await target.evaluate(isTicked)) !== null;
      if (!isBox) await page.keyboard.press('Enter');
      else if (!(await target.isChecked())) await page.keyboard.press('Space');
    },
    async write(target, text) {
      await reach(target);
      await page.keyboard.type(text);
    },
  };
}

function hasFocus(target: Locator): Promise<boolean> {
  return target.evaluate((element) => element === document.activeElement);
}

function isTicked(element: Element): boolean | null {
  return element instanceof HTMLInputElement && ['radio', 'checkbox'].includes(element.type)
    ? element.checked
    : null;
}

function sharesRadioGroup(target: Locator): Promise<boolean> {
  return target.evaluate((element) => {
    const focused = document.activeElement;
    return (
      element instanceof HTMLInputElement &&
      focused instanceof HTMLInputElement &&
      element.type === 'radio' &&
      focused.type === 'radio' &&
      element !== focused &&
      element.name === focused.name
    );
  });
}

/** Options show the focus on the whole option that they stand in. */
async function expectMarked(target: Locator): Promise<void> {
  const isMarked = await target.evaluate((element) => {
    const shown = element.closest('.option') ?? element;
    const style = getComputedStyle(shown);
    return style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) >= 2;
  });
  if (!isMarked) throw new Error(`Nothing shows that ${target} has the focus.`);
}

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
    await target.waitFor();
    for (let tabs = 0; tabs <= mostTabs; tabs += 1) {
      let focus = await lookForFocus(target);
      for (let arrows = 0; focus === 'in its group' && arrows < 10; arrows += 1) {
        await page.keyboard.press('ArrowDown');
        focus = await lookForFocus(target);
      }
      if (focus === 'there') return;
      if (focus === 'there, unseen') throw new Error(`Nothing shows that ${target} has the focus.`);
      await page.keyboard.press('Tab');
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

type Focus = 'there' | 'there, unseen' | 'in its group' | 'elsewhere';

/** Where the focus is, and whether it can be seen there. Options show it on the whole option that they stand in. */
function lookForFocus(target: Locator): Promise<Focus> {
  return target.evaluate((element): Focus => {
    const focused = document.activeElement;
    if (element === focused) {
      const style = getComputedStyle(element.closest('.option') ?? element);
      const isSeen = style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) >= 2;
      return isSeen ? 'there' : 'there, unseen';
    }
    const isRadio = (candidate: Element | null): candidate is HTMLInputElement =>
      candidate instanceof HTMLInputElement && candidate.type === 'radio';
    return isRadio(element) && isRadio(focused) && element.name === focused.name
      ? 'in its group'
      : 'elsewhere';
  });
}

function isTicked(element: Element): boolean | null {
  return element instanceof HTMLInputElement && ['radio', 'checkbox'].includes(element.type)
    ? element.checked
    : null;
}

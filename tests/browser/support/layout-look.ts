/** What an eye sees at once on a laid-out page: things beside the screen, on top of each other, cut off, too small. */
import type { Page } from 'playwright-core';

export type LayoutLimits = {
  /** The least width and height of something to press, and of an answer; CSS pixels. */
  readonly target: number;
  readonly answer: number;
  /** The least size of a letter in a drawing; CSS pixels. */
  readonly letter: number;
};

/**
 * Everything wrong with how the page is laid out now, each as a short sentence. Works without JavaScript on the page.
 * Links within a sentence have no least size.
 */
export function listLayoutTroubles(page: Page, limits: LayoutLimits): Promise<string[]> {
  return page.evaluate(lookAtLayout, limits);
}

/** Runs in the browser, so everything it needs stands inside. */
function lookAtLayout({ target, answer, letter }: LayoutLimits): string[] {
  const troubles: string[] = [];
  const root = document.documentElement;
  const name = (element: Element): string =>
    `<${element.tagName.toLowerCase()}${element.id === '' ? '' : `#${element.id}`}> "${(element.textContent ?? '').trim().replaceAll(/\s+/g, ' ').slice(0, 40)}"`;
  const isForEarsOnly = (element: Element | null): boolean =>
    element !== null &&
    (getComputedStyle(element).clipPath === 'inset(50%)' || isForEarsOnly(element.parentElement));
  /** Shortened on purpose; the whole stands elsewhere on the page. */
  const isShortened = (element: Element): boolean => getComputedStyle(element).textOverflow === 'ellipsis';
  const isSeen = (element: Element): boolean =>
    element.checkVisibility({ visibilityProperty: true }) && !isForEarsOnly(element);
  type Rect = { left: number; right: number; top: number; bottom: number };
  const shared = (one: Rect, other: Rect): [number, number] => [
    Math.min(one.right, other.right) - Math.max(one.left, other.left),
    Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top),
  ];

  if (root.scrollWidth > root.clientWidth)
    troubles.push(`the page is ${root.scrollWidth - root.clientWidth} px wider than the screen`);

  const pressable = [
    ...document.querySelectorAll('a[href], button, summary, input:not([type="hidden"]), select, textarea'),
  ].filter(isSeen);
  for (const element of pressable) {
    // A box or a dot is pressed on the whole line that it stands in.
    const whole = element.closest('label') ?? element;
    const { width, height } = whole.getBoundingClientRect();
    const isInSentence = getComputedStyle(whole).display === 'inline';
    const least = whole.matches('.answer, .option, summary') ? answer : target;
    if (!isInSentence && (width < least || height < least))
      troubles.push(`${name(whole)} is only ${Math.round(width)} x ${Math.round(height)} px`);
  }
  const boxes = pressable
    .filter((element) => getComputedStyle(element).display !== 'inline')
    .map((element) => [element, element.getBoundingClientRect()] as const);
  boxes.forEach(([one, box], index) => {
    for (const [other, otherBox] of boxes.slice(index + 1)) {
      if (one.contains(other) || other.contains(one)) continue;
      const [width, height] = shared(box, otherBox);
      if (width > 1 && height > 1) troubles.push(`${name(one)} lies over ${name(other)}`);
    }
  });

  const lines: { node: Node; rect: DOMRect }[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    const parent = node.parentElement;
    const isDrawn = parent?.closest('svg') !== null;
    if (
      parent === null ||
      isDrawn ||
      (node.textContent ?? '').trim() === '' ||
      !isSeen(parent) ||
      isShortened(parent)
    )
      continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const rect of range.getClientRects()) if (rect.width > 1) lines.push({ node, rect });
  }
  const isBeside = ({ rect }: { rect: DOMRect }) => rect.left < -1 || rect.right > root.clientWidth + 1;
  for (const line of lines.filter(isBeside)) {
    const scroller = line.node.parentElement?.closest('[tabindex="0"]');
    if (scroller == null)
      troubles.push(`"${line.node.textContent?.trim().slice(0, 40)}" reaches over the screen's edge`);
  }
  // From top to bottom, so that on a long page each line is held against its neighbours only.
  lines.sort((one, other) => one.rect.top - other.rect.top);
  lines.forEach(({ node, rect }, index) => {
    for (let next = index + 1; next < lines.length; next += 1) {
      const other = lines[next]!;
      if (other.rect.top >= rect.bottom) break;
      const [width, height] = shared(rect, other.rect);
      if (width > 2 && height > 0.35 * Math.min(rect.height, other.rect.height))
        troubles.push(
          `"${node.textContent?.trim().slice(0, 40)}" lies over "${other.node.textContent?.trim().slice(0, 40)}"`,
        );
    }
  });

  for (const element of document.querySelectorAll('body *')) {
    const { overflowX, overflowY } = getComputedStyle(element);
    const isCut =
      (overflowX !== 'visible' && overflowX !== 'auto' && element.scrollWidth > element.clientWidth + 1) ||
      (overflowY === 'hidden' && element.scrollHeight > element.clientHeight + 1);
    if (isCut && element.closest('svg') === null && isSeen(element) && !isShortened(element))
      troubles.push(`${name(element)} is cut off`);
  }

  for (const text of document.querySelectorAll<SVGTextElement>('svg.picture text')) {
    if (!isSeen(text)) continue;
    const frame = text.ownerSVGElement?.getBoundingClientRect();
    const box = text.getBoundingClientRect();
    if (frame && (box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1))
      troubles.push(`"${text.textContent}" is cut off at the edge of its drawing`);
    const size = Number(text.getAttribute('font-size')) * (text.getScreenCTM()?.a ?? 1);
    if (size < letter) troubles.push(`"${text.textContent}" is drawn only ${size.toFixed(1)} px high`);
  }
  return [...new Set(troubles)];
}

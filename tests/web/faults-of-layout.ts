import type { Page } from 'playwright-core';

/**
 * What is wrong with how a screen lies at its present size: wider than the window, text cut off or outside
 * of its button, a control under another.
 */
export async function faultsOfLayout(page: Page): Promise<string[]> {
  return page.evaluate(async () => {
    // Letters that stand in until they are here are wider; plots are drawn for the width they find.
    await document.fonts.ready;
    await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
    const faults: string[] = [];
    const named = (element: Element) =>
      `${element.tagName.toLowerCase()}.${element.getAttribute('class') ?? ''} "${(element.getAttribute('aria-label') ?? element.textContent ?? '').trim().slice(0, 40)}"`;
    const root = document.documentElement;
    if (root.scrollWidth > root.clientWidth) {
      faults.push(`scrolls sideways by ${root.scrollWidth - root.clientWidth}`);
    }
    const isSeen = (element: Element) => element.checkVisibility({ visibilityProperty: true });
    /** Of what scrolls by itself, the part in sight; null where nothing of it is. */
    const inSight = (element: Element): DOMRect | null => {
      let { left, top, right, bottom } = element.getBoundingClientRect();
      let above: Element | null = element.parentElement;
      for (; above; above = above.parentElement) {
        const { overflowX, overflowY } = getComputedStyle(above);
        if (overflowX === 'visible' && overflowY === 'visible') continue;
        const box = above.getBoundingClientRect();
        [left, top] = [Math.max(left, box.left), Math.max(top, box.top)];
        [right, bottom] = [Math.min(right, box.right), Math.min(bottom, box.bottom)];
      }
      [left, top] = [Math.max(left, 0), Math.max(top, 0)];
      [right, bottom] = [Math.min(right, innerWidth), Math.min(bottom, innerHeight)];
      return right - left < 2 || bottom - top < 2 ? null : new DOMRect(left, top, right - left, bottom - top); // prettier-ignore
    };

    // Text: within the window, and within what it is written on.
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const range = document.createRange();
    while (texts.nextNode()) {
      const node = texts.currentNode;
      const parent = node.parentElement!;
      if (!node.textContent!.trim() || !isSeen(parent)) continue;
      // Its own words go where there is no room for them; a plot has its own rules.
      if (parent.closest('.visually-hidden, .add-mark, option, script, style, noscript')) continue;
      range.selectNodeContents(node);
      const box = range.getBoundingClientRect();
      const scroller = parent.closest('.table-scroll, .queue, .stage-drawing');
      if (!scroller && (box.left < -0.5 || box.right > root.clientWidth + 0.5)) {
        faults.push(`text outside the window: ${named(parent)}`);
      }
      const holder = parent.closest('button, a, label, summary, td, th, .card, .stepper-row');
      if (!holder || parent.closest('svg')) continue;
      const around = holder.getBoundingClientRect();
      if (
        box.left < around.left - 1 ||
        box.right > around.right + 1 ||
        box.top < around.top - 4 ||
        box.bottom > around.bottom + 4
      ) {
        // prettier-ignore
        faults.push(`text outside its box: ${named(holder)}`);
      }
    }

    // Controls: each can be hit in its middle.
    const CONTROLS =
      'button, a[href], summary, select, textarea, input:not([type=file]):not([type=radio]), label:has(input[type=file], input[type=radio]), [data-mark], [data-place]';
    for (const control of document.querySelectorAll(CONTROLS)) {
      if (!isSeen(control) || control.matches('.visually-hidden')) continue;
      const whole = control.getBoundingClientRect();
      const seen = inSight(control);
      // What is half scrolled away is reached by scrolling on.
      if (!seen || seen.width < whole.width - 2 || seen.height < whole.height - 2) continue;
      const [x, y] = [whole.left + whole.width / 2, whole.top + whole.height / 2];
      const top = document.elementFromPoint(x, y);
      const isMark = control.matches('[data-mark], [data-place]');
      // Marks are hit through the photo, which looks for the nearest.
      const isHit = isMark
        ? top?.closest('.stage') && !top.closest('button')
        : top && (control.contains(top) || top.contains(control) || top.closest('label')?.contains(control)); // prettier-ignore
      // A notice covers the strip at the top for a moment, and nothing else.
      if (top?.closest('.notice') && control.closest('.top')) continue;
      const isUnderSticky = top && [...ancestors(top)].some((one) => getComputedStyle(one).position === 'sticky'); // prettier-ignore
      if (!isHit && !isUnderSticky)
        faults.push(`${named(control)} lies under ${top && named(top)}`);
    }
    function* ancestors(element: Element): Generator<Element> {
      for (let one: Element | null = element; one; one = one.parentElement) yield one;
    }
    return faults;
  });
}

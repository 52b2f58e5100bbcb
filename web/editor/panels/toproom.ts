// What lies over the top of the board, one below the other: a notice, the hint
// of the tool, the bar of the draft. Each keeps clear of those above it, and
// none changes the size of the board or its view.

import { byID } from "../dom";

/** Lets what stands below an element at the top of the board know how much room it takes. */
export function takesRoom(el: HTMLElement, as: "--notice-room" | "--hint-room"): void {
  const size = new ResizeObserver(() => {
    // At the foot of a page that scrolls, a notice is over nothing of these.
    const over = el.offsetHeight > 0 && getComputedStyle(el).position !== "fixed";
    byID("board").style.setProperty(as, over ? `${el.offsetHeight + 6}px` : "0px");
  });
  size.observe(el);
}

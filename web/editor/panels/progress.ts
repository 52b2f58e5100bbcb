// What the server is working out, over the foot of the board: a word of it after
// a moment, then how far it is, and the button that calls it off.

import { byID, h, Rows, setAttr, setText } from "../dom";
import { takesText } from "../keys";
import type { LongWork, Work } from "../longwork";

/** Shows the long works; say reads a sentence out. */
export function showLongWork(work: LongWork, say: (sentence: string) => void): void {
  const list = h("ul", { class: "works" });
  const box = h("section", { class: "long-work", "aria-label": "Work in progress", hidden: true }, list);
  byID("board").append(box);
  const keys = new WeakMap<Work, string>();
  let seen = 0;
  const key = (w: Work): string => {
    const k = keys.get(w) ?? String(seen++);
    keys.set(w, k);
    return k;
  };
  const rows = new Rows<Work>(list, key, (w) => row(w, work, say));
  const show = (): void => {
    const shown = work.works.filter((w) => w.shows !== "quiet" && !w.own);
    rows.show(shown);
    box.hidden = shown.length === 0;
    document.documentElement.dataset.working = String(work.works.length);
    setAttr(document.body, "data-busy", shown.length > 0);
  };
  work.subscribe(show);
  show();
  // Escape on the board backs out of one thing at a time and knows of the works;
  // elsewhere on the page it is theirs, where nothing nearer wants it.
  document.addEventListener("keydown", (e) => {
    if (e.key !== "Escape" || e.defaultPrevented || takesText(document.activeElement)) return;
    if (document.querySelector("dialog[open]")) return;
    if (work.stop()) e.preventDefault();
  });
}

function row(
  w: Work,
  work: LongWork,
  say: (sentence: string) => void,
): { el: Element; update(w: Work): void } {
  const step = h("p", { class: "hint" });
  const bar = h("progress", { max: 1, "aria-label": w.title });
  const share = h("span", { class: "share", "aria-hidden": "true" }); // the bar says it
  const cancel = h("button", { type: "button", class: "small", title: "Escape" }, "Cancel");
  cancel.addEventListener("click", () => work.stop(w));
  const line = h("div", { class: "work-bar", hidden: true }, bar, share);
  let told = false;
  return {
    el: h("li", {}, h("p", { class: "work-title" }, `${w.title}…`), cancel, line, step),
    update: () => {
      line.hidden = w.shows !== "bar";
      setText(step, w.shows === "bar" ? w.told.step : "");
      setAttr(bar, "value", String(w.told.share));
      setText(share, `${Math.round(100 * w.told.share)} %`);
      if (w.shows === "bar" && !told) {
        told = true;
        say(`${w.title}. Escape calls it off.`);
      }
    },
  };
}

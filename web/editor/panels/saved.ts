// Whether everything done is on disk, in words that are only ever true.

import { byID, h, setAttr, setText } from "../dom";
import { count } from "../names";
import type { Board, Saved } from "../state";

const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit" });

/** The saved state in words. */
export function savedText(s: Saved): string {
  if (s.state === "yes") return s.at ? `Saved ${clock.format(s.at)}` : "Saved";
  if (s.state === "saving") return "Saving…";
  if (s.state === "no") return unsavedText(s);
  return "Someone else changed this plan";
}

function unsavedText({ count: n, full, keeping }: Extract<Saved, { state: "no" }>): string {
  const changes = count(n, "change");
  if (full && keeping) return `Disk full – keeping ${changes} in this browser…`;
  if (full) return `Disk full – your last ${lately(n)} kept in this browser`;
  return `Not saved – retrying (${keeping ? `keeping ${changes} here…` : `${changes} kept here`})`;
}

const lately = (n: number): string => (n === 1 ? "change is" : `${n} changes are`);

/** Shows the saved state, tells tests, and holds the page open while something is unsaved. */
export function showSaved(board: Board): void {
  const el = byID("saved");
  const words = h("span");
  el.append(h("span", { class: "dot", "aria-hidden": "true" }), words);
  const show = (): void => {
    const s = board.saved;
    setText(words, savedText(s));
    setAttr(el, "data-state", s.state);
    setAttr(el, "title", s.state === "no" ? s.why : null);
    const root = document.documentElement.dataset;
    root.saved = s.state === "yes" ? "yes" : s.state === "saving" ? "saving" : "no";
    root.rev = String(board.rev);
  };
  board.subscribe("saved", show);
  board.subscribe("plan", show);
  show();
  window.addEventListener("beforeunload", (e) => {
    if (board.saved.state !== "yes") e.preventDefault();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) board.flush(); // a nudge does not wait for the next one any more
  });
}

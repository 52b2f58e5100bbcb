// A watch for the meter's dial or a bucket: pressed at the start, pressed at the end.
// That it runs, and since when, outlives the page.

import { button, setText } from "../dom";
import type { Part } from "./ui";

const kept = "evenfall-yard-watch";

/** Seconds to a tenth, which is as well as a thumb can press. */
export const elapsed = (from: number, to: number): number => Math.max(0, Math.round((to - from) / 100) / 10);

/** A watch of one thing; taken: the seconds it stopped at. */
export function stopwatch(of: string, taken: (seconds: number) => void): Part {
  const key = `${kept} ${of}`;
  const el = button("", "yard-big yard-watch", () => {
    const from = since();
    if (from === null) localStorage.setItem(key, String(Date.now()));
    else {
      localStorage.removeItem(key);
      taken(elapsed(from, Date.now()));
    }
    update();
  });
  const since = (): number | null => {
    const v = Number(localStorage.getItem(key) ?? "");
    return v > 0 ? v : null;
  };
  let timer: ReturnType<typeof setInterval> | null = null;
  const update = (): void => {
    const from = since();
    setText(
      el,
      from === null ? "Start the watch" : `Stop the watch: ${elapsed(from, Date.now()).toFixed(0)} s`,
    );
    if (from !== null && timer === null)
      timer = setInterval(() => {
        if (el.isConnected) update();
        else stop();
      }, 250);
    if (from === null) stop();
  };
  const stop = (): void => {
    if (timer !== null) clearInterval(timer);
    timer = null;
  };
  update();
  return { el, update };
}

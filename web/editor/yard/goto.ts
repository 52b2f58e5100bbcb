// The list of all there is to do in a section, with how each stands and the way there.

import { button, h, setAttr } from "../dom";
import { type Part, remade } from "./ui";

/** A list of things to go to, with how each stands. */
export function goTo(
  label: string,
  rows: () => readonly {
    readonly item: string;
    readonly title: string;
    readonly says: string;
    readonly done: boolean;
  }[],
  here: () => string,
  go: (item: string) => void,
): Part {
  const el = h("details", { class: "yard-all" }, h("summary", {}, label));
  const list = remade(
    "yard-list",
    () => (el.open ? [rows(), here()] : null),
    () =>
      (el.open ? rows() : []).map((r) => {
        const b = button("", "yard-row", () => go(r.item));
        b.append(
          h("span", { class: "yard-mark", "aria-hidden": "true" }, r.done ? "✓" : ""),
          h("span", {}, h("b", {}, r.title), r.says ? h("span", { class: "hint" }, ` ${r.says}`) : null),
        );
        setAttr(b, "data-done", r.done);
        setAttr(b, "aria-current", r.item === here() ? "true" : null);
        return b;
      }),
  );
  el.append(list.el);
  list.el.addEventListener("click", () => {
    el.open = false;
  });
  el.addEventListener("toggle", list.update);
  return { el, update: list.update };
}

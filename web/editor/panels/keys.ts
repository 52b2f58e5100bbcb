// The sheet of keys, made from the register of commands the board obeys.

import { gestures, groups, table } from "../commands";
import { ask, h } from "../dom";

/** The tables of keys, one for each group of commands. */
export function keySheet(level: "h2" | "h3"): HTMLElement[] {
  const rows = Object.values(table);
  const commands = groups.map((g) => {
    // What only draws another kind is found under Commands.
    const own = rows.filter((r) => r.group === g && (r.keys.length > 0 || g !== "Draw"));
    const lines = own.map((r) => line(r.keys.join(" or "), r.title, r.says));
    return h("section", {}, h(level, {}, g), sheet(g, lines));
  });
  const held = gestures.map((g) => line(g.hold, "", g.does));
  return [
    ...commands,
    h("section", {}, h(level, {}, "Pointing and holding"), sheet("Pointing and holding", held)),
  ];
}

function sheet(label: string, lines: HTMLElement[]): HTMLElement {
  const head = h("tr", {}, h("th", { scope: "col" }, "Key"), h("th", { scope: "col" }, "Does"));
  return h(
    "table",
    { class: "keys", "aria-label": label },
    h("thead", { class: "unseen" }, head),
    h("tbody", {}, ...lines),
  );
}

function line(keys: string, title: string, says: string): HTMLElement {
  const name = title ? h("b", {}, `${title}. `) : null;
  return h("tr", {}, h("th", { scope: "row" }, keys ? h("kbd", {}, keys) : "–"), h("td", {}, name, says));
}

/** Shows the sheet over the board. */
export function showKeys(): void {
  if (document.getElementById("keys-title")) return;
  const form = h("form", { method: "dialog", class: "form" });
  const close = h("button", { value: "", class: "main" }, "Close");
  form.append(h("div", { class: "dialog-head" }, h("h2", { id: "keys-title" }, "Keys"), close));
  form.append(
    h(
      "p",
      { class: "hint" },
      "Keys of one letter work while the board has the focus. On a Mac, Ctrl is Cmd.",
    ),
  );
  form.append(h("div", { class: "keys-sheet" }, ...keySheet("h3")));
  void ask(h("dialog", { class: "roomy", "aria-labelledby": "keys-title" }, form));
}

// The offer of pipe sizes: what changes, from which size to which, what it costs
// and what the check of it found. It is taken whole, by one step, or left.

import type { Ground } from "../asking";
import { ask, h } from "../dom";
import { count } from "../names";
import { askSizes, type SizeGroup, type Sizes, takeSizes } from "../sizing";

/** Asks for sizes and shows what is offered. */
export async function offerSizes(board: Ground): Promise<void> {
  const sizes = await askSizes(board);
  if (!sizes) return;
  board.announce(sizes.says);
  if ((await ask(offer(sizes))) === "apply") await takeSizes(board, sizes);
  else if (sizes.patch) board.announce("No size is changed.");
}

/** The dialog of an offer, or of why there is none. */
export function offer(s: Sizes): HTMLDialogElement {
  const some = s.patch !== undefined;
  return h(
    "dialog",
    { class: "roomy sizes", "aria-labelledby": "sizes-title", "aria-describedby": "sizes-says" },
    h(
      "form",
      { method: "dialog", class: "form" },
      h("h2", { id: "sizes-title" }, s.offered ? "Sizes for the pipes" : "No sizes to offer"),
      h("p", { id: "sizes-says" }, s.says),
      ...(s.offered ? found(s) : []),
      ...s.notes.map((n) => h("p", { class: "hint" }, n)),
      h("p", { class: "hint" }, s.caution),
      h(
        "p",
        { class: "acts" },
        some &&
          h("button", { value: "apply", class: "main", autofocus: true }, `Apply, ${s.label.toLowerCase()}`),
        h("button", { value: "", autofocus: !some }, some ? "Cancel" : "Close"),
      ),
    ),
  );
}

function found(s: Sizes): HTMLElement[] {
  const cost = h(
    "dl",
    { class: "facts" },
    ...[
      ["Before", s.before],
      ["With these sizes", s.after],
    ].flatMap(([t, d]) => [h("dt", {}, t), h("dd", {}, d)]),
  );
  const check = h(
    "section",
    { "aria-labelledby": "sizes-check" },
    h("h3", { id: "sizes-check" }, s.holds ? "Checked: the sizes hold" : "Checked: something does not hold"),
    h(
      "p",
      { class: "hint" },
      "Every zone solved with these sizes, running by itself, at the pressures its heads then have; the table above is for the planned ones.",
    ),
    h("ul", { class: "sizes-checks" }, ...s.checks.map(checkLine)),
  );
  return s.groups.length > 0 ? [table(s.groups), each(s), cost, check] : [cost, check];
}

function checkLine(c: Sizes["checks"][number]): HTMLElement {
  const mark = h("span", { class: "sizes-mark" }, c.good ? "Good" : "Look");
  return h("li", { "data-good": c.good ? "yes" : "no" }, mark, c.says);
}

function table(groups: readonly SizeGroup[]): HTMLElement {
  const head = ["Where", "From", "To", "Pipes", "Length", "Most flow", "Fastest"].map((t) =>
    h("th", { scope: "col" }, t),
  );
  const row = (g: SizeGroup): HTMLElement =>
    h(
      "tr",
      {},
      h("th", { scope: "row" }, g.where),
      h("td", {}, g.from || "no size"),
      h("td", {}, g.to),
      ...[String(g.pipes), g.length, g.flow, g.velocity].map((t) => h("td", { class: "figure" }, t)),
    );
  return h(
    "div",
    { class: "scroll", role: "region", "aria-label": "What changes", tabindex: "0" },
    h(
      "table",
      { class: "sizes-table" },
      h("thead", {}, h("tr", {}, ...head)),
      h("tbody", {}, ...groups.map(row)),
    ),
  );
}

/** Every pipe by name, for who wants to know. */
function each(s: Sizes): HTMLElement {
  return h(
    "details",
    {},
    h("summary", {}, `Each of the ${count(s.changes.length, "pipe")}`),
    h(
      "ul",
      { class: "scroll sizes-each", tabindex: "0", "aria-label": "Every pipe that changes" },
      ...s.changes.map((c) => h("li", {}, `${c.name}: ${c.from || "no size"} to ${c.to}`)),
    ),
  );
}

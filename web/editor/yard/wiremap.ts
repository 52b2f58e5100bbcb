// What is known of the wires: the terminal map as it stands, what has to be moved, and
// what was touched and read.

import { button, h } from "../dom";
import { find } from "../model";
import { count } from "../names";
import type { ProofTerminal } from "../proofview";
import { measures } from "./measures";
import { dropRecord, recordsOf } from "./records";
import type { Yard } from "./session";
import { type Part, remade } from "./ui";
import { wireName } from "./wirename";

/** The terminal map as it stands. */
export function terminalMap(yard: Yard): Part {
  const cells = (t: ProofTerminal): HTMLElement =>
    h(
      "tr",
      {},
      h("th", { scope: "row" }, t.terminal),
      h("td", {}, t.zone),
      h("td", {}, t.wire || "not found"),
      h("td", {}, t.ohms),
      h("td", {}, t.warn),
    );
  return remade(
    "",
    () => yard.view?.wires.terminals,
    () => {
      const all = yard.view?.wires.terminals ?? [];
      if (all.length === 0) return [];
      const heads = ["Terminal", "Zone", "Wire", "Coil", "Look at"];
      return [
        h("h3", { id: "yard-map-title" }, "The terminal map"),
        h(
          "div",
          { class: "scroll", role: "region", "aria-labelledby": "yard-map-title", tabindex: "0" },
          h(
            "table",
            { class: "program-table" },
            h("thead", {}, h("tr", {}, ...heads.map((t) => h("th", { scope: "col" }, t)))),
            h("tbody", {}, ...all.map(cells)),
          ),
        ),
        moves(yard),
      ];
    },
  );
}

/** What was touched and read, the last first, each of which can be taken back. */
export function soFar(yard: Yard): Part {
  const zoneName = (id: string): string => find(yard.plan, "zones", id)?.name ?? "a zone no longer here";
  return remade(
    "",
    () => [yard.plan.proof?.touches, yard.plan.proof?.resistances, yard.plan.proof?.wires],
    () => {
      const touches = recordsOf(yard.plan, "touches").reverse();
      const readings = recordsOf(yard.plan, "resistances").reverse();
      const n = touches.length + readings.length;
      if (n === 0) return [];
      const row = (text: string, kind: "touches" | "resistances", id: string): HTMLElement =>
        h(
          "li",
          {},
          h("span", {}, text),
          button("Take back", "grave", () =>
            yard.step(`Take back: ${text}`, dropRecord(yard.plan, kind, id)),
          ),
        );
      return [
        h(
          "details",
          { class: "yard-seen" },
          h(
            "summary",
            {},
            `${count(touches.length, "touch", "touches")} and ${count(readings.length, "reading")} so far`,
          ),
          h(
            "ul",
            {},
            ...touches.map(([id, t]) =>
              row(
                `${wireName(yard, t.wire)}: ${(t.ran ?? []).map(zoneName).join(" and ") || "nothing"} ran`,
                "touches",
                id,
              ),
            ),
            ...readings.map(([id, r]) =>
              row(
                `${wireName(yard, r.from)} to ${wireName(yard, r.to)}: ${r.ohms === undefined ? "open" : `${measures.ohms.text(r.ohms, yard.plan.show)} Ω`}`,
                "resistances",
                id,
              ),
            ),
          ),
        ),
      ];
    },
  );
}

/** What has to be moved to another terminal, in the words of the server. */
function moves(yard: Yard): HTMLElement {
  const list = (yard.view?.wires.wires ?? []).filter((w) => w.moves || w.warn);
  if (list.length === 0) return h("p", { hidden: true });
  return h(
    "ul",
    { class: "yard-moves" },
    ...list.map((w) =>
      h("li", {}, h("b", {}, w.mark), `: ${[w.is, w.moves, w.warn].filter(Boolean).join(". ")}`),
    ),
  );
}

// The wires that come out at the controller: colour or tape, the terminal each is on
// now, and which is known to be the common.

import { button, h } from "../dom";
import { capital } from "../names";
import type { FoundWire } from "../proof";
import { dropWire, nextOrder, recordID, recordsOf, setRecord } from "./records";
import type { Yard } from "./session";
import { column, type Part, pick, remade, words } from "./ui";
import { wireName } from "./wirename";

/** The colours control wire is made in (common practice). */
const colours = ["White", "Red", "Blue", "Green", "Yellow", "Black", "Brown", "Orange"];

/** Colours of insulation that several wires may have are told apart by a number. */
export function markFor(colour: string, taken: readonly string[]): string {
  if (!taken.includes(colour)) return colour;
  let n = 2;
  while (taken.includes(`${colour} ${n}`)) n++;
  return `${colour} ${n}`;
}

export function wireList(yard: Yard): Part {
  const list = h("div", { class: "yard-wires" });
  const parts = new Map<string, Part>();
  const update = (): void => {
    const all = recordsOf(yard.plan, "wires").map(([id]) => id);
    for (const [id, part] of parts) {
      if (all.includes(id)) continue;
      part.el.remove();
      parts.delete(id);
    }
    for (const [i, id] of all.entries()) {
      let part = parts.get(id);
      if (!part) {
        part = one(yard, id);
        parts.set(id, part);
      }
      // One that stands where it belongs stays: moved, it would lose the focus that is in it.
      if (list.children[i] !== part.el) list.insertBefore(part.el, list.children[i] ?? null);
      part.update();
    }
  };
  const add = (mark: string): void => {
    const marks = recordsOf(yard.plan, "wires").flatMap(([, w]) => w.mark ?? []);
    const wire: FoundWire = { order: nextOrder(yard.plan, "wires"), mark: mark && markFor(mark, marks) };
    const id = recordID("w");
    yard.step(`Note the wire ${wire.mark || wire.order}`, setRecord(yard.plan, "wires", id, wire));
    if (!mark) parts.get(id)?.el.querySelector("input")?.focus();
  };
  const adding = h(
    "div",
    { class: "yard-choose", role: "group", "aria-labelledby": "yard-add-wire" },
    h("h2", { id: "yard-add-wire", class: "yard-title" }, "Each wire that comes out at the controller"),
    h("p", { class: "hint" }, "Press its colour, or put a piece of numbered tape on it and press Another."),
    h(
      "div",
      { class: "yard-choices" },
      ...colours.map((c) => {
        const b = button(c, "yard-choice", () => add(c));
        b.prepend(h("span", { class: `yard-wire yard-wire-${c.toLowerCase()}`, "aria-hidden": "true" }));
        return b;
      }),
      button("Another…", "yard-choice", () => add("")),
    ),
  );
  update();
  return { el: h("div", { class: "yard-apart" }, adding, list), update };
}

function one(yard: Yard, id: string): Part {
  const wire = () => yard.plan.proof?.wires?.[id];
  const set = (what: string, change: Partial<FoundWire>): void =>
    yard.step(`${what} of ${wireName(yard, id)}`, setRecord(yard.plan, "wires", id, change));
  const terminals = () => {
    const zones = Object.values(yard.plan.zones ?? {}).map((z) => z.station ?? 0);
    const most = Math.max(yard.plan.controller?.stations ?? 0, wire()?.terminal ?? 0, 4, ...zones);
    return [
      { value: "", label: "None: it hangs loose" },
      { value: "common", label: "Common" },
      ...Array.from({ length: most }, (_, i) => ({ value: String(i + 1), label: `Station ${i + 1}` })),
    ];
  };
  const is = remade(
    "",
    () => yard.view?.wires.wires?.find((w) => w.id === id),
    () => {
      const v = yard.view?.wires.wires?.find((w) => w.id === id);
      if (!v || (v.kind === "unknown" && !v.moves && !v.warn)) return [];
      return [h("p", { class: "yard-is" }, [v.is, v.moves, v.warn].filter(Boolean).join(". "))];
    },
  );
  const part = column(
    "yard-card yard-wire-card",
    words(yard, {
      key: `wire/${id}/mark`,
      label: "Colour or tape",
      what: "mark of a wire",
      get: () => wire()?.mark,
      set: (mark) => set("Mark", { mark }),
    }),
    pick(
      "It is on",
      terminals,
      () => (wire()?.common ? "common" : String(wire()?.terminal || "")),
      (v) =>
        set("Terminal", {
          common: v === "common",
          terminal: v === "" || v === "common" ? undefined : Number(v),
        }),
    ),
    button("Take it away", "grave", () =>
      yard.step(`Take ${wireName(yard, id)} away`, dropWire(yard.plan, id)),
    ),
    is,
  );
  // Its fields are those of any wire: which one is said with them.
  const update = (): void => {
    part.update();
    part.el.setAttribute("aria-label", capital(wireName(yard, id)));
  };
  part.el.setAttribute("role", "group");
  update();
  return { el: part.el, update };
}

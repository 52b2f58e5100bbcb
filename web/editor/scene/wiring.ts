// Sleeves under paving and runs of control wire. A sleeve is an open tube around what
// passes it, a wire run a thin line of long and short dashes with its word, so that no colour is needed.

import { type Row, Rows, setText } from "../dom";
import { find, ids, type Plan, parts, type Ref, ref, type Sleeve, type WireRun } from "../model";
import { pipeSizeText } from "../pipenames";
import { place } from "../shape";
import { ringsOf } from "../things";
import { at as along, longestOf } from "./pipewords";
import { speechOf } from "./speech";
import { attr, outlinePath, s, translate } from "./svg";
import { type Shown, thing } from "./thing";

/** The members of the plan that are drawn here. */
export const wiringKeys = ["sleeves", "wires"] as const;

interface Item {
  readonly r: Ref;
  readonly shown: Shown;
}

export class Wiring {
  readonly el = s("g", { class: "wiring" });
  readonly #sleeves: Rows<Item>;
  readonly #wires: Rows<Item>;

  constructor() {
    const [sleeves, wires] = [s("g"), s("g")];
    this.el.append(sleeves, wires);
    this.#sleeves = new Rows<Item>(sleeves, (i) => i.r, sleeveRow);
    this.#wires = new Rows<Item>(wires, (i) => i.r, wireRow);
  }

  show(shown: Shown): void {
    const of = (c: "sleeves" | "wires"): Item[] => ids(shown.plan, c).map((id) => ({ r: ref(c, id), shown }));
    this.#sleeves.show(of("sleeves"));
    this.#wires.show(of("wires"));
  }
}

const sleeveRow = ({ r }: Item): Row<Item> =>
  row(r, "sleeve", ["sleeve-wall", "sleeve-bore"], { of: sleeveText, along: 0.5, y: 17 });
const wireRow = ({ r }: Item): Row<Item> =>
  row(r, "wire", ["wire-line"], { of: () => "wire", along: 0.2, y: -6 });

/** The words at a line's longest stretch: how far along, and how far below in pixels. */
interface Words {
  of(p: Plan, id: string): string;
  readonly along: number;
  readonly y: number;
}

const sleeveText = (p: Plan, id: string): string => {
  const size = find(p, "sleeves", id)?.nominal_in;
  return size ? `${pipeSizeText(size, p.show)} sleeve` : "sleeve";
};

/** A line of some strokes, with words at its longest stretch. */
function row(r: Ref, name: string, strokes: readonly string[], words: Words): Row<Item> {
  const back = s("path", { class: "grasp" });
  const lines = strokes.map((of) => s("path", { class: of }));
  const text = s("text", { class: "wiring-text", "aria-hidden": "true", y: words.y });
  const at = s("g", {}, s("g", { class: "fixed" }, text));
  const el = s("g", { role: "button", tabindex: -1, class: name }, back, ...lines, at);
  const [c, id] = parts(r) as ["sleeves" | "wires", string];
  let before: Sleeve | WireRun | undefined;
  let units = "";
  return {
    el,
    update({ shown }) {
      const it = find(shown.plan, c, id);
      const changed = before !== it || units !== shown.plan.show;
      thing(el, r, shown, () => speechOf(shown.plan, r, shown.design), changed);
      if (!changed || !it) return;
      [before, units] = [it, shown.plan.show];
      const corners = ringsOf(shown.plan, r)[0] ?? [];
      const d = outlinePath(corners, false);
      for (const path of [back, ...lines]) attr(path, { d });
      el.classList.toggle("locked", it.locked ?? false);
      const longest = longestOf(corners.map(place));
      setText(text, longest ? words.of(shown.plan, id) : "");
      if (longest) attr(at, { transform: translate(along(longest, words.along)) });
    },
  };
}

// What stands on the plan beside planting and heads: spot heights, sensors, splice
// boxes, the controller, the points of the supply, valves; and ties, the measured
// distances that check the drawing.

import { edgeMiddle } from "../arcs";
import { type Row, Rows, setText } from "../dom";
import { lengthText } from "../format";
import { type Collection, find, ids, type Plan, parts, type Ref, ref, type Status } from "../model";
import { tieDifference } from "../names";
import { place } from "../shape";
import { statusOf } from "../statuses";
import { isLocked, ringsOf, spotOf } from "../things";
import { speechOf } from "./speech";
import { attr, outlinePath, s, translate } from "./svg";
import { type Shown, thing } from "./thing";

interface Item {
  readonly r: Ref;
  readonly shown: Shown;
}

/** The mark of each, in pixels, and the letters in or beside it. */
export const marks: Readonly<Record<string, { readonly d: string; say(p: Plan, id: string): string }>> = {
  elevations: {
    d: "M-5 -5L5 5M-5 5L5 -5",
    say: (p, id) => lengthText(find(p, "elevations", id)?.z_ft ?? 0, p.show),
  },
  sensors: { d: "M0 -8A8 8 0 1 1 -.01 -8M-4 0H4", say: (p, id) => find(p, "sensors", id)?.kind ?? "" },
  controller: { d: "M-8 -8H8V8H-8ZM0 -5V0L4 3", say: () => "" },
  "controller/outlet_at": { d: "M0 -7A7 7 0 1 1 -.01 -7M-2.5 -3V1M2.5 -3V1M0 3.5h.01", say: () => "" },
  boxes: { d: "M-8 -5H8V5H-8ZM-5 -2L-1 0L-5 2M5 -2L1 0L5 2", say: () => "" },
  "supply/connection": { d: "M-8 0H8M0 -8V8M0 -5A5 5 0 1 1 -.01 -5", say: () => "" },
  "supply/backflow_at": { d: "M-9 -6L0 0L-9 6ZM9 -6L0 0L9 6Z", say: () => "" },
  valves: { d: "M-8 -5L8 5V-5L-8 5Z", say: (p, id) => String(find(p, "zones", id)?.station ?? "") },
};

const standing: readonly Collection[] = ["elevations", "sensors", "controller", "boxes", "supply", "valves"];

const markOf = (r: Ref) => marks[r] ?? marks[parts(r)[0]];

export class Fixtures {
  readonly el = s("g", { class: "fixtures" });
  readonly #ties: Rows<Item>;
  readonly #marks: Rows<Item>;

  constructor() {
    const ties = s("g", { class: "ties" });
    const standing = s("g");
    this.el.append(ties, standing);
    this.#ties = new Rows<Item>(ties, (i) => i.r, tieRow);
    this.#marks = new Rows<Item>(standing, (i) => i.r, markRow);
  }

  show(shown: Shown): void {
    const of = (c: Collection): Item[] => ids(shown.plan, c).map((id) => ({ r: ref(c, id), shown }));
    this.#ties.show(of("ties"));
    this.#marks.show(standing.flatMap(of));
  }
}

/** The members of the plan that are drawn here. */
export const fixtureKeys = [
  "elevations",
  "ties",
  "sensors",
  "controller",
  "boxes",
  "supply",
  "zones",
] as const;

function markRow({ r }: Item): Row<Item> {
  const mark = markOf(r);
  const text = s("text", { class: "fixture-text", "aria-hidden": "true", x: 11, y: 4 });
  const shape = s("path", { class: "fixture-mark", d: mark?.d });
  const el = s("g", { role: "button", tabindex: -1, class: `fixture ${parts(r)[0]}` });
  el.append(s("g", { class: "fixed" }, shape, text));
  let before: unknown = null;
  let of: unknown = null;
  let status: Status | null = null;
  let units = "";
  return {
    el,
    update({ shown }) {
      const [c, id] = parts(r);
      const it = find(shown.plan, c, id);
      const now = statusOf(shown.plan, r); // of a valve its zone's, of the controller not its place's
      // What of a thing stands elsewhere in the document than its place does.
      const more = c === "controller" ? shown.plan.controller : null;
      const changed = before !== it || of !== more || status !== now || units !== shown.plan.show;
      status = now;
      of = more;
      units = shown.plan.show;
      thing(el, r, shown, () => speechOf(shown.plan, r, shown.design), changed);
      setText(text, mark?.say(shown.plan, id) ?? "");
      if (!changed) return;
      before = it;
      attr(el, { transform: translate(spotOf(shown.plan, r) ?? [0, 0]) });
      el.classList.toggle("locked", isLocked(shown.plan, r));
    },
  };
}

function tieRow({ r }: Item): Row<Item> {
  const back = s("path", { class: "grasp" });
  const line = s("path", { class: "tie-line edge" });
  const text = s("text", { class: "tie-text", "aria-hidden": "true", y: -4 });
  const off = s("text", { class: "tie-text tie-off", "aria-hidden": "true", y: 13 });
  const at = s("g", {}, s("g", { class: "fixed" }, text, off));
  const el = s("g", { role: "button", tabindex: -1, class: "tie" }, back, line, at);
  let before: unknown = null;
  let units = "";
  return {
    el,
    update({ shown }) {
      const tie = find(shown.plan, "ties", parts(r)[1]);
      const changed = before !== tie || units !== shown.plan.show;
      units = shown.plan.show;
      thing(el, r, shown, () => speechOf(shown.plan, r, shown.design), changed);
      const [from, to] = ringsOf(shown.plan, r)[0] ?? [];
      if (!changed || !tie || !from || !to) return;
      before = tie;
      const d = outlinePath([from, to], false);
      for (const path of [back, line]) attr(path, { d });
      attr(at, { transform: translate(edgeMiddle(place(from), place(to), 0)) });
      setText(text, lengthText(tie.distance_ft, shown.plan.show));
      setText(off, tieDifference(place(from), place(to), tie.distance_ft, shown.plan.show));
    },
  };
}

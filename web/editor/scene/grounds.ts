// Areas with their hatch and name, the property line, and the dry gaps the
// server found.

import type { Design, Gap } from "../design";
import { type Row, Rows, setText } from "../dom";
import { type Area, type Kind, type Outline, type Plan, type Ref, ref } from "../model";
import { areaOf } from "../shape";
import { hatchID, hatchOf } from "./hatches";
import { labelPlace } from "./label";
import type { Written } from "./naming";
import { speechOf } from "./speech";
import { attr, outlinePath, pointsPath, ringsPath, s, translate } from "./svg";
import { type Shown, thing } from "./thing";

interface Ground {
  readonly id: string;
  readonly area: Area;
  readonly shown: Shown;
}

/** From the ground up: what has the ground where two overlap is drawn over the other. */
const order: readonly Kind[] = [
  "right_of_way",
  "planting",
  "ground",
  "paving",
  "water",
  "building",
  "no_dig",
];

export class Grounds {
  readonly el = s("g", { class: "grounds" });
  readonly #lots: Rows<Shown>;
  readonly #gaps = s("g", { class: "gaps" });
  readonly #names = s("g", { class: "names", "aria-hidden": "true" });
  readonly #rows: Rows<Ground>;
  readonly #labels: Rows<Ground>;
  readonly #gapRows: Rows<Gap>;

  constructor() {
    const areas = s("g", { class: "areas" });
    const lot = s("g");
    this.el.append(lot, areas, this.#gaps);
    this.#lots = new Rows<Shown>(lot, () => "lot", lotRow);
    this.#rows = new Rows<Ground>(areas, (g) => g.id, groundRow);
    this.#labels = new Rows<Ground>(this.#names, (g) => g.id, nameRow);
    this.#gapRows = new Rows<Gap>(this.#gaps, (g, i) => `${g.area} ${i}`, gapRow);
  }

  /** The names, to be put above everything else of the ground. */
  get names(): SVGGElement {
    return this.#names;
  }

  show(plan: Plan, shown: Shown): void {
    const grounds = Object.entries(plan.areas ?? {}).map(([id, area]) => ({ id, area, shown }));
    const size = new Map(grounds.map((g) => [g.id, areaOf(g.area.outline)]));
    const rank = (g: Ground) => order.indexOf(g.area.kind);
    grounds.sort(
      (a, b) => rank(a) - rank(b) || (size.get(b.id) ?? 0) - (size.get(a.id) ?? 0) || (a.id < b.id ? -1 : 1),
    );
    this.#rows.show(grounds);
    this.#labels.show(grounds);
    this.#lots.show(plan.site?.lot?.length ? [shown] : []);
  }

  showGaps(design: Design | null): void {
    this.#gapRows.show(design?.gaps ?? []);
  }

  /** Writes the names where there is room for them. */
  writeNames(plan: Plan, written: ReadonlyMap<string, Written>): void {
    for (const id of Object.keys(plan.areas ?? {})) {
      const el = this.#labels.get(id)?.el;
      if (!el) continue;
      const w = written.get(id);
      el.classList.toggle("tight", !w);
      if (!w) continue;
      el.classList.toggle("small", w.small);
      attr(el, { transform: translate(w.at) });
      const text = el.querySelector("text");
      if (text) setText(text, w.text);
    }
  }
}

function lotRow(): Row<Shown> {
  const edge = s("path", { class: "edge" });
  const el = s("g", { class: "lot", role: "button", tabindex: -1 }, edge);
  let before: Outline | undefined;
  return {
    el,
    update(shown) {
      const outline = shown.plan.site?.lot;
      const changed = before !== outline;
      thing(el, "site/lot", shown, () => speechOf(shown.plan, "site/lot", shown.design), changed);
      if (changed && outline) attr(edge, { d: outlinePath(outline, true) });
      before = outline;
    },
  };
}

function groundRow(): Row<Ground> {
  const fill = s("path", { class: "fill" });
  const hatch = s("path", { class: "hatch" });
  const removal = s("path", { class: "hatch removal" });
  const edge = s("path", { class: "edge" });
  const el = s("g", { role: "button", tabindex: -1 }, fill, hatch, removal, edge);
  let before: Ground | null = null;
  return {
    el,
    update(g) {
      const r: Ref = ref("areas", g.id);
      thing(el, r, g.shown, () => speechOf(g.shown.plan, r, g.shown.design), before?.area !== g.area);
      if (before?.area !== g.area) {
        const d = ringsPath([g.area.outline, ...(g.area.holes ?? [])]);
        for (const path of [fill, hatch, edge]) attr(path, { d });
        const goes = g.area.status === "remove";
        attr(removal, { d: goes ? d : "" });
        const sign = hatchOf(g.area);
        hatch.style.fill = sign ? `url(#${hatchID(sign)})` : "none";
        removal.style.fill = goes ? `url(#${hatchID("remove")})` : "none";
        el.dataset.kind = g.area.kind;
        el.dataset.watering = g.area.watering ?? "overhead";
        el.classList.toggle("locked", g.area.locked ?? false);
        el.classList.toggle("gone", g.area.status === "remove");
      }
      before = g;
    },
  };
}

function nameRow(): Row<Ground> {
  const text = s("text", { class: "area-name" });
  const el = s("g", {}, s("g", { class: "fixed" }, text));
  let before: Area | null = null;
  return {
    el,
    update({ area }) {
      if (before === area) return;
      before = area;
      attr(el, { transform: translate(labelPlace(area).at) });
      setText(text, area.name);
    },
  };
}

/** A dashed line on a pale one, so that it shows on every colour of the map. */
function gapRow(): Row<Gap> {
  const under = s("path", { class: "gap-under" });
  const line = s("path", { class: "gap" });
  const title = s("title");
  const el = s("g", {}, title, under, line);
  return {
    el,
    update(g) {
      const d = g.outline.map((ring) => pointsPath(ring, true)).join("");
      attr(under, { d });
      attr(line, { d });
      setText(title, g.text);
    },
  };
}

// Heads: the outline of what each wets, and its mark with the zone's shape and
// number. Only the heads that changed are touched, so a drag among hundreds
// costs one.

import { type Row, Rows, setText } from "../dom";
import { find, type Head, type Nozzle, ref } from "../model";
import { headAt, patternOf, throwOf } from "../pattern";
import { zonesInOrder } from "../zoning";
import { looseMark, ZONE_COLOURS, zoneShape } from "./marks";
import { offTargetHeads, speechOf, zoneNumber } from "./speech";
import { attr, patternPath, s, translate } from "./svg";
import { type Shown, thing } from "./thing";

interface Zoned {
  readonly shape: number;
  readonly number: number;
}

interface Item {
  readonly id: string;
  readonly head: Head;
  readonly nozzle: Nozzle | undefined;
  readonly throwFt: number;
  readonly zone: Zoned | null;
  readonly off: boolean;
  readonly shown: Shown;
}

export class Heads {
  readonly wedges = s("g", { class: "wedges", "aria-hidden": "true" });
  readonly el = s("g", { class: "heads" });
  readonly #marks: Rows<Item>;
  readonly #wedges: Rows<Item>;

  constructor() {
    this.#marks = new Rows<Item>(this.el, (i) => i.id, markRow);
    this.#wedges = new Rows<Item>(this.wedges, (i) => i.id, wedgeRow);
  }

  show(shown: Shown): void {
    const { plan, design } = shown;
    const zones = new Map(zonesInOrder(plan).map((id, i): [string, Zoned] => [id, { shape: i, number: zoneNumber(plan, id) }]));
    const off = offTargetHeads(design);
    const items = Object.keys(plan.heads ?? {})
      .sort()
      .map((id): Item => {
        const head = (plan.heads as Record<string, Head>)[id] as Head;
        const nozzle = find(plan, "nozzles", head.nozzle);
        const throwFt = throwOf(head, nozzle, design, id);
        return { id, head, nozzle, throwFt, zone: zones.get(head.zone ?? "") ?? null, off: off.has(id), shown };
      });
    this.#wedges.show(items);
    this.#marks.show(items);
  }
}

const sameLook = (a: Item | null, b: Item): boolean =>
  a !== null &&
  a.head === b.head &&
  a.nozzle === b.nozzle &&
  a.throwFt === b.throwFt &&
  a.off === b.off &&
  a.zone?.shape === b.zone?.shape &&
  a.zone?.number === b.zone?.number;

function wedgeRow(): Row<Item> {
  const path = s("path", { class: "wedge" });
  let before: Item | null = null;
  return {
    el: path,
    update(i) {
      const r = ref("heads", i.id);
      if (!sameLook(before, i)) {
        attr(path, { d: patternPath(patternOf(i.head, i.nozzle, i.throwFt), headAt(i.head)) });
        path.classList.toggle("gone", i.head.status === "remove");
      }
      path.classList.toggle("selected", i.shown.selection.has(r));
      path.classList.toggle("hovered", i.shown.hover === r);
      before = i;
    },
  };
}

function markRow(): Row<Item> {
  const halo = s("circle", { class: "ring", r: 15 });
  const shape = s("path", { class: "mark" });
  const number = s("text", { class: "mark-number", y: 4 });
  const cross = s("path", { class: "mark-gone", d: "M-8 -8L8 8M8 -8L-8 8" });
  const flag = s("path", { class: "mark-off", d: "M9 -15L14 -6H4ZM9 -12V-9" });
  const tag = s("text", { class: "tag", x: 13, y: -8 });
  const el = s("g", { role: "button", tabindex: -1 }, s("g", { class: "fixed" }, halo, shape, number, cross, flag, tag));
  let before: Item | null = null;
  return {
    el,
    update(i) {
      const changed = !sameLook(before, i);
      thing(el, ref("heads", i.id), i.shown, () => speechOf(i.shown.plan, ref("heads", i.id), i.shown.design), changed);
      if (changed) {
        attr(el, { transform: translate(headAt(i.head)) });
        attr(shape, { d: i.zone ? zoneShape(i.zone.shape).d : looseMark });
        el.dataset.zone = i.zone ? String((i.zone.shape % ZONE_COLOURS) + 1) : "";
        el.dataset.status = i.head.status ?? "new";
        el.classList.toggle("head", true);
        el.classList.toggle("off-target", i.off);
        el.classList.toggle("locked", i.head.locked ?? false);
        setText(number, i.zone ? String(i.zone.number) : "");
        setText(tag, i.head.tag ?? "");
      }
      before = i;
    },
  };
}

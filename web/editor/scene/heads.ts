// Heads: the outline of what each wets, and its mark with the zone's shape and
// number. Only the heads that changed are touched, so a drag among hundreds
// costs one.

import { type Row, Rows, setText } from "../dom";
import { find, type Head, ids, type Nozzle, ref } from "../model";
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
  readonly selected: boolean;
  readonly hovered: boolean;
  readonly stop: boolean;
  readonly lifted: boolean;
  readonly shown: Shown;
}

/** The ids of heads drawn apart while a gesture moves them. */
export type Lifted = ReadonlySet<string>;
export const noneLifted: Lifted = new Set();

export class Heads {
  readonly wedges = s("g", { class: "wedges", "aria-hidden": "true" });
  readonly el = s("g", { class: "heads" });
  /** Copies of the heads being moved, for the layer above. */
  readonly lifted = s("g");
  readonly #marks: Rows<Item>;
  readonly #wedges: Rows<Item>;
  readonly #upMarks: Rows<Item>;
  readonly #upWedges: Rows<Item>;

  constructor() {
    const [wedges, marks] = [s("g", { class: "wedges" }), s("g", { class: "heads" })];
    this.lifted.append(wedges, marks);
    this.#marks = new Rows<Item>(
      this.el,
      (i) => i.id,
      () => markRow(true),
    );
    this.#wedges = new Rows<Item>(this.wedges, (i) => i.id, wedgeRow);
    this.#upMarks = new Rows<Item>(
      marks,
      (i) => i.id,
      () => markRow(false),
    );
    this.#upWedges = new Rows<Item>(wedges, (i) => i.id, wedgeRow);
  }

  show(shown: Shown, lifted: Lifted): void {
    const items = itemsOf(shown, lifted);
    const up = items.filter((i) => i.lifted).map((i) => ({ ...i, lifted: false }));
    this.#upWedges.show(up);
    this.#upMarks.show(up);
    this.#wedges.show(items);
    this.#marks.show(items);
  }
}

function itemsOf(shown: Shown, lifted: Lifted): Item[] {
  const { plan, design, selection } = shown;
  const zones = new Map(
    zonesInOrder(plan).map((id, i): [string, Zoned] => [id, { shape: i, number: zoneNumber(plan, id) }]),
  );
  const off = offTargetHeads(design);
  return ids(plan, "heads").map((id): Item => {
    const head = (plan.heads as Record<string, Head>)[id] as Head;
    const nozzle = find(plan, "nozzles", head.nozzle);
    const r = ref("heads", id);
    return {
      id,
      head,
      nozzle,
      throwFt: throwOf(head, nozzle, design, id),
      zone: zones.get(head.zone ?? "") ?? null,
      off: off.has(id),
      selected: selection.has(r),
      hovered: shown.hover === r,
      stop: shown.stop === r,
      lifted: lifted.has(id),
      shown,
    };
  });
}

/** Whether a head is drawn as before. */
const sameLook = (a: Item | null, b: Item): boolean =>
  a !== null &&
  a.head === b.head &&
  a.nozzle === b.nozzle &&
  a.throwFt === b.throwFt &&
  a.off === b.off &&
  a.zone?.shape === b.zone?.shape &&
  a.zone?.number === b.zone?.number;

const sameState = (a: Item | null, b: Item): boolean =>
  a !== null && a.selected === b.selected && a.hovered === b.hovered && a.stop === b.stop;

/** What is lifted stays below as it was, unseen, so that its focus and name stay. */
function setAside(el: Element, before: Item | null, i: Item): boolean {
  const aside = i.lifted && before !== null;
  el.classList.toggle("lifted", aside);
  return aside;
}

function wedgeRow(): Row<Item> {
  const path = s("path", { class: "wedge" });
  let before: Item | null = null;
  return {
    el: path,
    update(i) {
      if (setAside(path, before, i)) return;
      if (!sameLook(before, i)) {
        attr(path, { d: patternPath(patternOf(i.head, i.nozzle, i.throwFt), headAt(i.head)) });
        path.classList.toggle("gone", i.head.status === "remove");
      }
      if (!sameState(before, i)) {
        path.classList.toggle("selected", i.selected);
        path.classList.toggle("hovered", i.hovered);
      }
      before = i;
    },
  };
}

/** named: with a name and a place in the order of Tab; else only its looks. */
function markRow(named: boolean): Row<Item> {
  const shape = s("path", { class: "mark" });
  const inner = s("g", { class: "fixed" }, shape);
  const el = s("g", named ? { role: "button", tabindex: -1 } : {}, inner);
  const part = parts(inner);
  let before: Item | null = null;
  return {
    el,
    update(i) {
      if (setAside(el, before, i)) return;
      const changed = !sameLook(before, i);
      if (changed || !sameState(before, i)) {
        const r = ref("heads", i.id);
        if (named) thing(el, r, i.shown, () => speechOf(i.shown.plan, r, i.shown.design), changed);
        part("ring", i.selected || i.hovered || i.stop, () => s("circle", { class: "ring", r: 15 }));
        el.classList.toggle("selected", i.selected);
        el.classList.toggle("hovered", i.hovered);
      }
      if (changed) {
        attr(el, { transform: translate(headAt(i.head)) });
        attr(shape, { d: i.zone ? zoneShape(i.zone.shape).d : looseMark });
        el.dataset.zone = i.zone ? String((i.zone.shape % ZONE_COLOURS) + 1) : "";
        el.dataset.status = i.head.status ?? "new";
        el.classList.add("head");
        el.classList.toggle("locked", i.head.locked ?? false);
        part(
          "number",
          i.zone !== null,
          () => s("text", { class: "mark-number", y: 4 }),
          String(i.zone?.number ?? ""),
        );
        part("gone", i.head.status === "remove", () =>
          s("path", { class: "mark-gone", d: "M-8 -8L8 8M8 -8L-8 8" }),
        );
        part("off", i.off, () => s("path", { class: "mark-off", d: "M-9 -16L-4 -7H-14ZM-9 -13V-10" }));
        part("tag", Boolean(i.head.tag), () => s("text", { class: "tag", x: 13, y: -8 }), i.head.tag);
      }
      before = i;
    },
  };
}

/** Parts that only some heads have: made when wanted and taken away when not, since hundreds of marks add up. */
function parts(parent: SVGGElement) {
  const made = new Map<string, SVGElement>();
  return (name: string, wanted: boolean, make: () => SVGElement, text?: string): void => {
    let el = made.get(name);
    if (!wanted) {
      el?.remove();
      made.delete(name);
      return;
    }
    if (!el) {
      el = make();
      made.set(name, el);
      if (name === "ring") parent.prepend(el);
      else parent.append(el);
    }
    if (text !== undefined) setText(el, text);
  };
}

// Heads: the outline of what each wets, and its mark with the zone's shape and
// number. Only the heads that changed are touched, so a drag among hundreds
// costs one.

import type { HeadReading } from "../design";
import { type Row, Rows, setText } from "../dom";
import { find, type Head, ids, type Nozzle, ref } from "../model";
import { headAt, patternOf, throwOf } from "../pattern";
import { toPixel, type View } from "../view";
import { zonesInOrder } from "../zoning";
import { looseMark, movedMark, ZONE_COLOURS, zoneShape } from "./marks";
import { offTargetHeads, speechOf, zoneNumber } from "./speech";
import { attr, patternPath, s } from "./svg";
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
  /** What its pressure is with its zone running. */
  readonly state: HeadReading["state"];
  readonly selected: boolean;
  readonly hovered: boolean;
  readonly stop: boolean;
  readonly lifted: boolean;
  /** The view the mark is placed for. */
  readonly view: View;
  readonly shown: Shown;
}

/** The ids of heads drawn apart while a gesture moves them. */
export type Lifted = ReadonlySet<string>;
export const noneLifted: Lifted = new Set();

/** How long the heads that stand still may go without a look during a gesture, in ms. */
const REST_MS = 200;

export class Heads {
  readonly wedges = s("g", { class: "wedges", "aria-hidden": "true" });
  /** Marks, in pixels of the view the picture was drawn for. */
  readonly el = s("g", { class: "heads" });
  /** Copies of the heads being moved, for the layer above: wedges in feet, marks in pixels. */
  readonly upWedges = s("g", { class: "wedges" });
  readonly upMarks = s("g", { class: "heads" });
  readonly #marks: Rows<Item>;
  readonly #wedges: Rows<Item>;
  readonly #liftedMarks: Rows<Item>;
  readonly #liftedWedges: Rows<Item>;
  #rested: { lifted: Lifted; base: View; selection: Shown["selection"]; at: number } | null = null;

  constructor() {
    this.#marks = new Rows<Item>(
      this.el,
      (i) => i.id,
      () => markRow(true),
    );
    this.#wedges = new Rows<Item>(this.wedges, (i) => i.id, wedgeRow);
    this.#liftedMarks = new Rows<Item>(
      this.upMarks,
      (i) => i.id,
      () => markRow(false),
    );
    this.#liftedWedges = new Rows<Item>(this.upWedges, (i) => i.id, wedgeRow);
  }

  /** base: the view the picture was drawn for; view: the one on show; now: milliseconds on a steady clock. */
  show(shown: Shown, lifted: Lifted, base: View, view: View, now: number): void {
    const up = itemsOf(shown, [...lifted], noneLifted, view);
    this.#liftedWedges.show(up);
    this.#liftedMarks.show(up);
    if (this.#mayRest(shown, lifted, base, now)) return;
    this.#rested = { lifted, base, selection: shown.selection, at: now };
    const items = itemsOf(shown, ids(shown.plan, "heads"), lifted, base);
    this.#wedges.show(items);
    this.#marks.show(items);
  }

  /** While a gesture moves some heads, the others need not be looked at in every frame. */
  #mayRest(shown: Shown, lifted: Lifted, base: View, now: number): boolean {
    const r = this.#rested;
    if (!r || lifted.size === 0 || now - r.at > REST_MS) return false;
    const same = lifted.size === r.lifted.size && [...lifted].every((id) => r.lifted.has(id));
    return same && r.base === base && r.selection === shown.selection;
  }
}

function itemsOf(shown: Shown, which: readonly string[], lifted: Lifted, view: View): Item[] {
  const { plan, design, selection } = shown;
  const zones = new Map(
    zonesInOrder(plan).map((id, i): [string, Zoned] => [id, { shape: i, number: zoneNumber(plan, id) }]),
  );
  const off = offTargetHeads(design);
  return which.map((id): Item => {
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
      state: design?.heads[id]?.state,
      selected: selection.has(r),
      hovered: shown.hover === r,
      stop: shown.stop === r,
      lifted: lifted.has(id),
      view,
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
  a.state === b.state &&
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
  const el = s("g", named ? { role: "button", tabindex: -1 } : {}, shape);
  const part = extras(el);
  let before: Item | null = null;
  return {
    el,
    update(i) {
      if (setAside(el, before, i)) return;
      const changed = !sameLook(before, i);
      const state = !sameState(before, i);
      if (!changed && !state && before?.view === i.view) return;
      if (changed || state) tell(el, i, named, changed);
      draw(i, shape, part);
      before = i;
    },
  };
}

/** Names, classes and what Tab needs. */
function tell(el: SVGGElement, i: Item, named: boolean, changed: boolean): void {
  const r = ref("heads", i.id);
  if (named) thing(el, r, i.shown, () => speechOf(i.shown.plan, r, i.shown.design), changed);
  el.classList.toggle("selected", i.selected);
  el.classList.toggle("hovered", i.hovered);
  if (!changed) return;
  el.dataset.zone = i.zone ? String((i.zone.shape % ZONE_COLOURS) + 1) : "";
  el.classList.add("head");
  el.classList.toggle("locked", i.head.locked ?? false);
}

/** Below this many pixels a foot marks shrink, so that a whole park is not a heap of marks. */
const FULL_MARKS_FROM = 4;

export const markScale = (pixelsPerFoot: number): number =>
  pixelsPerFoot >= FULL_MARKS_FROM ? 1 : Math.max(0.45, pixelsPerFoot / FULL_MARKS_FROM);

const gone = "M-8 -8L8 8M8 -8L-8 8";
const warning = "M-9 -16L-4 -7L-14 -7ZM-9 -13L-9 -10";

/** Too little pressure points down, too much up; below and left, where no other sign is. */
export const pressureSigns = {
  low: "M-4 12A7 7 0 1 1 -18 12A7 7 0 1 1 -4 12ZM-11 8L-11 16M-14 13L-11 16M-8 13L-11 16",
  high: "M-4 12A7 7 0 1 1 -18 12A7 7 0 1 1 -4 12ZM-11 16L-11 8M-14 11L-11 8M-8 11L-11 8",
} as const;

/** The mark and what goes with it, in pixels of the view. */
function draw(i: Item, shape: SVGPathElement, part: Extras): void {
  const { px, py } = toPixel(i.view, headAt(i.head));
  const k = markScale(i.view.scale);
  attr(shape, { d: movedMark(i.zone ? zoneShape(i.zone.shape).d : looseMark, px, py, k) });
  const path = (name: string, wanted: boolean, d: string) =>
    part(name, wanted, "path", `mark-${name}`, () => ({ d: movedMark(d, px, py, k) }));
  const text = (name: string, words: string, dx: number, dy: number) =>
    part(name, words !== "", "text", name, () => ({ x: px + dx * k, y: py + dy * k }), words);
  part("ring", i.selected || i.hovered || i.stop, "circle", "ring", () => ({ cx: px, cy: py, r: 15 * k }));
  text("mark-number", i.zone ? String(i.zone.number) : "", 0, 4);
  path("gone", i.head.status === "remove", gone);
  path("off", i.off, warning);
  path("starved", i.state === "starved", pressureSigns.low);
  path("low", i.state === "low", pressureSigns.low);
  path("high", i.state === "high", pressureSigns.high);
  text("tag", i.head.tag ?? "", 13, -8);
}

type Extras = (
  name: string,
  wanted: boolean,
  tag: "path" | "circle" | "text",
  className: string,
  attrs: () => Record<string, string | number>,
  words?: string,
) => void;

/** Parts that only some heads have: made when wanted and taken away when not, since hundreds of marks add up. */
function extras(parent: SVGGElement): Extras {
  const made = new Map<string, SVGElement>();
  return (name, wanted, tag, className, attrs, words) => {
    let el = made.get(name);
    if (!wanted) {
      el?.remove();
      made.delete(name);
      return;
    }
    if (!el) {
      el = s(tag, { class: className, "aria-hidden": "true" }); // said by the name
      made.set(name, el);
      if (name === "ring") parent.prepend(el);
      else parent.append(el);
    }
    attr(el, attrs());
    if (words !== undefined) setText(el, words);
  };
}

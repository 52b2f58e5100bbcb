// What lies over the plan in pixels: handles, the draft and its numbers, the
// snap sign, guide rays, the crosshair and the dragged box.

import { type Row, Rows, setText } from "../dom";
import { distance, type Point, polar } from "../geometry";
import { type Grip, gripKey } from "../grips";
import type { Held } from "../holds";
import type { Snap, SnapKind } from "../snap";
import { snapNames } from "../snap";
import type { Sketch, SketchLabel } from "../tools/tool";
import { type Pixel, toPixel, type View } from "../view";
import { attr, circlePath, outlinePath, patternPath, s } from "./svg";

export interface Over {
  readonly view: View;
  readonly sketch: Sketch;
  readonly grips: readonly Grip[];
  /** The handle the arrows move. */
  readonly inHand: Grip | null;
  readonly snap: Snap | null;
  readonly ray: { readonly from: Point; readonly held: Held } | null;
  readonly crosshair: Point | null;
}

/** The sign of each kind of snap: no two alike in shape. Pixels, the place at 0, 0. */
const signs: Readonly<Record<SnapKind, string>> = {
  end: "M-6 -6H6V6H-6Z",
  self: "M-6 -6H6V6H-6ZM-2.5 -2.5H2.5V2.5H-2.5Z",
  crossing: "M-6 -6L6 6M6 -6L-6 6",
  middle: "M0 -7L7 5H-7Z",
  centre: "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0ZM0 -2V2M-2 0H2",
  square: "M-6 -6V6H6M-6 0H0V6",
  edge: "M-6 -6H6L-6 6H6Z",
  inline: "M-8 0H-3M3 0H8M0 -8V-3M0 3V8",
  grid: "M-4 0H4M0 -4V4",
};

export class Overlay {
  /** The draft, in feet. */
  readonly world = s("g", { class: "draft", "aria-hidden": "true" });
  /** The rest, in pixels. */
  readonly el = s("g", { class: "over", "aria-hidden": "true" });
  readonly #line = s("path", { class: "draft-line" });
  readonly #guides = s("path", { class: "draft-guide" });
  readonly #ghost = s("path", { class: "draft-ghost" });
  readonly #ray = s("path", { class: "ray" });
  readonly #box = s("rect", { class: "pick-box" });
  readonly #dots = s("path", { class: "draft-dots" });
  readonly #sign = s("path", { class: "snap-sign" });
  readonly #signText = s("text", { class: "snap-text" });
  readonly #cross = s("path", { class: "crosshair" });
  readonly #grips: Rows<Placed<Grip>>;
  readonly #labels: Rows<Placed<SketchLabel>>;

  constructor() {
    const grips = s("g", { class: "grips" });
    const labels = s("g", { class: "draft-labels" });
    this.world.append(this.#ghost, this.#guides, this.#line);
    this.el.append(this.#ray, this.#box, this.#dots, grips, labels, this.#cross, this.#sign, this.#signText);
    this.#grips = new Rows<Placed<Grip>>(grips, (p) => gripKey(p.it), gripRow);
    this.#labels = new Rows<Placed<SketchLabel>>(labels, (_, i) => String(i), labelRow);
  }

  show(o: Over): void {
    const px = (p: Point): Pixel => toPixel(o.view, p);
    this.#draft(o, px);
    this.#grips.show(
      o.grips.map((it) => ({
        it,
        at: px(it.at),
        marked: o.inHand ? gripKey(o.inHand) === gripKey(it) : false,
      })),
    );
    const ghost = o.sketch.ghost;
    const named = ghost ? [{ at: ghost.at, text: ghost.text }] : [];
    this.#labels.show(
      [...(o.sketch.labels ?? []), ...named].map((it) => ({ it, at: labelAt(it, px), marked: false })),
    );
    this.#pointing(o, px);
  }

  #draft(o: Over, px: (p: Point) => Pixel): void {
    const { line, closed, faulty, dots, ghost, box } = o.sketch;
    attr(this.#line, { d: line && line.length > 1 ? outlinePath(line, closed ?? false) : "" });
    this.#line.classList.toggle("closed", closed ?? false);
    this.#line.classList.toggle("faulty", faulty ?? false);
    attr(this.#ghost, { d: ghost ? patternPath(ghost.pattern, ghost.at) : "" });
    attr(this.#guides, { d: guidePath(o.sketch) });
    const shown = [...(dots ?? []), ...(ghost ? [ghost.at] : [])].map(px);
    attr(this.#dots, { d: shown.map((d) => `M${d.px - 3} ${d.py - 3}h6v6h-6Z`).join("") });
    this.#box.classList.toggle("crossing", box ? box.to[0] < box.from[0] : false);
    const [a, b] = box ? [px(box.from), px(box.to)] : [px([0, 0]), px([0, 0])];
    attr(this.#box, {
      x: Math.min(a.px, b.px),
      y: Math.min(a.py, b.py),
      width: Math.abs(a.px - b.px),
      height: Math.abs(a.py - b.py),
      visibility: box ? null : "hidden",
    });
  }

  #pointing(o: Over, px: (p: Point) => Pixel): void {
    attr(this.#ray, { d: o.ray ? rayPath(o.ray.from, o.ray.held, o.view, px) : "" });
    const at = o.snap ? px(o.snap.at) : null;
    attr(this.#sign, {
      d: o.snap ? signs[o.snap.kind] : "",
      transform: at ? `translate(${at.px} ${at.py})` : null,
    });
    attr(this.#signText, { x: at ? at.px + 12 : 0, y: at ? at.py + 20 : 0 });
    setText(this.#signText, o.snap && o.snap.kind !== "grid" ? snapNames[o.snap.kind] : "");
    const c = o.crosshair ? px(o.crosshair) : null;
    attr(this.#cross, { d: c ? `M${c.px - 22} ${c.py}H${c.px + 22}M${c.px} ${c.py - 22}V${c.py + 22}` : "" });
  }
}

/** What is measured by: lines, and the circles tapes can swing. */
function guidePath({ guides, rings }: Sketch): string {
  const lines = (guides ?? []).map(({ a, b }) => outlinePath([a, b], false));
  return [...lines, ...(rings ?? []).map((r) => circlePath(r.at, r.radius))].join("");
}

interface Placed<T> {
  readonly it: T;
  readonly at: Pixel;
  readonly marked: boolean;
}

/** A ray right across the board, through its anchor. */
function rayPath(from: Point, held: Held, view: View, px: (p: Point) => Pixel): string {
  const far = (view.width + view.height) / view.scale + distance(from, held.at);
  const [a, b] = [px(polar(from, held.deg + 180, far * 0.02)), px(polar(from, held.deg, far))];
  return `M${a.px.toFixed(1)} ${a.py.toFixed(1)}L${b.px.toFixed(1)} ${b.py.toFixed(1)}`;
}

/** Beside the middle of an edge, on its outer side as far as that can be told; else above the place. */
function labelAt(l: SketchLabel, px: (p: Point) => Pixel): Pixel {
  const at = px(l.at);
  if (!l.along) return { px: at.px, py: at.py - 16 };
  const [a, b] = [px(l.along.a), px(l.along.b)];
  const len = Math.hypot(b.px - a.px, b.py - a.py) || 1;
  // The right of the way it was drawn lies outside an outline drawn anticlockwise.
  const right = { px: -(b.py - a.py) / len, py: (b.px - a.px) / len };
  // Beside an upright edge the text needs half its own width of room.
  const side = 14 + Math.abs(right.px) * l.text.length * 3.2;
  return { px: at.px + right.px * side, py: at.py + right.py * side };
}

/** Handles of a head are round, corners square, middles small diamonds. */
const gripShapes: Readonly<Record<Grip["kind"], string>> = {
  corner: "M-5 -5H5V5H-5Z",
  middle: "M0 -5L5 0L0 5L-5 0Z",
  body: "",
  start: "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0Z",
  end: "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0ZM-2 0H2",
  throw: "M0 -7L6 3H-6Z",
  radius: "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0Z",
};

function gripRow(p: Placed<Grip>): Row<Placed<Grip>> {
  const shape = s("path", { class: "grip-shape", d: gripShapes[p.it.kind] });
  const el = s("g", { class: `grip grip-${p.it.kind}` }, shape);
  return {
    el,
    update({ at, marked }) {
      attr(el, { transform: `translate(${at.px.toFixed(2)} ${at.py.toFixed(2)})` });
      el.classList.toggle("in-hand", marked);
    },
  };
}

function labelRow(): Row<Placed<SketchLabel>> {
  const text = s("text", { class: "draft-label" });
  return {
    el: text,
    update({ it, at }) {
      attr(text, { x: at.px.toFixed(1), y: (at.py + 4).toFixed(1) });
      setText(text, it.text);
    },
  };
}

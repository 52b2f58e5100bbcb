// Walls, fences and hedges, trees, keep-dry points and notes.

import { edgeMiddle } from "../arcs";
import { type Row, Rows, setText } from "../dom";
import { lengthText } from "../format";
import { distance, type Point } from "../geometry";
import { type Barrier, type KeepDry, type Note, type Ref, ref, type Tree } from "../model";
import { type Edge, lineEdges } from "../shape";
import { speechOf } from "./speech";
import { attr, circlePath, outlinePath, s, translate } from "./svg";
import { type Shown, thing } from "./thing";

/** The marks, in pixels, y down. */
export const objectMarks = {
  tree: "M0 -7A7 7 0 1 1 -.01 -7M0 -4V4M-4 0H4",
  dry: "M0 -9L8.5 6.5H-8.5ZM0 -4V1.5M0 4h.01",
  note: "M-7 -8H7V4L2 9H-7ZM2 9V4H7M-4 -4H4M-4 0H2",
} as const;

interface Item<T> {
  readonly id: string;
  readonly it: T;
  readonly shown: Shown;
}

export class Objects {
  readonly el = s("g", { class: "objects" });
  readonly #trees: Rows<Item<Tree>>;
  readonly #barriers: Rows<Item<Barrier>>;
  readonly #dry: Rows<Item<KeepDry>>;
  readonly #notes: Rows<Item<Note>>;

  constructor() {
    const group = (name: string): SVGGElement => {
      const g = s("g", { class: name });
      this.el.append(g);
      return g;
    };
    this.#trees = new Rows<Item<Tree>>(group("trees"), (i) => i.id, treeRow);
    this.#barriers = new Rows<Item<Barrier>>(group("barriers"), (i) => i.id, barrierRow);
    this.#dry = new Rows<Item<KeepDry>>(group("keep-dry"), (i) => i.id, dryRow);
    this.#notes = new Rows<Item<Note>>(group("notes"), (i) => i.id, noteRow);
  }

  show(shown: Shown): void {
    const { trees, barriers, keep_dry, notes } = shown.plan;
    this.#trees.show(list(trees, shown));
    this.#barriers.show(list(barriers, shown));
    this.#dry.show(list(keep_dry, shown));
    this.#notes.show(list(notes, shown));
  }
}

function list<T>(all: Record<string, T> | undefined, shown: Shown): Item<T>[] {
  return Object.keys(all ?? {})
    .sort()
    .map((id) => ({ id, it: all?.[id] as T, shown }));
}

/** A row that draws itself again only when its thing changed. */
function row<T>(el: SVGGElement, of: (id: string) => Ref, draw: (it: T, shown: Shown) => void): Row<Item<T>> {
  attr(el, { role: "button", tabindex: -1 });
  let before: T | null = null;
  let units = "";
  return {
    el,
    update({ id, it, shown }) {
      const r = of(id);
      const changed = before !== it || units !== shown.plan.show;
      thing(el, r, shown, () => speechOf(shown.plan, r, shown.design), changed);
      units = shown.plan.show;
      if (changed) {
        draw(it, shown);
        el.classList.toggle("locked", (it as { locked?: boolean }).locked ?? false);
      }
      before = it;
    },
  };
}

const spot = (t: { x_ft: number; y_ft: number }): Point => [t.x_ft, t.y_ft];

/** The middle of the longest stretch of a line. */
function middleOfLine(line: Barrier["line"]): Point {
  const all = lineEdges(line);
  const longest = all.reduce((b, e) => (distance(e.a, e.b) > distance(b.a, b.b) ? e : b), all[0] as Edge);
  return edgeMiddle(longest.a, longest.b, longest.bulge);
}

function barrierRow(): Row<Item<Barrier>> {
  const back = s("path", { class: "grasp" });
  const line = s("path", { class: "barrier-line" });
  const posts = s("path", { class: "barrier-posts" });
  const high = s("text", { class: "tie-text", "aria-hidden": "true", y: -8 });
  const at = s("g", {}, s("g", { class: "fixed" }, high));
  const el = s("g", { class: "barrier" }, back, line, posts, at);
  return row<Barrier>(
    el,
    (id) => ref("barriers", id),
    (b, shown) => {
      attr(at, { transform: translate(middleOfLine(b.line)) });
      setText(high, `${lengthText(b.height_ft, shown.plan.show)} high`);
      const d = outlinePath(b.line, false);
      for (const path of [back, line, posts]) attr(path, { d });
      el.dataset.kind = b.kind ?? "fence";
      el.classList.toggle("gone", b.status === "remove");
    },
  );
}

function treeRow(): Row<Item<Tree>> {
  const roots = s("path", { class: "roots" });
  const trunk = s("path", { class: "trunk" });
  const bark = s("g", { class: "fixed" }, s("path", { class: "tree-mark", d: objectMarks.tree }));
  const el = s("g", { class: "tree" }, roots, trunk, bark);
  return row<Tree>(
    el,
    (id) => ref("trees", id),
    (t) => {
      attr(el, { transform: translate(spot(t)) });
      attr(roots, { d: t.root_zone_ft ? circlePath([0, 0], t.root_zone_ft) : "" });
      attr(trunk, { d: circlePath([0, 0], Math.max(t.trunk_in, 1) / 24) });
      el.classList.toggle("gone", t.status === "remove");
    },
  );
}

/** The usual radius of a keep-dry point, in feet, when none is given. */
const DRY_FT = 1.5;

function dryRow(): Row<Item<KeepDry>> {
  const ring = s("path", { class: "dry-ring" });
  const mark = s("g", { class: "fixed" }, s("path", { class: "dry-mark", d: objectMarks.dry }));
  const el = s("g", { class: "dry" }, ring, mark);
  return row<KeepDry>(
    el,
    (id) => ref("keep_dry", id),
    (k) => {
      attr(el, { transform: translate(spot(k)) });
      attr(ring, { d: circlePath([0, 0], k.radius_ft ?? DRY_FT) });
    },
  );
}

function noteRow(): Row<Item<Note>> {
  const text = s("text", { class: "note-text", x: 13, y: 4, "aria-hidden": "true" }); // said whole by the name
  const pin = s("path", { class: "note-mark", d: objectMarks.note });
  const el = s("g", { class: "note" }, s("g", { class: "fixed" }, pin, text));
  return row<Note>(
    el,
    (id) => ref("notes", id),
    (n) => {
      attr(el, { transform: translate(spot(n)) });
      setText(text, n.text.length > 40 ? `${n.text.slice(0, 39)}…` : n.text);
    },
  );
}

// A grid of buckets over the edges and points of a plan, so that a snap looks
// only at what is near the pointer. Built once a document, read many times.

import { type Arc, arcOf, edgeMiddle, nearestOnArc } from "./arcs";
import { type Bounds, distance, nearestOnSegment, type Point } from "./geometry";
import { ids, items, type Pipe, type Plan, type Ref, ref } from "./model";
import { standsApart } from "./pipenet";
import { type Corner, edges, lineEdges, place } from "./shape";
import { pipeLine, placed, ringsOf } from "./things";

/** A piece of the plan to snap to, and where in its thing it is. */
export interface Source {
  readonly ref: Ref;
  /** 0: the outline or line; n: the nth hole. */
  readonly ring: number;
  /** The corner, or the corner the edge leaves. */
  readonly index: number;
}

export interface SnapEdge extends Source {
  readonly a: Point;
  readonly b: Point;
  readonly arc: Arc | null;
  readonly mid: Point;
}

export interface SnapPoint extends Source {
  readonly at: Point;
  readonly kind: "end" | "centre";
}

export interface Shapes {
  readonly edges: readonly SnapEdge[];
  readonly points: readonly SnapPoint[];
}

/** Everything on a plan that can be snapped to, in a fixed order. */
export function shapesOf(plan: Plan): Shapes {
  const out: { edges: SnapEdge[]; points: SnapPoint[] } = { edges: [], points: [] };
  for (const id of ids(plan, "areas")) {
    const a = items(plan, "areas")[id];
    for (const [n, ring] of [a?.outline ?? [], ...(a?.holes ?? [])].entries()) {
      addRing(out, ref("areas", id), ring, n, true);
    }
  }
  for (const id of ids(plan, "barriers")) {
    addRing(out, ref("barriers", id), items(plan, "barriers")[id]?.line ?? [], 0, false);
  }
  if (plan.site?.lot) addRing(out, "site/lot", plan.site.lot, 0, true);
  for (const c of ["ties", "sleeves", "wires"] as const) {
    for (const id of ids(plan, c)) addRing(out, ref(c, id), ringsOf(plan, ref(c, id))[0] ?? [], 0, false);
  }
  for (const id of ids(plan, "pipes")) {
    const line = pipeLine(plan, items(plan, "pipes")[id] as Pipe);
    addRing(out, ref("pipes", id), line, 0, "inner"); // its ends are nodes, or what stands there
  }
  for (const c of placed) {
    for (const id of ids(plan, c)) {
      if (c === "nodes" && !standsApart(plan, id)) continue; // its head or valve is there
      const t = items(plan, c)[id];
      if (t) out.points.push({ at: [t.x_ft, t.y_ft], kind: "centre", ref: ref(c, id), ring: 0, index: 0 });
    }
  }
  return out;
}

function addRing(
  out: { edges: SnapEdge[]; points: SnapPoint[] },
  of: Ref,
  corners: readonly Corner[],
  ring: number,
  closed: boolean | "inner",
): void {
  for (const [index, c] of corners.entries()) {
    if (closed === "inner" && (index === 0 || index === corners.length - 1)) continue;
    out.points.push({ at: place(c), kind: "end", ref: of, ring, index });
  }
  (closed === true ? edges(corners) : lineEdges(corners)).forEach((e, index) => {
    const arc = arcOf(e.a, e.b, e.bulge);
    out.edges.push({ a: e.a, b: e.b, arc, mid: edgeMiddle(e.a, e.b, e.bulge), ref: of, ring, index });
    if (arc) out.points.push({ at: arc.centre, kind: "centre", ref: of, ring, index });
  });
}

/** The nearest place to p on an edge. */
export const nearestOnEdge = (p: Point, e: SnapEdge): Point =>
  e.arc ? nearestOnArc(p, e.arc, e.a, e.b) : nearestOnSegment(p, e.a, e.b);

/** A bounding box of an edge; an arc's is that of its whole circle. */
function boxOf(e: SnapEdge): Bounds {
  if (e.arc) {
    const { centre: c, radius: r } = e.arc;
    return { minX: c[0] - r, minY: c[1] - r, maxX: c[0] + r, maxY: c[1] + r };
  }
  return {
    minX: Math.min(e.a[0], e.b[0]),
    minY: Math.min(e.a[1], e.b[1]),
    maxX: Math.max(e.a[0], e.b[0]),
    maxY: Math.max(e.a[1], e.b[1]),
  };
}

export class SnapIndex {
  readonly #cell: number;
  readonly #edges = new Map<string, SnapEdge[]>();
  readonly #points = new Map<string, SnapPoint[]>();

  constructor(readonly shapes: Shapes) {
    this.#cell = cellFor(shapes);
    for (const e of shapes.edges) this.#addEdge(e);
    for (const p of shapes.points) {
      push(this.#points, `${Math.floor(p.at[0] / this.#cell)},${Math.floor(p.at[1] / this.#cell)}`, p);
    }
  }

  // A straight edge goes into the buckets it passes, row by row; an arc into its circle's box.
  #addEdge(e: SnapEdge): void {
    const box = boxOf(e);
    const cell = this.#cell;
    const [j0, j1] = [Math.floor(box.minY / cell), Math.floor(box.maxY / cell)];
    for (let j = j0; j <= j1; j++) {
      const [x0, x1] = e.arc ? [box.minX, box.maxX] : rowSpan(e, j * cell, (j + 1) * cell);
      for (let i = Math.floor(x0 / cell); i <= Math.floor(x1 / cell); i++) push(this.#edges, `${i},${j}`, e);
    }
  }

  /** The edges that pass within r of p (feet), each once, nearest bucket order. */
  edgesNear(p: Point, r: number): SnapEdge[] {
    const out = new Set<SnapEdge>();
    for (const key of this.#keys(p, r)) {
      for (const e of this.#edges.get(key) ?? []) if (distance(nearestOnEdge(p, e), p) <= r) out.add(e);
    }
    return [...out];
  }

  pointsNear(p: Point, r: number): SnapPoint[] {
    const out: SnapPoint[] = [];
    for (const key of this.#keys(p, r)) {
      for (const q of this.#points.get(key) ?? []) if (distance(q.at, p) <= r) out.push(q);
    }
    return out;
  }

  // When the reach covers more buckets than there are, every bucket is looked at.
  *#keys([x, y]: Point, r: number): Iterable<string> {
    const cell = this.#cell;
    const [i0, i1] = [Math.floor((x - r) / cell), Math.floor((x + r) / cell)];
    const [j0, j1] = [Math.floor((y - r) / cell), Math.floor((y + r) / cell)];
    if ((i1 - i0 + 1) * (j1 - j0 + 1) > this.#edges.size + this.#points.size) {
      yield* new Set([...this.#edges.keys(), ...this.#points.keys()]);
      return;
    }
    for (let j = j0; j <= j1; j++) for (let i = i0; i <= i1; i++) yield `${i},${j}`;
  }
}

/** Buckets about as large as a usual edge: the mean of the edges' lengths, 1 to 50 ft. */
function cellFor(s: Shapes): number {
  if (s.edges.length === 0) return 10;
  const mean = s.edges.reduce((sum, e) => sum + distance(e.a, e.b), 0) / s.edges.length;
  return Math.min(50, Math.max(1, mean));
}

/** The x range of a straight edge between two heights. */
function rowSpan(e: SnapEdge, y0: number, y1: number): [number, number] {
  const dy = e.b[1] - e.a[1];
  if (dy === 0) return [Math.min(e.a[0], e.b[0]), Math.max(e.a[0], e.b[0])];
  const at = (y: number) => {
    const t = Math.min(1, Math.max(0, (y - e.a[1]) / dy));
    return e.a[0] + (e.b[0] - e.a[0]) * t;
  };
  const [a, b] = [at(y0), at(y1)];
  return a < b ? [a, b] : [b, a];
}

function push<T>(m: Map<string, T[]>, key: string, v: T): void {
  const list = m.get(key);
  if (list) list.push(v);
  else m.set(key, [v]);
}

const made = new WeakMap<Plan, SnapIndex>();

/** The index of a document, made on first use and kept as long as the document. */
export function indexOf(plan: Plan): SnapIndex {
  const kept = made.get(plan);
  if (kept) return kept;
  const index = new SnapIndex(shapesOf(plan));
  made.set(plan, index);
  return index;
}

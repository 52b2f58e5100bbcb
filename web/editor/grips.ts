// The handles of a selected thing, and what dragging each of them does.

import { bulgeThrough, edgeMiddle } from "./arcs";
import { FEET_A_METRE } from "./conversions";
import type { Design } from "./design";
import { addCorner, moveCorner, placeThing, setBulge } from "./edit";
import { directionDeg, distance, type Point, polar } from "./geometry";
import { find, type Head, type Plan, parts, put, type Ref } from "./model";
import {
  ARC_STEP,
  ARC_STEP_COARSE,
  dragEnd,
  dragStart,
  fixedArc,
  headAt,
  setThrow,
  tableThrow,
  throwOf,
} from "./pattern";
import { type Corner, edges, lineEdges, place } from "./shape";
import { isClosed, isPlaced, isStretch, isUnbowed, ringsOf, spotOf } from "./things";

export type GripKind = "corner" | "middle" | "body" | "start" | "end" | "throw" | "radius";

export interface Grip {
  readonly kind: GripKind;
  readonly ref: Ref;
  readonly ring: number;
  readonly index: number;
  readonly at: Point;
  /** For screen readers and the status line. */
  readonly name: string;
}

/** Names a grip across changes of the plan. */
export const gripKey = (g: Grip): string => `${g.ref} ${g.kind} ${g.ring} ${g.index}`;

/** The handles of one thing, in the order the keyboard goes through them. */
export function gripsOf(p: Plan, r: Ref, design: Design | null): Grip[] {
  const [c, id] = parts(r);
  if (c === "heads") {
    const h = find(p, "heads", id);
    return h ? headGrips(p, r, id, h, design) : [];
  }
  if (isPlaced(c)) return spotGrips(p, r);
  if (c === "underlay") return []; // it is scaled and turned by what is known on it
  return ringsOf(p, r).flatMap((ring, n) => cornerGrips(r, ring, n));
}

function cornerGrips(ref: Ref, ring: readonly Corner[], n: number): Grip[] {
  const [c] = parts(ref);
  const all = isClosed(c) ? edges(ring) : isStretch(c) ? [] : lineEdges(ring);
  return ring.flatMap((at, index): Grip[] => {
    const of = n === 0 ? "" : ` of hole ${n}`;
    const corner: Grip = {
      kind: "corner",
      ref,
      ring: n,
      index,
      at: place(at),
      name: `Corner ${index + 1}${of}`,
    };
    const e = all[index];
    if (!e) return [corner];
    const mid = edgeMiddle(e.a, e.b, e.bulge);
    return [corner, { kind: "middle", ref, ring: n, index, at: mid, name: `Edge ${index + 1}${of}` }];
  });
}

/** How far out the second arc end of a full circle sits, so that it does not cover the first. */
const INNER = 0.8;

function headGrips(p: Plan, ref: Ref, id: string, h: Head, design: Design | null): Grip[] {
  const n = find(p, "nozzles", h.nozzle);
  const at = headAt(h);
  const reach = throwOf(h, n, design, id);
  const start = h.start_deg ?? 0;
  const grip = (kind: GripKind, where: Point, name: string): Grip => ({
    kind,
    ref,
    ring: 0,
    index: 0,
    at: where,
    name,
  });
  const body = grip("body", at, "Place of the head");
  if (n?.strip) return [body, grip("start", polar(at, start, reach), "Direction of the strip")];
  const sweep = h.sweep_deg || 360;
  const far = grip("throw", polar(at, start + sweep / 2, reach), "Throw");
  if (fixedArc(n)) {
    return sweep >= 360
      ? [body, far]
      : [body, grip("start", polar(at, start, reach), "Direction of the arc"), far];
  }
  const inner = sweep >= 360 ? reach * INNER : reach;
  return [
    body,
    grip("start", polar(at, start, reach), "Start of the arc"),
    grip("end", polar(at, start + sweep, inner), "End of the arc"),
    far,
  ];
}

function spotGrips(p: Plan, ref: Ref): Grip[] {
  const [c, id] = parts(ref);
  const at = spotOf(p, ref);
  if (!at) return [];
  const body: Grip = { kind: "body", ref, ring: 0, index: 0, at, name: "Place" };
  const radius = c === "trees" ? find(p, "trees", id)?.root_zone_ft : find(p, "keep_dry", id)?.radius_ft;
  if (!radius) return [body];
  const name = c === "trees" ? "Edge of the root zone" : "Edge of the dry place";
  return [body, { kind: "radius", ref, ring: 0, index: 0, at: [at[0] + radius, at[1]], name }];
}

export interface Drag {
  readonly to: Point;
  /** Whether the pointer was snapped to something: then angles are taken exactly. */
  readonly exact: boolean;
  /** Shift: coarser steps. */
  readonly coarse: boolean;
  /** Alt: no steps; on the middle of an edge, bow it. */
  readonly free: boolean;
}

/** The plan with a grip dragged to a place. */
export function dragGrip(p: Plan, g: Grip, d: Drag, design: Design | null): Plan {
  switch (g.kind) {
    case "corner":
      return moveCorner(p, g.ref, g.ring, g.index, d.to);
    case "middle":
      return dragMiddle(p, g, d);
    case "body":
      return placeThing(p, g.ref, d.to);
    case "radius":
      return dragRadius(p, g, d);
    default:
      return dragHead(p, g, d, design);
  }
}

/** The middle of a straight edge becomes a corner; that of an arc, or with Alt of any edge, bows it. */
function dragMiddle(p: Plan, g: Grip, d: Drag): Plan {
  const e = edges(ringsOf(p, g.ref)[g.ring] ?? [])[g.index];
  if (!e) return p;
  if ((!d.free || isUnbowed(parts(g.ref)[0])) && e.bulge === 0)
    return addCorner(p, g.ref, g.ring, g.index, d.to);
  const bulge = bulgeThrough(e.a, e.b, d.to);
  const flat = Math.abs(bulge) < 0.01; // under 2.3 degrees of arc a hand means straight
  return setBulge(p, g.ref, g.ring, g.index, flat ? 0 : Math.min(10, Math.max(-10, bulge)));
}

const stepped = (n: number, step: number): number => Math.round(n / step) * step;

function dragRadius(p: Plan, g: Grip, d: Drag): Plan {
  const [c, id] = parts(g.ref);
  const at = spotOf(p, g.ref);
  if (!at) return p;
  const raw = distance(at, d.to);
  const radius = Math.max(0.25, d.free ? stepped(raw, 0.01) : stepped(raw, d.coarse ? 1 : 0.25));
  if (c === "trees") {
    const t = find(p, "trees", id);
    return t ? put(p, "trees", id, { ...t, root_zone_ft: radius }) : p;
  }
  const k = find(p, "keep_dry", id);
  return k ? put(p, "keep_dry", id, { ...k, radius_ft: radius }) : p;
}

function dragHead(p: Plan, g: Grip, d: Drag, design: Design | null): Plan {
  const [, id] = parts(g.ref);
  const h = find(p, "heads", id);
  if (!h) return p;
  const n = find(p, "nozzles", h.nozzle);
  const at = headAt(h);
  if (distance(at, d.to) === 0) return p;
  if (g.kind === "throw") {
    const raw = distance(at, d.to);
    const feet = d.exact ? raw : d.free ? stepped(raw, 0.1) : throwStep(raw, p.show);
    return put(p, "heads", id, setThrow(h, n, tableThrow(n, design, id), feet));
  }
  const raw = directionDeg(at, d.to);
  const deg = d.exact ? raw : stepped(raw, d.free ? 1 : d.coarse ? ARC_STEP_COARSE : ARC_STEP);
  return put(p, "heads", id, g.kind === "start" ? dragStart(h, n, deg) : dragEnd(h, n, deg));
}

/** Throws are set by the foot or the half metre. */
export function throwStep(feet: number, show: Plan["show"]): number {
  const step = show === "metric" ? 0.5 * FEET_A_METRE : 1;
  return stepped(feet, step);
}

/** The handle of some things nearest to a place within reach; corners and ends before middles. */
export function gripAt(grips: readonly Grip[], at: Point, reach: number): Grip | null {
  let best: Grip | null = null;
  let score = Infinity;
  for (const g of grips) {
    const d = distance(g.at, at);
    if (d > reach) continue;
    const s = d + (g.kind === "middle" || g.kind === "body" ? reach : 0);
    if (s < score) [best, score] = [g, s];
  }
  return best;
}

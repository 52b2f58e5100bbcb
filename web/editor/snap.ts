// Snapping: the places near the pointer that it is likely meant for, best
// first. Corners before crossings, middles, centres, square feet, edges, and
// the grid last; among equals the nearest.

import { segmentMeetsArc } from "./arcs";
import { alongShare, between, distance, meet, type Point } from "./geometry";
import { onGrid, roundTo } from "./grid";
import { alongRay, onRay, rayEdge } from "./holds";
import { parts } from "./model";
import { nearestOnEdge, type SnapEdge, type SnapIndex, type Source } from "./snapindex";

export type SnapKind =
  | "end"
  | "self"
  | "crossing"
  | "middle"
  | "centre"
  | "square"
  | "edge"
  | "inline"
  | "grid";

/** What each kind is called beside the pointer. */
export const snapNames: Readonly<Record<SnapKind, string>> = {
  end: "Corner",
  self: "Own corner",
  crossing: "Crossing",
  middle: "Middle of edge",
  centre: "Centre",
  square: "Square to edge",
  edge: "On edge",
  inline: "In line with corner",
  grid: "Grid",
};

const rank: Readonly<Record<SnapKind, number>> = {
  end: 0,
  self: 0,
  crossing: 1,
  middle: 2,
  centre: 3,
  square: 4,
  edge: 5,
  inline: 6,
  grid: 7,
};

export interface Snap {
  readonly kind: SnapKind;
  readonly at: Point;
  /** What the tool in hand looks for: before all else, places before edges. */
  readonly wanted?: boolean;
}

export interface SnapAsk {
  readonly pointer: Point;
  /** How near, in feet: the screen tolerance over the scale. */
  readonly reach: number;
  /** The end of the segment being drawn, for square feet. */
  readonly anchor?: Point | null;
  /** Corners of the shape being drawn. */
  readonly own?: readonly Point[];
  /** Grid step in feet when the pointer is to be put on the grid. */
  readonly grid?: number | null;
  /** Leaves out what is being dragged. */
  readonly skip?: (s: Source) => boolean;
  /** What the tool in hand looks for. */
  readonly prefers?: (s: Source) => boolean;
}

/** More edges than this near one pointer are a knot: crossings among the nearest only. */
const MOST_CROSSED = 24;

/** The candidates, best first; the grid, having no reach, comes last. */
export function snaps(index: SnapIndex, ask: SnapAsk): Snap[] {
  const { pointer, reach } = ask;
  const out: Snap[] = [];
  const near = (kind: SnapKind, at: Point, of?: Source) => {
    if (distance(at, pointer) > reach) return;
    out.push(of && ask.prefers?.(of) ? { kind, at, wanted: true } : { kind, at });
  };
  for (const p of ask.own ?? []) near("self", p);
  for (const p of index.pointsNear(pointer, reach)) if (!ask.skip?.(p)) near(p.kind, p.at, p);
  const edges = index.edgesNear(pointer, reach).filter((e) => !ask.skip?.(e));
  for (const e of edges) {
    if (!ofPipe(e)) near("middle", e.mid, e); // nothing is measured to the middle of a pipe, and heads are near
    near("edge", nearestOnEdge(pointer, e), e);
  }
  crossings(edges, pointer, (at) => near("crossing", at));
  if (ask.anchor) for (const e of edges) for (const at of squareFeet(ask.anchor, e)) near("square", at);
  const sorted = best(out, pointer);
  if (ask.grid) sorted.push({ kind: "grid", at: onGrid(pointer, ask.grid) });
  return sorted;
}

const ofPipe = (s: Source): boolean => parts(s.ref)[0] === "pipes";

/** By rank, then nearness; one candidate a place. */
function best(all: readonly Snap[], pointer: Point): Snap[] {
  const key = (s: Snap) => (s.wanted ? (s.kind === "edge" ? -1 : -2) : rank[s.kind]);
  const sorted = [...all].sort(
    (a, b) => key(a) - key(b) || distance(a.at, pointer) - distance(b.at, pointer),
  );
  return sorted.filter((s, i) => !sorted.slice(0, i).some((t) => distance(s.at, t.at) < 1e-9));
}

function crossings(edges: readonly SnapEdge[], pointer: Point, found: (at: Point) => void): void {
  const few =
    edges.length <= MOST_CROSSED
      ? edges
      : [...edges]
          .sort(
            (a, b) =>
              distance(nearestOnEdge(pointer, a), pointer) - distance(nearestOnEdge(pointer, b), pointer),
          )
          .slice(0, MOST_CROSSED);
  few.forEach((e, i) => {
    // Where pipes meet there is a joint or a head, and that is meant.
    for (const f of few.slice(i + 1))
      if (!ofPipe(e) || !ofPipe(f)) for (const at of edgeMeetings(e, f)) found(at);
  });
}

/** Where two edges meet; two arcs are left out (rare, and their crossing can be had from either edge). */
function edgeMeetings(e: SnapEdge, f: SnapEdge): Point[] {
  if (e.arc && f.arc) return [];
  if (e.arc) return segmentMeetsArc(f.a, f.b, e.arc);
  if (f.arc) return segmentMeetsArc(e.a, e.b, f.arc);
  const at = meet(e.a, e.b, f.a, f.b);
  return at ? [at] : [];
}

/** The feet of the perpendiculars from a place to an edge. */
function squareFeet(from: Point, e: SnapEdge): Point[] {
  if (e.arc) {
    const d = distance(from, e.arc.centre);
    if (d === 0) return [];
    return [between(e.arc.centre, from, e.arc.radius / d)].filter(
      (q) => distance(q, nearestOnEdge(q, e)) < 1e-9,
    );
  }
  const t = alongShare(from, e.a, e.b);
  return t < 0 || t > 1 ? [] : [between(e.a, e.b, t)];
}

export interface RayAsk extends SnapAsk {
  readonly anchor: Point;
  readonly deg: number;
}

/**
 * The candidates along a held direction: corners that lie on it, where it meets
 * edges, places square across from corners, then grid steps of length.
 */
export function raySnaps(index: SnapIndex, ask: RayAsk): Snap[] {
  const { anchor, deg, pointer, reach } = ask;
  const out: Snap[] = [];
  const near = (kind: SnapKind, at: Point) => {
    if (distance(at, pointer) <= reach && distance(at, anchor) > 1e-9) out.push({ kind, at });
  };
  const corners = [
    ...index.pointsNear(pointer, reach * 2).filter((p) => !ask.skip?.(p)),
    ...(ask.own ?? []).map((at) => ({ at, kind: "self" as const })),
  ];
  for (const p of corners) {
    const foot = onRay(anchor, deg, alongRay(anchor, deg, p.at));
    if (distance(foot, p.at) < 1e-9) near(p.kind, p.at);
    else near("inline", foot);
  }
  for (const e of index.edgesNear(pointer, reach).filter((s) => !ask.skip?.(s))) {
    const at = e.arc
      ? segmentMeetsArc(anchor, onRay(anchor, deg, 1e5), e.arc)[0]
      : rayEdge(anchor, deg, e.a, e.b);
    if (at) near("crossing", at);
  }
  const sorted = best(out, pointer);
  if (ask.grid) {
    sorted.push({
      kind: "grid",
      at: onRay(anchor, deg, Math.max(0, roundTo(alongRay(anchor, deg, pointer), ask.grid))),
    });
  }
  return sorted;
}

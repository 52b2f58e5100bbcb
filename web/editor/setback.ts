// Where a head clicked at an edge is set: in from it, since a head on the edge
// itself is mown over, driven over, or sprays the wall it stands at.

import { arcOf, nearestOnArc } from "./arcs";
import {
  add,
  alongShare,
  between,
  distance,
  dot,
  minus,
  nearestOnSegment,
  type Point,
  times,
} from "./geometry";
import { hasOwnRule, type RuleID, ruleFeet } from "./localrules";
import { type Area, ids, items, type Plan, parts } from "./model";
import { type Corner, type Edge, edges, shapeHolds } from "./shape";
import { indexOf } from "./snapindex";
import { areaAt } from "./things";

/** The least from any edge, in feet, where the plan has no rule of its own: 5 in, since 4 in is the usual least. */
const FROM_EDGE = 0.4;
/** The set-backs from what may lie along an edge. */
const setBacks = [
  "setback_paving",
  "setback_street",
  "setback_wall",
  "setback_lot",
  "setback_other",
] as const;
/** A place this far outside an area still means its edge, in feet. */
const OUTSIDE = 0.6;
/** An edge this near to the property line runs along it, in feet. */
const ON_LINE = 0.1;
/** How far beside an edge is looked for what stands there, in feet. */
const BESIDE = 0.35;

/** The place set in from the edges of the planting around it; the place itself where none is near. */
export function setIn(p: Plan, at: Point): Point {
  for (const id of ids(p, "areas")) {
    const area = items(p, "areas")[id];
    if (area?.kind !== "planting") continue;
    const inner = setInto(p, area, at);
    if (inner) return inner;
  }
  return at;
}

function setInto(p: Plan, area: Area, at: Point): Point | null {
  const rings: readonly (readonly Corner[])[] = [area.outline, ...(area.holes ?? [])];
  const all = rings.flatMap((r) => edges(r));
  const holds = (q: Point): boolean => shapeHolds(area.outline, area.holes ?? [], q);
  const reach = holds(at) ? Math.max(...setBacks.map((id) => kept(p, id))) : OUTSIDE;
  const near = all.filter((e) => distance(footOn(e, at), at) < reach);
  if (near.length === 0) return null;
  let to = at;
  // Twice round, since leaving one edge of a corner can come near the other again.
  for (const e of [...near, ...near]) to = off(p, e, to, holds);
  const tidy: Point = [Math.round(to[0] * 100) / 100, Math.round(to[1] * 100) / 100];
  return holds(tidy) ? tidy : null;
}

/** How far from an edge a head is set for a rule, in feet. */
function kept(p: Plan, id: RuleID): number {
  const feet = ruleFeet(p, id);
  return hasOwnRule(p, id) ? feet : Math.max(feet, FROM_EDGE);
}

/** A place moved off one edge until it is far enough from it. */
function off(p: Plan, e: Edge, at: Point, holds: (q: Point) => boolean): Point {
  const foot = footOn(e, at);
  const inward = normalAt(e, foot, holds);
  if (!inward) return at;
  const want = Math.max(...besideEdge(p, e, foot, inward).map((id) => kept(p, id)));
  const now = dot(minus(at, foot), inward);
  return distance(foot, at) < want && now < want ? add(at, times(inward, want - now)) : at;
}

/** The place on an edge nearest to another. */
export function footOn(e: Edge, at: Point): Point {
  const arc = arcOf(e.a, e.b, e.bulge);
  return arc ? nearestOnArc(at, arc, e.a, e.b) : nearestOnSegment(at, e.a, e.b);
}

/** The direction into the area, square to the edge. */
function normalAt(e: Edge, foot: Point, holds: (q: Point) => boolean): Point | null {
  const arc = arcOf(e.a, e.b, e.bulge);
  const along = arc ? minus(foot, arc.centre) : minus(e.b, e.a);
  const size = Math.hypot(along[0], along[1]);
  if (size === 0) return null;
  const n: Point = arc ? times(along, 1 / size) : [-along[1] / size, along[0] / size];
  const probe = awayFromEnds(e, foot);
  if (holds(add(probe, times(n, 0.05)))) return n;
  return holds(add(probe, times(n, -0.05))) ? times(n, -1) : null;
}

/** A place on the edge near the foot where only this edge is beside it. */
function awayFromEnds(e: Edge, foot: Point): Point {
  if (e.bulge !== 0) return foot;
  const length = distance(e.a, e.b);
  const margin = 0.4 / Math.max(length, 1);
  const share = Math.min(1 - margin, Math.max(margin, alongShare(foot, e.a, e.b)));
  return between(e.a, e.b, share);
}

/** The rules of what lies along an edge; that of any other edge where nothing does. */
function besideEdge(p: Plan, e: Edge, foot: Point, inward: Point): RuleID[] {
  const probe = awayFromEnds(e, foot);
  const beyond = add(probe, times(inward, -BESIDE));
  const out: RuleID[] = [];
  const is = (k: Area["kind"]): boolean => Boolean(areaAt(p, beyond, (a) => a.kind === k));
  if (is("building") || barrierAt(p, probe)) out.push("setback_wall");
  if (is("paving")) out.push("setback_paving");
  if (is("right_of_way")) out.push("setback_street");
  if (onLotLine(p, probe)) out.push("setback_lot");
  return out.length > 0 ? out : ["setback_other"];
}

function barrierAt(p: Plan, probe: Point): boolean {
  return indexOf(p)
    .edgesNear(probe, BESIDE)
    .some((near) => {
      const [c, id] = parts(near.ref);
      return c === "barriers" && items(p, "barriers")[id]?.kind !== "hedge";
    });
}

const onLotLine = (p: Plan, probe: Point): boolean =>
  edges(p.site?.lot ?? []).some((e) => distance(footOn(e, probe), probe) < ON_LINE);

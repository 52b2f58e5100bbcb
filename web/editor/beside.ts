// Where the copy of something goes: a step beside it, and still on the lot.

import { type Bounds, distance, holds, nearestOnSegment, type Point, times } from "./geometry";
import { type Plan, parts, type Ref } from "./model";
import { pathOf, ringHolds, ringOf } from "./shape";
import { isClosed, planBounds, ringsOf, spotOf } from "./things";

/** Right and down first, as the eye expects a copy; then round. */
const ways: readonly Point[] = [
  [1, -1],
  [1, 1],
  [-1, -1],
  [-1, 1],
  [1, 0],
  [0, -1],
  [-1, 0],
  [0, 1],
];

/** On the line counts as inside. */
const ON_LINE_FT = 1e-6;

/**
 * The move that puts a copy a step beside its originals: the first way in which
 * all of it that lies on the lot (or, without one, in the bounds of the plan)
 * stays there, else the first of all.
 */
export function beside(p: Plan, refs: readonly Ref[], step: number): Point {
  const within = withinGround(p);
  const corners = refs.flatMap((r) => outermost(p, r)).filter(within);
  const stays = (by: Point) => corners.every(([x, y]) => within([x + by[0], y + by[1]]));
  const way = ways.find((w) => stays(times(w, step))) ?? (ways[0] as Point);
  return times(way, step);
}

function outermost(p: Plan, r: Ref): Point[] {
  const spot = spotOf(p, r);
  if (spot) return [spot];
  const flat = isClosed(parts(r)[0]) ? ringOf : pathOf;
  const outer = ringsOf(p, r)[0] ?? [];
  return outer.length > 0 ? flat(outer, 0.25) : [];
}

function withinGround(p: Plan): (at: Point) => boolean {
  const lot = p.site?.lot;
  if (lot?.length) {
    const ring = ringOf(lot);
    return (at) => ringHolds(ring, at) || onRing(ring, at);
  }
  const b: Bounds | null = planBounds(p);
  return (at) => !b || holds(b, at);
}

const onRing = (ring: readonly Point[], at: Point): boolean =>
  ring.some((a, i) => {
    const b = ring[(i + 1) % ring.length] as Point;
    return distance(nearestOnSegment(at, a, b), at) <= ON_LINE_FT;
  });

// Holding a line to tidy directions while it is drawn: 15 degree steps while
// Shift is down, right angles and their halves while Square is on, both also
// counted from the segment before.

import {
  add,
  directionDeg,
  distance,
  dot,
  minus,
  normDeg,
  type Point,
  rayMeets,
  times,
  turnDeg,
  unit,
} from "./geometry";

export interface HoldRules {
  /** Shift is down: steps of 15 degrees. */
  readonly fine: boolean;
  /** Square is on: steps of 90 from east, and of 45 from the segment before. */
  readonly square: boolean;
}

/** Where a line being drawn starts, and the direction of the segment before it. */
export interface Anchor {
  readonly at: Point;
  readonly beforeDeg?: number;
}

export interface Held {
  readonly at: Point;
  /** The direction held to, in [0, 360). */
  readonly deg: number;
  /** What the direction is measured from, for the guide's label. */
  readonly from: "east" | "before";
}

/**
 * The pointer brought onto the nearest held direction from the anchor; null
 * when nothing holds or the pointer is still at the anchor. The length along
 * the direction is the pointer's foot on it, never less than zero.
 */
export function hold(anchor: Anchor, pointer: Point, rules: HoldRules): Held | null {
  if (!rules.fine && !rules.square) return null;
  if (distance(anchor.at, pointer) === 0) return null;
  const aim = directionDeg(anchor.at, pointer);
  const east = nearestStep(aim, 0, rules.fine ? 15 : 90);
  let best: { deg: number; from: Held["from"] } = { deg: east, from: "east" };
  if (anchor.beforeDeg !== undefined) {
    const turned = nearestStep(aim, anchor.beforeDeg, 45);
    if (Math.abs(turnDeg(aim, turned)) < Math.abs(turnDeg(aim, east)) - 1e-9)
      best = { deg: turned, from: "before" };
  } else if (!rules.fine) {
    // The first segment has nothing before it: 45 degrees from east count too.
    best = { deg: nearestStep(aim, 0, 45), from: "east" };
  }
  const along = Math.max(0, dot(minus(pointer, anchor.at), unit(best.deg)));
  return { at: onRay(anchor.at, best.deg, along), ...best };
}

function nearestStep(deg: number, from: number, step: number): number {
  return normDeg(from + Math.round(turnDeg(from, deg) / step) * step);
}

/** A place along a ray. */
export function onRay(from: Point, deg: number, along: number): Point {
  return add(from, times(unit(deg), along));
}

/** How far along a ray the foot of p lies. */
export const alongRay = (from: Point, deg: number, p: Point): number => dot(minus(p, from), unit(deg));

/** Where a ray meets an edge, for snapping while held. */
export const rayEdge = (from: Point, deg: number, a: Point, b: Point): Point | null =>
  rayMeets(from, deg, a, b);

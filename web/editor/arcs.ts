// Edges that are arcs. A bulge is the tangent of a quarter of the included
// angle, positive when the arc runs anticlockwise from its first end; 0 is
// straight.
//
//          . - - .           bulge 1: half a circle
//        a ------- b         the arc of a positive bulge lies to the right
//                            of a→b, so it is drawn below this chord

import {
  add,
  cross,
  directionDeg,
  distance,
  middle,
  minus,
  normDeg,
  type Point,
  times,
  unit,
} from "./geometry";

export interface Arc {
  centre: Point;
  radius: number;
  startDeg: number;
  /** Signed: positive anticlockwise. */
  sweepDeg: number;
}

/** The arc from a to b with a bulge; null for a straight edge. */
export function arcOf(a: Point, b: Point, bulge: number): Arc | null {
  const chord = distance(a, b);
  if (bulge === 0 || chord === 0) return null;
  const radius = (chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge));
  // From the chord's middle to the centre, along the left normal of a→b.
  const off = (1 - bulge * bulge) / (4 * bulge);
  const [dx, dy] = minus(b, a);
  const centre = add(middle(a, b), [-dy * off, dx * off]);
  return {
    centre,
    radius,
    startDeg: directionDeg(centre, a),
    sweepDeg: (4 * Math.atan(bulge) * 180) / Math.PI,
  };
}

/** The middle of the edge from a to b, on its arc if it has one. */
export function edgeMiddle(a: Point, b: Point, bulge: number): Point {
  const [dx, dy] = minus(b, a);
  const m = middle(a, b);
  return bulge === 0 ? m : add(m, times([dy, -dx], bulge / 2));
}

export function edgeLength(a: Point, b: Point, bulge: number): number {
  const chord = distance(a, b);
  if (bulge === 0) return chord;
  return ((chord * (1 + bulge * bulge)) / Math.abs(bulge)) * Math.atan(Math.abs(bulge));
}

/** The bulge of the arc from a to b through p; 0 when p is on the chord or at an end. */
export function bulgeThrough(a: Point, b: Point, p: Point): number {
  const pa = minus(a, p);
  const pb = minus(b, p);
  const side = cross(pa, pb);
  if (side === 0) return 0;
  // The inscribed angle at p is half the arc that p does not lie on.
  const inscribed = Math.atan2(Math.abs(side), pa[0] * pb[0] + pa[1] * pb[1]);
  const bulge = Math.tan((Math.PI - inscribed) / 2);
  return side < 0 ? bulge : -bulge;
}

/**
 * The bulge of the arc of a given radius from a to b, the shorter of the two
 * ways round, bending to the side of the sign. Null when the chord is longer
 * than the circle is wide.
 */
export function bulgeForRadius(a: Point, b: Point, radius: number, sign: 1 | -1): number | null {
  const half = distance(a, b) / 2;
  if (half === 0 || radius < half) return null;
  return sign * Math.tan(Math.asin(half / radius) / 2);
}

/** Points along an edge after its first end, no farther than tolerance (feet) from it; the last is b itself. */
export function flattenEdge(a: Point, b: Point, bulge: number, tolerance: number): Point[] {
  const arc = arcOf(a, b, bulge);
  if (!arc) return [b];
  const step = 2 * Math.acos(Math.max(0, 1 - tolerance / arc.radius));
  const sweep = Math.abs(arc.sweepDeg) * (Math.PI / 180);
  const n = Math.min(512, Math.max(2, Math.ceil(sweep / step)));
  const out: Point[] = [];
  for (let i = 1; i < n; i++) {
    out.push(add(arc.centre, times(unit(arc.startDeg + (arc.sweepDeg * i) / n), arc.radius)));
  }
  out.push(b);
  return out;
}

/** Whether a direction from the centre falls on the arc. */
export function onArc(arc: Arc, deg: number): boolean {
  const from = arc.sweepDeg >= 0 ? arc.startDeg : arc.startDeg + arc.sweepDeg;
  return normDeg(deg - from) <= Math.abs(arc.sweepDeg);
}

/** The nearest place to p on the edge from a to b. */
export function nearestOnArc(p: Point, arc: Arc, a: Point, b: Point): Point {
  if (distance(p, arc.centre) > 0) {
    const deg = directionDeg(arc.centre, p);
    if (onArc(arc, deg)) {
      const k = arc.radius / distance(p, arc.centre);
      return add(arc.centre, times(minus(p, arc.centre), k));
    }
  }
  return distance(p, a) <= distance(p, b) ? a : b;
}

/** Where the segment c–d meets the arc. */
export function segmentMeetsArc(c: Point, d: Point, arc: Arc): Point[] {
  const s = minus(d, c);
  const f = minus(c, arc.centre);
  const A = s[0] * s[0] + s[1] * s[1];
  const B = 2 * (f[0] * s[0] + f[1] * s[1]);
  const C = f[0] * f[0] + f[1] * f[1] - arc.radius * arc.radius;
  const disc = B * B - 4 * A * C;
  if (A === 0 || disc < 0) return [];
  const root = Math.sqrt(disc);
  return [(-B - root) / (2 * A), (-B + root) / (2 * A)]
    .filter((t) => t >= 0 && t <= 1)
    .map((t) => add(c, times(s, t)))
    .filter((q) => onArc(arc, directionDeg(arc.centre, q)));
}

/** How far the direction of an edge turns from one end to the middle: used to draw tangents. */
export function tangentDeg(a: Point, b: Point, bulge: number): { leaving: number; arriving: number } {
  const chord = directionDeg(a, b);
  const half = (2 * Math.atan(bulge) * 180) / Math.PI;
  return { leaving: normDeg(chord - half), arriving: normDeg(chord + half) };
}

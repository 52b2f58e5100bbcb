// Plane geometry of the pointer: places in feet, x east and y north; angles in
// degrees anticlockwise from east. No figure of water is worked out here.

/** A place in feet. */
export type Point = readonly [x: number, y: number];

/** A rectangle with sides along the axes, in feet. */
export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export const add = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]];
export const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]];
export const times = (a: Point, k: number): Point => [a[0] * k, a[1] * k];
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];

/** The z component of a × b: positive when b lies anticlockwise of a. */
export const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0];

export const distance = (a: Point, b: Point): number => Math.hypot(b[0] - a[0], b[1] - a[1]);
export const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
export const samePoint = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1];

/** An angle brought into [0, 360). */
export function normDeg(deg: number): number {
  const d = deg % 360;
  const n = d < 0 ? d + 360 : d;
  return n >= 360 ? 0 : n + 0; // a tiny negative turn rounds up to 360; + 0 makes -0 into 0
}

/** The signed turn from one direction to another, in (-180, 180]. */
export function turnDeg(from: number, to: number): number {
  const d = normDeg(to - from);
  return d > 180 ? d - 360 : d;
}

/** The direction from a to b, in [0, 360); 0 when they are one place. */
export function directionDeg(a: Point, b: Point): number {
  return normDeg((Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI);
}

/**
 * The unit vector of a direction. Multiples of 90 come out exact, so that a
 * wall typed at 90 degrees is upright to the last digit.
 */
export function unit(deg: number): Point {
  switch (normDeg(deg)) {
    case 0:
      return [1, 0];
    case 90:
      return [0, 1];
    case 180:
      return [-1, 0];
    case 270:
      return [0, -1];
  }
  const r = (deg * Math.PI) / 180;
  return [Math.cos(r), Math.sin(r)];
}

/** The place a given length away in a given direction. */
export function polar(from: Point, deg: number, length: number): Point {
  return add(from, times(unit(deg), length));
}

/** Turns p about a centre, anticlockwise. */
export function rotateAbout(p: Point, centre: Point, deg: number): Point {
  const [c, s] = unit(deg);
  const [dx, dy] = minus(p, centre);
  return [centre[0] + dx * c - dy * s, centre[1] + dx * s + dy * c];
}

/** How far along a→b the foot of the perpendicular from p lies; 0 at a, 1 at b. */
export function alongShare(p: Point, a: Point, b: Point): number {
  const ab = minus(b, a);
  const len2 = dot(ab, ab);
  return len2 === 0 ? 0 : dot(minus(p, a), ab) / len2;
}

export const between = (a: Point, b: Point, share: number): Point => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
];

/** The nearest place to p on the segment a–b. Ends come back exactly. */
export function nearestOnSegment(p: Point, a: Point, b: Point): Point {
  const t = alongShare(p, a, b);
  if (t <= 0) return a;
  if (t >= 1) return b;
  return between(a, b, t);
}

/** Where the segments a–b and c–d meet, if they meet in one place. */
export function meet(a: Point, b: Point, c: Point, d: Point): Point | null {
  const r = minus(b, a);
  const s = minus(d, c);
  const det = cross(r, s);
  if (det === 0) return null;
  const ac = minus(c, a);
  const t = cross(ac, s) / det;
  const u = cross(ac, r) / det;
  if (t < 0 || t > 1 || u < 0 || u > 1) return null;
  return between(a, b, t);
}

/** Where the ray from a in a direction meets the segment c–d, if it does. */
export function rayMeets(from: Point, deg: number, c: Point, d: Point): Point | null {
  const r = unit(deg);
  const s = minus(d, c);
  const det = cross(r, s);
  if (det === 0) return null;
  const ac = minus(c, from);
  const t = cross(ac, s) / det;
  const u = cross(ac, r) / det;
  if (t < 0 || u < 0 || u > 1) return null;
  return add(from, times(r, t));
}

export function boundsOf(points: Iterable<Point>): Bounds | null {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return minX <= maxX ? { minX, minY, maxX, maxY } : null;
}

export function joinBounds(a: Bounds | null, b: Bounds | null): Bounds | null {
  if (!a || !b) return a ?? b;
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}

export const growBounds = (b: Bounds, by: number): Bounds => ({
  minX: b.minX - by,
  minY: b.minY - by,
  maxX: b.maxX + by,
  maxY: b.maxY + by,
});

export const holds = (b: Bounds, [x, y]: Point): boolean =>
  x >= b.minX && x <= b.maxX && y >= b.minY && y <= b.maxY;

export const overlap = (a: Bounds, b: Bounds): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

export const inside = (inner: Bounds, outer: Bounds): boolean =>
  inner.minX >= outer.minX &&
  inner.maxX <= outer.maxX &&
  inner.minY >= outer.minY &&
  inner.maxY <= outer.maxY;

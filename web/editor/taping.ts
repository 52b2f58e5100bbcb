// Places from a tape: along and off a line, where two tapes meet, the best place
// for three or more, runs of sides with their misclosure, and measured distances
// laid over places that do not quite agree with them. Plane geometry in feet;
// nothing here knows the plan.

import {
  add,
  between,
  cross,
  directionDeg,
  distance,
  dot,
  minus,
  type Point,
  polar,
  times,
} from "./geometry";

/** A line measured along, from a towards b. */
export interface Base {
  readonly a: Point;
  readonly b: Point;
}

/** The side of a line, looking from its a to its b. */
export type Side = "left" | "right";

export const otherSide = (s: Side): Side => (s === "left" ? "right" : "left");

/** Ends nearer than this, in feet, are one place: a base needs more. */
const ONE_PLACE_FT = 1 / 4096;

const finite = (...all: readonly number[]): boolean => all.every(Number.isFinite);
const isPlace = (p: Point): boolean => finite(p[0], p[1]);

/** The unit vector along a base; null when it has no length. */
function ahead({ a, b }: Base): Point | null {
  const len = distance(a, b);
  return isPlace(a) && isPlace(b) && len > ONE_PLACE_FT ? times(minus(b, a), 1 / len) : null;
}

const leftOf = ([x, y]: Point): Point => [-y, x];

/**
 * The place so far along a base and so far off it. Along may be beyond either
 * end; an offset below zero lies on the other side. Null without a base line.
 */
export function alongOff(base: Base, along: number, off: number, side: Side): Point | null {
  const u = ahead(base);
  if (!u || !finite(along, off)) return null;
  return add(add(base.a, times(u, along)), times(leftOf(u), side === "left" ? off : -off));
}

/** A place as a tape would find it from a base: the foot of its perpendicular, along, and off to a side. */
export interface Offset {
  readonly along: number;
  readonly off: number;
  readonly side: Side;
  readonly foot: Point;
}

export function offsetOf(base: Base, p: Point): Offset | null {
  const u = ahead(base);
  if (!u || !isPlace(p)) return null;
  const along = dot(minus(p, base.a), u);
  const off = cross(u, minus(p, base.a));
  return { along, off: Math.abs(off), side: off < 0 ? "right" : "left", foot: add(base.a, times(u, along)) };
}

/** A tape pulled from a known place. */
export interface Tape {
  readonly from: Point;
  readonly length: number;
}

/** Tapes that miss each other by no more than a quarter inch touch: that is how a tape is read. */
const TOUCH_FT = 1 / 48;

export type Meeting =
  | {
      readonly kind: "meet";
      /** Looking from the first known place to the second. */
      readonly left: Point;
      readonly right: Point;
      /** The angle between the tapes at the place, in degrees. */
      readonly crossingDeg: number;
    }
  /** The two tapes together do not reach across, by so much. */
  | { readonly kind: "short"; readonly missing: number }
  /** One tape (0 or 1) is so long that the other cannot reach its end, by so much. */
  | { readonly kind: "long"; readonly which: 0 | 1; readonly missing: number }
  /** The known places are one, or a number is none. */
  | { readonly kind: "none" };

/** Where two tapes meet: two places, mirrored in the line of the known ones. */
export function twoTapes(one: Tape, two: Tape): Meeting {
  const d = distance(one.from, two.from);
  const [r, s] = [one.length, two.length];
  if (!isPlace(one.from) || !isPlace(two.from) || !finite(r, s)) return { kind: "none" };
  if (d <= ONE_PLACE_FT || r < 0 || s < 0) return { kind: "none" };
  if (d - r - s > TOUCH_FT) return { kind: "short", missing: d - r - s };
  if (Math.abs(r - s) - d > TOUCH_FT) {
    return { kind: "long", which: r > s ? 0 : 1, missing: Math.abs(r - s) - d };
  }
  const along = (d * d + r * r - s * s) / (2 * d);
  const off = Math.sqrt(Math.max(0, r * r - along * along));
  const base = { a: one.from, b: two.from };
  const left = alongOff(base, along, off, "left") as Point;
  const right = alongOff(base, along, off, "right") as Point;
  return { kind: "meet", left, right, crossingDeg: crossingDeg(left, one.from, two.from) };
}

/** The angle at a place between the directions to two others, in degrees, 0 to 180. */
export function crossingDeg(at: Point, one: Point, two: Point): number {
  const [u, v] = [minus(one, at), minus(two, at)];
  const deg = (Math.atan2(Math.abs(cross(u, v)), dot(u, v)) * 180) / Math.PI;
  return deg + 0;
}

/** Tapes that cross flatter than this, or straighter than 180 less this, fix a place badly. */
export const LEAST_CROSSING_DEG = 30;
export const poorCrossing = (deg: number): boolean =>
  deg < LEAST_CROSSING_DEG || deg > 180 - LEAST_CROSSING_DEG;

/** The place that three or more tapes agree on best. */
export interface Fit {
  readonly at: Point;
  /** The mirrored place when the known ones lie in one line and cannot tell the two apart. */
  readonly mirrored: Point | null;
  /** Of each tape: measured less what it is from the place, in feet. */
  readonly residuals: readonly number[];
  /** The tape with the largest residual. */
  readonly worst: number;
  /** By how much that tape differs from what the others together say, in feet: about what it was misread by. */
  readonly slip: number;
}

/**
 * Least squares, every tape of one weight, by Gauss and Newton's iteration from
 * each place two of the tapes meet at. Null with fewer than three tapes, a
 * number that is none, or known places that are all one.
 */
export function fitTapes(tapes: readonly Tape[]): Fit | null {
  const fair = tapes.every((t) => isPlace(t.from) && finite(t.length) && t.length >= 0);
  if (tapes.length < 3 || !fair) return null;
  const found = starts(tapes)
    .map((p) => settle(tapes, p))
    .sort((p, q) => misfit(tapes, p) - misfit(tapes, q));
  const at = found[0];
  if (!at) return null;
  const residuals = residualsAt(tapes, at);
  const worst = residuals.reduce((w, r, i) => (Math.abs(r) > Math.abs(residuals[w] as number) ? i : w), 0);
  return { at, mirrored: mirrorOf(tapes, at), residuals, worst, slip: slipOf(tapes, worst, at) };
}

const residualsAt = (tapes: readonly Tape[], p: Point): number[] =>
  tapes.map((t) => t.length - distance(t.from, p));

const misfit = (tapes: readonly Tape[], p: Point): number =>
  residualsAt(tapes, p).reduce((sum, r) => sum + r * r, 0);

/** The places any two tapes meet at; where two do not meet, the place between their ends. */
function starts(tapes: readonly Tape[]): Point[] {
  return tapes.flatMap((t, i) =>
    tapes.slice(i + 1).flatMap((u): Point[] => {
      const m = twoTapes(t, u);
      if (m.kind === "meet") return [m.left, m.right];
      const d = distance(t.from, u.from);
      return d > ONE_PLACE_FT ? [between(t.from, u.from, t.length / d)] : [];
    }),
  );
}

/** Gauss and Newton's steps, shortened (Levenberg) whenever one would make the misfit worse. */
function settle(tapes: readonly Tape[], start: Point): Point {
  let at = start;
  let damp = 0;
  for (let i = 0; i < 80; i++) {
    let [xx, xy, yy, gx, gy] = [0, 0, 0, 0, 0];
    for (const t of tapes) {
      const d = distance(t.from, at);
      const [ux, uy] = d > 0 ? times(minus(at, t.from), 1 / d) : [1, 0];
      const r = t.length - d;
      [xx, xy, yy, gx, gy] = [xx + ux * ux, xy + ux * uy, yy + uy * uy, gx + ux * r, gy + uy * r];
    }
    const det = (xx + damp) * (yy + damp) - xy * xy;
    if (det > 1e-12) {
      const by: Point = [((yy + damp) * gx - xy * gy) / det, ((xx + damp) * gy - xy * gx) / det];
      const next = add(at, by);
      if (misfit(tapes, next) <= misfit(tapes, at)) {
        at = next;
        damp /= 10;
        if (Math.hypot(...by) < 1e-12) break;
        continue;
      }
    }
    damp = Math.max(damp * 10, 1e-3);
    if (damp > 1e9) break;
  }
  return at;
}

/** The place mirrored in the line of the known ones, when they lie in one line. */
function mirrorOf(tapes: readonly Tape[], at: Point): Point | null {
  const a = (tapes[0] as Tape).from;
  const far = tapes.reduce((f, t) => (distance(a, t.from) > distance(a, f) ? t.from : f), a);
  const base = { a, b: far };
  const off = offsetOf(base, at);
  const inLine = tapes.every((t) => (offsetOf(base, t.from)?.off ?? 1) < 1e-3);
  return off && inLine && off.off > TOUCH_FT ? alongOff(base, off.along, off.off, otherSide(off.side)) : null;
}

/** What the other tapes say the length of one is, taken from what it was measured as. */
function slipOf(tapes: readonly Tape[], which: number, near: Point): number {
  const t = tapes[which] as Tape;
  const rest = tapes.filter((_, i) => i !== which);
  const from = (p: Point) => t.length - distance(t.from, p);
  if (rest.length > 2) return from(fitTapes(rest)?.at ?? near);
  const m = twoTapes(rest[0] as Tape, rest[1] as Tape);
  if (m.kind !== "meet") return from(near);
  return from(distance(m.left, near) <= distance(m.right, near) ? m.left : m.right);
}

/** More than 2 in and 1 % of its length is no longer how a tape is read, but a slip. */
export const isSlip = (slipFt: number, lengthFt: number): boolean =>
  Math.abs(slipFt) > 2 / 12 + 0.01 * lengthFt;

/** One side of a run: how long, and its way: a turn from the side before it, or a direction; neither is straight on. */
export interface Leg {
  readonly length: number;
  /** Anticlockwise, in degrees: 90 is left. */
  readonly turnDeg?: number;
  readonly towardDeg?: number;
}

/** The places a run comes to, from and with its start, and the way it went last. */
export function runFrom(start: Point, headingDeg: number, legs: readonly Leg[]): [Point[], number] {
  const out = [start];
  let deg = headingDeg;
  for (const leg of legs) {
    deg = leg.towardDeg ?? deg + (leg.turnDeg ?? 0);
    out.push(polar(out.at(-1) as Point, deg, leg.length));
  }
  return [out, ((deg % 360) + 360) % 360];
}

/** How a run misses the place it should have come to. */
export interface Misclosure {
  readonly length: number;
  /** From where it should be to where it came. */
  readonly deg: number;
  /** The whole length of the run. */
  readonly run: number;
  /** One part in so many; Infinity when it closes. */
  readonly oneIn: number;
}

export function misclosureOf(places: readonly Point[], target: Point): Misclosure {
  const end = places.at(-1) ?? target;
  const length = distance(target, end);
  const run = stationsOf(places).at(-1) ?? 0;
  return { length, deg: directionDeg(target, end), run, oneIn: length > 0 ? run / length : Infinity };
}

/** How far each place of a run is along it. */
function stationsOf(places: readonly Point[]): number[] {
  let sum = 0;
  return places.map((p, i) => {
    sum += i === 0 ? 0 : distance(places[i - 1] as Point, p);
    return sum;
  });
}

/**
 * The run with its misclosure shared out over its sides by their lengths, so
 * that it ends at the target: the compass rule (Bowditch 1808), as in any
 * surveying handbook. The first place stays.
 */
export function sharedOut(places: readonly Point[], target: Point): Point[] {
  const end = places.at(-1);
  const stations = stationsOf(places);
  const run = stations.at(-1) ?? 0;
  if (!end || run <= 0) return [...places];
  const by = minus(target, end);
  return places.map((p, i) =>
    i === places.length - 1 ? target : add(p, times(by, (stations[i] as number) / run)),
  );
}

/** A measured distance between two places of a list. */
export interface Span {
  readonly from: number;
  readonly to: number;
  readonly length: number;
}

/** How lightly places are held where they are drawn, so that what no tape fixes stays. */
const HELD = 1e-6;

/**
 * The places moved as little as lets the measured distances fit best: least
 * squares by Gauss and Newton over the places that may move.
 */
export function fitSpans(
  places: readonly Point[],
  mayMove: readonly boolean[],
  spans: readonly Span[],
): Point[] {
  const free = places.flatMap((_, i) => (mayMove[i] ? [i] : []));
  const column = new Map(free.map((p, i) => [p, 2 * i]));
  const off = (all: readonly Point[]): number =>
    spans.reduce((sum, s) => sum + (s.length - spanOf(all, s)) ** 2, 0) +
    HELD * free.reduce((sum, i) => sum + distance(all[i] as Point, places[i] as Point) ** 2, 0);
  let now: Point[] = [...places];
  let damp = 0;
  for (let n = 0; n < 60; n++) {
    const by = solve(...normal(now, places, spans, column, damp));
    const next = now.map((p, i): Point => {
      const c = column.get(i);
      return c === undefined ? p : [p[0] + (by[c] ?? 0), p[1] + (by[c + 1] ?? 0)];
    });
    if (off(next) <= off(now)) {
      now = next;
      damp /= 10;
      if (Math.max(0, ...by.map(Math.abs)) < 1e-10) break;
    } else damp = Math.max(damp * 10, 1e-3);
    if (damp > 1e9) break;
  }
  return now;
}

const spanOf = (all: readonly Point[], s: Span): number => distance(all[s.from] as Point, all[s.to] as Point);

/** The normal equations of one step. */
function normal(
  now: readonly Point[],
  drawn: readonly Point[],
  spans: readonly Span[],
  column: ReadonlyMap<number, number>,
  damp: number,
): [number[][], number[]] {
  const n = column.size * 2;
  const m = Array.from({ length: n }, (_, i) => {
    const row = new Array<number>(n).fill(0);
    row[i] = HELD + damp;
    return row;
  });
  const g = new Array<number>(n).fill(0);
  for (const [i, c] of column) {
    const by = minus(drawn[i] as Point, now[i] as Point);
    g[c] = HELD * by[0];
    g[c + 1] = HELD * by[1];
  }
  for (const s of spans) {
    const d = spanOf(now, s);
    const u = d > 0 ? times(minus(now[s.to] as Point, now[s.from] as Point), 1 / d) : ([1, 0] as const);
    const terms: [number, number][] = [];
    for (const [end, sign] of [[s.from, -1] as const, [s.to, 1] as const]) {
      const c = column.get(end);
      if (c !== undefined) terms.push([c, sign * u[0]], [c + 1, sign * u[1]]);
    }
    for (const [i, vi] of terms) {
      g[i] = (g[i] as number) + vi * (s.length - d);
      const row = m[i] as number[];
      for (const [j, vj] of terms) row[j] = (row[j] as number) + vi * vj;
    }
  }
  return [m, g];
}

/** Solves m x = g for a positive definite m, by elimination. */
function solve(m: number[][], g: number[]): number[] {
  const n = g.length;
  for (let k = 0; k < n; k++) {
    const pivot = m[k] as number[];
    for (let i = k + 1; i < n; i++) {
      const row = m[i] as number[];
      const f = (row[k] as number) / (pivot[k] as number);
      if (f === 0) continue;
      for (let j = k; j < n; j++) row[j] = (row[j] as number) - f * (pivot[j] as number);
      g[i] = (g[i] as number) - f * (g[k] as number);
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    const row = m[k] as number[];
    let sum = g[k] as number;
    for (let j = k + 1; j < n; j++) sum -= (row[j] as number) * (x[j] as number);
    x[k] = sum / (row[k] as number);
  }
  return x;
}

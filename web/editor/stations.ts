// Places at equal distances: along an edge by number or spacing, over a grid of
// squares or triangles, and round a centre. Only places and directions here;
// what is put there is copies.ts.

import { arcOf, edgeLength, nearestOnArc } from "./arcs";
import { add, between, directionDeg, nearestOnSegment, type Point, polar, times, unit } from "./geometry";
import { type Read, read, refuse } from "./length";

/** A straight or bowed line copies are laid along. */
export interface Run {
  readonly a: Point;
  readonly b: Point;
  readonly bulge: number;
}

/** Whether there is a copy at the ends of the run; "half": half a space is left at both. */
export type Ends = "both" | "neither" | "first" | "last" | "half";

/** By number; by an exact spacing from the first end; or evenly, no farther apart than the spacing. */
export type By = "count" | "spacing" | "even";

export interface RunWish {
  readonly by: By;
  readonly count: number;
  readonly spacingFt: number;
  readonly ends: Ends;
  /** How far from the first and the second end of the line the run begins and stops, in feet. */
  readonly fromEndsFt: readonly [number, number];
}

/** A place on a run, and the direction the run has there. */
export interface Station {
  readonly at: Point;
  readonly deg: number;
}

export interface Spread {
  readonly stations: readonly Station[];
  /** The distance along the run from one to the next, in feet; 0 for a single one. */
  readonly pitchFt: number;
  /** What an exact spacing leaves over at the far end, in feet. */
  readonly leftFt: number;
}

/** As many copies as are made at once. */
export const MOST_COPIES = 2000;

/** A count that falls short of a whole by less than this is that whole: 18 / 3 is six spaces. */
const NEAR = 1e-9;

const numbers = new Intl.NumberFormat("en-US");

export const tooMany = (n: number) =>
  refuse(
    `That makes ${n > 1e6 ? "more than a million" : numbers.format(n)} copies; ${numbers.format(MOST_COPIES)} at once is the most. Choose a larger spacing or a smaller number.`,
  );

/** The places of a run. */
export function along(run: Run, w: RunWish): Read<Spread> {
  const length = edgeLength(run.a, run.b, run.bulge);
  const [before, behind] = w.fromEndsFt;
  const room = length - before - behind;
  if (room <= 0) {
    return refuse("Nothing is left of the line between its ends. Choose a smaller distance from the ends.");
  }
  const n = numberOf(room, w);
  if (n > MOST_COPIES) return tooMany(n);
  if (n < 1) return refuse("None fits along the line. Choose a smaller spacing or another line.");
  const shares = w.by === "spacing" ? bySpacing(n, room, w) : byCount(n, w.ends);
  const stations = shares.map((s) => stationAt(run, (before + s * room) / length));
  const pitchFt = n > 1 ? ((shares[1] as number) - (shares[0] as number)) * room : 0;
  const last = (shares.at(-1) as number) * room;
  return read({ stations, pitchFt, leftFt: w.by === "spacing" ? Math.max(0, room - last) : 0 });
}

function numberOf(room: number, w: RunWish): number {
  if (w.by === "count") return w.count;
  const spaces = room / w.spacingFt;
  const whole = w.by === "even" ? Math.ceil(spaces - NEAR) : Math.floor(spaces + NEAR);
  switch (w.ends) {
    case "both":
      return whole + 1;
    case "neither":
      return w.by === "even" ? whole - 1 : Math.ceil(spaces - NEAR) - 1;
    case "first":
      return w.by === "even" ? whole : Math.ceil(spaces - NEAR);
    default:
      return whole;
  }
}

/** Shares of the run for n places. */
function byCount(n: number, ends: Ends): number[] {
  const share = (k: number): number => {
    switch (ends) {
      case "both":
        return n === 1 ? 0.5 : k / (n - 1);
      case "neither":
        return (k + 1) / (n + 1);
      case "first":
        return k / n;
      case "last":
        return (k + 1) / n;
      case "half":
        return (k + 0.5) / n;
    }
  };
  return Array.from({ length: n }, (_, k) => share(k));
}

function bySpacing(n: number, room: number, w: RunWish): number[] {
  const first = w.ends === "both" || w.ends === "first" ? 0 : w.ends === "half" ? 0.5 : 1;
  return Array.from({ length: n }, (_, k) => Math.min(1, ((first + k) * w.spacingFt) / room));
}

/** The place at a share of the whole line. */
function stationAt(run: Run, share: number): Station {
  const arc = arcOf(run.a, run.b, run.bulge);
  if (!arc) return { at: between(run.a, run.b, share), deg: directionDeg(run.a, run.b) };
  const deg = arc.startDeg + share * arc.sweepDeg;
  return { at: polar(arc.centre, deg, arc.radius), deg: deg + (arc.sweepDeg > 0 ? 90 : -90) };
}

/** The station of a run nearest to a place. */
export function nearestStation(run: Run, p: Point): Station {
  const arc = arcOf(run.a, run.b, run.bulge);
  if (!arc) return { at: nearestOnSegment(p, run.a, run.b), deg: directionDeg(run.a, run.b) };
  const at = nearestOnArc(p, arc, run.a, run.b);
  return { at, deg: directionDeg(arc.centre, at) + (arc.sweepDeg > 0 ? 90 : -90) };
}

/** A station moved to its left, as seen along the run, by feet. */
export const beside = (s: Station, feet: number): Point =>
  feet === 0 ? s.at : add(s.at, times(unit(s.deg + 90), feet));

/** The height of a triangle of equal sides over its base: rows this share of the spacing apart. */
export const ROW_SHARE = Math.sqrt(3) / 2;

export interface Lattice {
  readonly origin: Point;
  /** The direction of the rows, in degrees. */
  readonly deg: number;
  readonly acrossFt: number;
  readonly upFt: number;
  /** Every second row begins half a space along. */
  readonly staggered: boolean;
}

export function latticePlace(l: Lattice, column: number, row: number): Point {
  const half = l.staggered && row % 2 !== 0 ? 0.5 : 0;
  const east = times(unit(l.deg), (column + half) * l.acrossFt);
  return add(add(l.origin, east), times(unit(l.deg + 90), row * l.upFt));
}

/** The columns and rows of a lattice that reach over some places, ends included. */
export function latticeSpan(
  l: Lattice,
  over: readonly Point[],
): { columns: [number, number]; rows: [number, number] } {
  const [u, v] = [unit(l.deg), unit(l.deg + 90)];
  const measure = (axis: Point, step: number): [number, number] => {
    const all = over.map((p) => ((p[0] - l.origin[0]) * axis[0] + (p[1] - l.origin[1]) * axis[1]) / step);
    return [Math.floor(Math.min(...all)) - 1, Math.ceil(Math.max(...all)) + 1];
  };
  return { columns: measure(u, l.acrossFt), rows: measure(v, l.upFt) };
}

/** The turns, in degrees, of n things round a centre, the first of them none: a whole round ends before it begins again. */
export function turnsRound(n: number, throughDeg: number): number[] {
  const whole = Math.abs(throughDeg) >= 360 - NEAR;
  const step = n < 2 ? 0 : throughDeg / (whole ? n : n - 1);
  return Array.from({ length: n }, (_, k) => k * step);
}

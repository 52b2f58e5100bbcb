// The ground a head is drawn to wet: its arc and throw, or a strip's rectangle.
// Only lines on the board; what water does there is worked out by the server.

import { arcOf, nearestOnArc } from "./arcs";
import { ownThrow } from "./catalog";
import type { Design } from "./design";
import {
  directionDeg,
  distance,
  nearestOnSegment,
  normDeg,
  type Point,
  polar,
  rotateAbout,
} from "./geometry";
import { type Head, ids, items, type Nozzle, type Plan } from "./model";
import { type Corner, type Edge, edges, shapeHolds } from "./shape";

/** The drawn pattern of a head. */
export type Pattern =
  | {
      readonly shape: "sector";
      readonly startDeg: number;
      readonly sweepDeg: number;
      readonly throwFt: number;
    }
  | { readonly shape: "strip"; readonly corners: readonly Point[]; readonly throwFt: number };

export const headAt = (h: Head): Point => [h.x_ft, h.y_ft];

/** What a nozzle throws when it is not turned down: as the server says, else by its own table. */
export function tableThrow(n: Nozzle | undefined, design: Design | null, id: string): number {
  return design?.heads[id]?.table_throw_ft ?? (n ? ownThrow(n) : 10);
}

/** The throw as set, in feet. */
export function throwOf(h: Head, n: Nozzle | undefined, design: Design | null, id: string): number {
  return h.throw_ft ?? tableThrow(n, design, id);
}

export function patternOf(h: Head, n: Nozzle | undefined, throwFt: number): Pattern {
  const start = h.start_deg ?? 0;
  if (n?.strip) return { shape: "strip", corners: stripCorners(h, n.strip, throwFt), throwFt };
  return { shape: "sector", startDeg: start, sweepDeg: h.sweep_deg || 360, throwFt };
}

/** The rectangle of a strip nozzle, seen along its direction: ahead, back, left, right. */
function stripCorners(h: Head, s: NonNullable<Nozzle["strip"]>, throwFt: number): Point[] {
  const at = headAt(h);
  const [x0, x1] = [s.back ? -throwFt : 0, s.ahead ? throwFt : 0];
  const turn = (x: number, y: number): Point => rotateAbout([at[0] + x, at[1] + y], at, h.start_deg ?? 0);
  return [turn(x0, -s.right_ft), turn(x1, -s.right_ft), turn(x1, s.left_ft), turn(x0, s.left_ft)];
}

/** Steps an arc end is dragged in, in degrees, and a throw, in feet. */
export const ARC_STEP = 5;
export const ARC_STEP_COARSE = 15;

/** Within the arc a nozzle can be set to. */
export function clampSweep(n: Nozzle | undefined, sweep: number): number {
  const least = n?.arc_least_deg ?? 1;
  const most = n?.arc_most_deg ?? 360;
  return Math.min(most, Math.max(least, sweep));
}

export const fixedArc = (n: Nozzle | undefined): boolean =>
  n !== undefined && n.arc_least_deg === n.arc_most_deg;

/** A head whose first arc edge is turned to a direction; the other edge stays, unless the arc is fixed. */
export function dragStart(h: Head, n: Nozzle | undefined, deg: number): Head {
  const before = h.sweep_deg || 360;
  if (fixedArc(n) || n?.strip || before >= 360) return { ...h, start_deg: normDeg(deg) };
  const end = (h.start_deg ?? 0) + before;
  const sweep = clampSweep(n, unwrapped(end - deg, before));
  return { ...h, start_deg: normDeg(end - sweep), sweep_deg: sweep };
}

/** A head whose second arc edge is turned to a direction. */
export function dragEnd(h: Head, n: Nozzle | undefined, deg: number): Head {
  const before = h.sweep_deg || 360;
  if (fixedArc(n) || n?.strip) return { ...h, start_deg: normDeg(deg - before) };
  return { ...h, sweep_deg: clampSweep(n, unwrapped(deg - (h.start_deg ?? 0), before)) };
}

/** A sweep that does not jump between nothing and all when one edge is dragged past the other. */
function unwrapped(sweep: number, before: number): number {
  const s = normDeg(sweep);
  if (before > 270 && s < 90) return 360;
  return before < 90 && s > 270 ? 0 : s;
}

/** A head with its throw set; the table's own throw is stored as none. */
export function setThrow(h: Head, n: Nozzle | undefined, table: number, feet: number): Head {
  const least = table * (n?.turn_down.least_share ?? 0.5);
  const wanted = Math.min(table, Math.max(least, feet));
  const { throw_ft: _old, ...rest } = h;
  return wanted >= table - 1e-9 ? rest : { ...rest, throw_ft: wanted };
}

/** A head turned as a whole, anticlockwise. */
export const turnHead = (h: Head, by: number): Head => ({
  ...h,
  start_deg: normDeg((h.start_deg ?? 0) + by),
});

/** A head with its arc opened or closed by an amount, both ends alike when it would pass the first. */
export const widenHead = (h: Head, n: Nozzle | undefined, by: number): Head =>
  fixedArc(n) || n?.strip ? h : { ...h, sweep_deg: clampSweep(n, (h.sweep_deg ?? 360) + by) };

/** Heads this near an edge (feet) stand at it: set-backs run to a foot. */
const AT_EDGE_FT = 1.25;

/**
 * The arc a new head faces the planting with: the whole circle inside, half of
 * it along an edge, the angle of a corner in a corner. Null off all planting.
 */
export function facing(p: Plan, at: Point): { startDeg: number; sweepDeg: number } | null {
  for (const id of ids(p, "areas")) {
    const a = items(p, "areas")[id];
    if (a?.kind !== "planting") continue;
    const found = facingIn(a.outline, a.holes ?? [], at);
    if (found) return found;
  }
  return null;
}

function facingIn(
  outline: Ring,
  holes: readonly Ring[],
  at: Point,
): { startDeg: number; sweepDeg: number } | null {
  const along: number[] = [];
  for (const e of [outline, ...holes].flatMap((r) => edges(r))) {
    const deg = edgeDirectionNear(e, at);
    if (deg !== null) along.push(deg);
  }
  if (along.length > 0) return probe(outline, holes, at, along);
  return shapeHolds(outline, holes, at) ? { startDeg: 0, sweepDeg: 360 } : null;
}

type Ring = readonly Corner[];

/** The direction of an edge where it passes the place, if it passes near enough. */
function edgeDirectionNear(e: Edge, at: Point): number | null {
  const arc = arcOf(e.a, e.b, e.bulge);
  const foot = arc ? nearestOnArc(at, arc, e.a, e.b) : nearestOnSegment(at, e.a, e.b);
  if (distance(foot, at) > AT_EDGE_FT) return null;
  return arc ? directionDeg(arc.centre, foot) + 90 : directionDeg(e.a, e.b);
}

/**
 * Tries the directions of the nearby edges, both ways, as the ends of the arc,
 * and takes the widest span whose middle and sides all look onto the planting.
 */
function probe(
  outline: Ring,
  holes: readonly Ring[],
  at: Point,
  along: readonly number[],
): { startDeg: number; sweepDeg: number } | null {
  const dirs = [...new Set(along.flatMap((d) => [tidyDeg(d), tidyDeg(d + 180)]))].sort((a, b) => a - b);
  const looks = (deg: number) => shapeHolds(outline, holes, polar(at, deg, AT_EDGE_FT * 2.5));
  const open = dirs.map((d, i) => {
    const next = dirs[(i + 1) % dirs.length] as number;
    const sweep = normDeg(next - d) || 360;
    return { d, sweep, open: looks(d + sweep / 2) };
  });
  if (open.every((s) => s.open)) return { startDeg: 0, sweepDeg: 360 };
  let best: { startDeg: number; sweepDeg: number } | null = null;
  open.forEach((first, i) => {
    if (!first.open || open[(i + open.length - 1) % open.length]?.open) return;
    let sweep = 0;
    for (let k = 0; k < open.length && open[(i + k) % open.length]?.open; k++) {
      sweep += (open[(i + k) % open.length] as { sweep: number }).sweep;
    }
    if (!best || sweep > best.sweepDeg) best = { startDeg: first.d, sweepDeg: sweep };
  });
  return best;
}

const tidyDeg = (deg: number): number => normDeg(Math.round(deg * 1000) / 1000);

/** An arc fitted to what a nozzle can be set to, keeping its middle direction. */
export function fitArc(
  n: Nozzle,
  wanted: { startDeg: number; sweepDeg: number },
): { startDeg: number; sweepDeg: number } {
  if (n.strip) return { startDeg: wanted.startDeg, sweepDeg: 0 };
  const sweepDeg = clampSweep(n, wanted.sweepDeg);
  if (sweepDeg === wanted.sweepDeg || sweepDeg >= 360) return { startDeg: wanted.startDeg, sweepDeg };
  const middle = wanted.startDeg + wanted.sweepDeg / 2;
  return { startDeg: tidyDeg(middle - sweepDeg / 2), sweepDeg };
}

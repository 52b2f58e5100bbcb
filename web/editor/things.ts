// The drawn things of a plan, alike: where they are, how large, whether they
// may be moved, and which one is under the pointer.

import { type Bounds, boundsOf, distance, growBounds, inside, overlap, type Point } from "./geometry";
import {
  type Area,
  type Collection,
  find,
  ids,
  items,
  type Pipe,
  type Plan,
  parts,
  type Ref,
  ref,
  type Spot,
} from "./model";
import { frameHolds, frameOf } from "./picture";
import { standsApart } from "./pipenet";
import { areaOf, type Corner, centroid, pathOf, ringHolds, ringOf, shapeHolds } from "./shape";
import { indexOf } from "./snapindex";

/** The collections that are drawn, from the ground up. */
export const drawn = [
  "underlay",
  "site",
  "areas",
  "barriers",
  "ties",
  "sleeves",
  "pipes",
  "wires",
  "trees",
  "keep_dry",
  "elevations",
  "sensors",
  "controller",
  "boxes",
  "nodes",
  "supply",
  "valves",
  "notes",
  "cans",
  "heads",
] as const satisfies readonly Collection[];
export type Drawn = (typeof drawn)[number];

/** The collections whose things stand at one place, those a click prefers last. */
export const placed = [
  "trees",
  "keep_dry",
  "elevations",
  "sensors",
  "controller",
  "boxes",
  "nodes",
  "supply",
  "valves",
  "notes",
  "cans",
  "heads",
] as const;
export type Placed = (typeof placed)[number];

export const isPlaced = (c: Collection): c is Placed => (placed as readonly string[]).includes(c);
export const isDrawn = (c: Collection): c is Drawn => (drawn as readonly string[]).includes(c);

/** The collections whose shapes close: the rest are lines or places. */
export const isClosed = (c: Collection): c is "site" | "areas" => c === "site" || c === "areas";

/** The collections whose things are one straight stretch between two ends, and stay so. */
export const isStretch = (c: Collection): c is "ties" | "sleeves" => c === "ties" || c === "sleeves";

/** The collections whose lines run straight from corner to corner: what is laid in the ground is not bowed. */
export const isUnbowed = (c: Collection): boolean => isStretch(c) || c === "pipes" || c === "wires";

/** The collections whose things can be locked. */
export const lockable = [
  "areas",
  "barriers",
  "trees",
  "keep_dry",
  "heads",
  "nodes",
  "pipes",
  "sleeves",
  "wires",
  "boxes",
  "controller",
  "sensors",
  "underlay",
] as const;
export type Lockable = (typeof lockable)[number];
export const isLockable = (c: Collection): c is Lockable => (lockable as readonly string[]).includes(c);

/**
 * All drawn things, heads last. The picture under them is no part of the drawing: it is chosen by itself;
 * and where pipes join a head or a valve, that is the thing.
 */
export const allThings = (p: Plan): Ref[] =>
  drawn.flatMap((c) =>
    c === "underlay"
      ? []
      : ids(p, c)
          .filter((id) => c !== "nodes" || standsApart(p, id))
          .map((id) => ref(c, id)),
  );

/** The rings of an area, or the one line of anything else, as one list. */
export function ringsOf(p: Plan, r: Ref): readonly (readonly Corner[])[] {
  const [c, id] = parts(r);
  switch (c) {
    case "areas": {
      const a = find(p, "areas", id);
      return a ? [a.outline, ...(a.holes ?? [])] : [];
    }
    case "site": {
      const lot = find(p, "site", id);
      return lot ? [lot.outline] : [];
    }
    case "barriers": {
      const b = find(p, "barriers", id);
      return b ? [b.line] : [];
    }
    case "ties":
    case "sleeves": {
      const t = find(p, c, id);
      return t ? [[t.from, t.to].map((s): Corner => [s.x_ft, s.y_ft])] : [];
    }
    case "wires": {
      const w = find(p, "wires", id);
      return w ? [w.line] : [];
    }
    case "pipes": {
      const t = find(p, "pipes", id);
      return t ? [pipeLine(p, t)] : [];
    }
    case "underlay": {
      const frame = p.underlay ? frameOf(p.underlay) : null;
      return frame ? [[...frame, frame[0]]] : [];
    }
    default:
      return [];
  }
}

/** The way of a pipe from node to node; a node that is not there is left out. */
export const pipeLine = (p: Plan, pipe: Pipe): Corner[] => lineThrough(pipe, (id) => find(p, "nodes", id));

/** The same among nodes that are looked up otherwise. */
export function lineThrough(pipe: Pipe, node: (id: string) => Spot | undefined): Corner[] {
  const end = (id: string): Corner[] => {
    const n = node(id);
    return n ? [[n.x_ft, n.y_ft]] : [];
  };
  return [...end(pipe.from), ...(pipe.via ?? []), ...end(pipe.to)];
}

/** Where a thing that stands at one place stands. */
export function spotOf(p: Plan, r: Ref): Point | null {
  const [c, id] = parts(r);
  if (!isPlaced(c)) return null;
  const t = find(p, c, id);
  return t ? [t.x_ft, t.y_ft] : null;
}

/** A place that stands for the thing: its spot, or the middle of its shape. */
export function middleOf(p: Plan, r: Ref): Point | null {
  const spot = spotOf(p, r);
  if (spot) return spot;
  const first = ringsOf(p, r)[0];
  if (!first || first.length === 0) return null;
  return isClosed(parts(r)[0]) ? centroid(ringOf(first, 0.25)) : centroid(pathOf(first, 0.25));
}

export function thingBounds(p: Plan, r: Ref): Bounds | null {
  const spot = spotOf(p, r);
  if (spot) return boundsOf([spot]);
  const flat = isClosed(parts(r)[0]) ? ringOf : pathOf;
  return boundsOf(ringsOf(p, r).flatMap((ring) => flat(ring, 0.25)));
}

/** The bounds of many things together. */
export function boundsOfAll(p: Plan, refs: Iterable<Ref>): Bounds | null {
  const corners: Point[] = [];
  for (const r of refs) {
    const b = thingBounds(p, r);
    if (b) corners.push([b.minX, b.minY], [b.maxX, b.maxY]);
  }
  return boundsOf(corners);
}

/** The picture under the drawing, of which there is at most one. */
export const PICTURE: Ref = "underlay/picture";

const boundsKept = new WeakMap<Plan, { bounds: Bounds | null }>();

/** The bounds of everything drawn, or of the picture while nothing is. Kept as long as the document. */
export function planBounds(p: Plan): Bounds | null {
  const kept = boundsKept.get(p);
  if (kept) return kept.bounds;
  const bounds = boundsOfAll(p, allThings(p)) ?? thingBounds(p, PICTURE);
  boundsKept.set(p, { bounds });
  return bounds;
}

export function isLocked(p: Plan, r: Ref): boolean {
  const [c, id] = parts(r);
  if (!isLockable(c)) return false;
  const of = c === "controller" ? p.controller : find(p, c, id); // what stands at its places is locked with it
  return (of as { locked?: boolean } | undefined)?.locked ?? false;
}

/** Whether a thing is to be looked at; absent: all are. */
export type Sees = (r: Ref) => boolean;
const all: Sees = () => true;

/**
 * The thing meant by a place: the nearest one that stands at a place within
 * reach, else the nearest line (a sleeve before the pipe in it, which can be meant
 * beside it), else the smallest area around it. The property
 * line is meant where no area's edge lies on it, or outside all areas. The
 * picture is meant last, and only while it is not locked.
 */
export function thingAt(p: Plan, at: Point, reach: number, sees: Sees = all): Ref | null {
  const spot = placedAt(p, at, reach, sees);
  if (spot) return spot;
  const near = indexOf(p)
    .edgesNear(at, reach)
    .filter((e) => sees(e.ref));
  const among = (...cs: Collection[]) => near.find((e) => cs.includes(parts(e.ref)[0]))?.ref ?? null;
  const line = among("sleeves") ?? among("pipes", "wires") ?? among("barriers", "ties");
  if (line) return line;
  const lot = among("site");
  return (lot && !among("areas") ? lot : areaAt(p, at, (_, r) => sees(r))) ?? lot ?? pictureAt(p, at, sees);
}

function pictureAt(p: Plan, at: Point, sees: Sees): Ref | null {
  const u = p.underlay;
  return u && !u.locked && sees(PICTURE) && frameHolds(u, at) ? PICTURE : null;
}

function placedAt(p: Plan, at: Point, reach: number, sees: Sees): Ref | null {
  let best: { ref: Ref; rank: number; d: number } | null = null;
  for (const s of indexOf(p).pointsNear(at, reach)) {
    const c = parts(s.ref)[0];
    if (!isPlaced(c) || !sees(s.ref)) continue;
    const rank = placed.indexOf(c);
    const d = distance(s.at, at);
    // Heads before the rest, then the nearer.
    if (!best || rank > best.rank || (rank === best.rank && d < best.d)) best = { ref: s.ref, rank, d };
  }
  return best?.ref ?? null;
}

/** The smallest area around a place; water under no-dig ground is reached through it. */
export function areaAt(p: Plan, at: Point, only?: (a: Area, r: Ref) => boolean): Ref | null {
  let best: { ref: Ref; size: number } | null = null;
  for (const id of ids(p, "areas")) {
    const a = items(p, "areas")[id];
    if (!a || (only && !only(a, ref("areas", id))) || !shapeHolds(a.outline, a.holes ?? [], at)) continue;
    const size = areaOf(a.outline);
    if (!best || size < best.size) best = { ref: ref("areas", id), size };
  }
  return best?.ref ?? null;
}

/** The smallest area other than one that holds a whole outline, for making a hole. */
export function areaAround(p: Plan, outline: readonly Corner[], except?: Ref): Ref | null {
  const ring = ringOf(outline);
  let best: { ref: Ref; size: number } | null = null;
  for (const id of ids(p, "areas")) {
    const r = ref("areas", id);
    const a = items(p, "areas")[id];
    if (!a || r === except) continue;
    const outer = ringOf(a.outline);
    if (!ring.every((c) => ringHolds(outer, c))) continue;
    const size = areaOf(a.outline);
    if (!best || size < best.size) best = { ref: r, size };
  }
  return best?.ref ?? null;
}

/**
 * The things a dragged box takes: from left to right those wholly inside, from
 * right to left also those it crosses. Locked things are left alone.
 */
export function boxed(p: Plan, from: Point, to: Point, sees: Sees = all): Ref[] {
  const box = boundsOf([from, to]);
  if (!box) return [];
  const crossing = to[0] < from[0];
  return allThings(p).filter((r) => {
    if (isLocked(p, r) || !sees(r)) return false;
    const b = thingBounds(p, r);
    if (!b || !overlap(b, box)) return false;
    return inside(b, box) || (crossing && crosses(p, r, box));
  });
}

function crosses(p: Plan, r: Ref, box: Bounds): boolean {
  if (spotOf(p, r)) return true; // its bounds are the spot itself
  const closed = isClosed(parts(r)[0]);
  return ringsOf(p, r).some((ring) => {
    const path = closed ? ringOf(ring, 0.1) : pathOf(ring, 0.1);
    const n = closed ? path.length : path.length - 1;
    for (let i = 0; i < n; i++) {
      if (cuts(path[i] as Point, path[(i + 1) % path.length] as Point, box)) return true;
    }
    return false;
  });
}

/** Whether a segment comes into a box (Liang and Barsky's clipping, 1984). */
function cuts(a: Point, b: Point, box: Bounds): boolean {
  let [t0, t1] = [0, 1];
  const d = [b[0] - a[0], b[1] - a[1]] as const;
  const sides: [number, number][] = [
    [-d[0], a[0] - box.minX],
    [d[0], box.maxX - a[0]],
    [-d[1], a[1] - box.minY],
    [d[1], box.maxY - a[1]],
  ];
  for (const [q, r] of sides) {
    if (q === 0) {
      if (r < 0) return false;
    } else if (q < 0) t0 = Math.max(t0, r / q);
    else t1 = Math.min(t1, r / q);
  }
  return t0 <= t1;
}

/** Bounds with room around them, for showing things that may have no size. */
export const roomAround = (b: Bounds): Bounds => growBounds(b, Math.max(3, 0.1 * (b.maxX - b.minX)));

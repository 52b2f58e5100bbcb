// Where in a shape its name may be written: the middle if that is well inside,
// else the roomiest place of a coarse grid; and the other places of that grid.

import { boundsOf, distance, nearestOnSegment, type Point } from "../geometry";
import type { Area } from "../model";
import { centroid, ringHolds, ringOf } from "../shape";

export interface LabelPlace {
  readonly at: Point;
  /** Free distance around it, in feet. */
  readonly room: number;
}

const middles = new WeakMap<Area, LabelPlace>();
const all = new WeakMap<Area, readonly LabelPlace[]>();

/** The one best place: what a name has until it is known what else is near. */
export function labelPlace(a: Area): LabelPlace {
  const known = middles.get(a);
  if (known) return known;
  const made = find(a);
  middles.set(a, made);
  return made;
}

/** The best place and all others inside, the roomiest first. */
export function labelPlaces(a: Area): readonly LabelPlace[] {
  const known = all.get(a);
  if (known) return known;
  const first = labelPlace(a);
  const rest = tried(a).filter((l) => l.room > 0);
  const made = [...(first.room > 0 ? [first] : []), ...rest.sort((k, l) => l.room - k.room)];
  all.set(a, made);
  return made;
}

/** Places tried along each side of the bounds. */
const TRIES = 11;

type Room = (p: Point) => number;

/** How far a place is from the nearest edge; less than 0 outside. */
function roomIn(a: Area): Room {
  const rings = [a.outline, ...(a.holes ?? [])].map((r) => ringOf(r, 0.5));
  const [outer = [], ...holes] = rings;
  const within = (p: Point) => ringHolds(outer, p) && !holes.some((h) => ringHolds(h, p));
  return (p) => (within(p) ? Math.min(...rings.map((r) => gap(r, p))) : -1);
}

function find(a: Area): LabelPlace {
  const outer = ringOf(a.outline, 0.5);
  const room = roomIn(a);
  const middle = centroid(outer);
  const best: LabelPlace = { at: middle, room: room(middle) };
  const b = boundsOf(outer);
  if (!b || best.room > Math.max(b.maxX - b.minX, b.maxY - b.minY) / 6) return best;
  return tried(a).reduce((top, l) => (l.room > top.room * 1.05 ? l : top), best);
}

function tried(a: Area): LabelPlace[] {
  const b = boundsOf(ringOf(a.outline, 0.5));
  if (!b) return [];
  const room = roomIn(a);
  const along = (from: number, to: number, i: number) => from + ((i + 0.5) / TRIES) * (to - from);
  const steps = Array.from({ length: TRIES }, (_, i) => i);
  return steps.flatMap((i) =>
    steps.map((j): LabelPlace => {
      const at: Point = [along(b.minX, b.maxX, i), along(b.minY, b.maxY, j)];
      return { at, room: room(at) };
    }),
  );
}

function gap(ring: readonly Point[], p: Point): number {
  let best = Infinity;
  for (let i = 0; i < ring.length; i++) {
    best = Math.min(
      best,
      distance(p, nearestOnSegment(p, ring[i] as Point, ring[(i + 1) % ring.length] as Point)),
    );
  }
  return best;
}

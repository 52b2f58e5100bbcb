// Where in a shape its name is written: the middle if that is well inside, else
// the roomiest place of a coarse grid.

import { boundsOf, distance, nearestOnSegment, type Point } from "../geometry";
import type { Area } from "../model";
import { centroid, ringHolds, ringOf } from "../shape";

export interface LabelPlace {
  readonly at: Point;
  /** Free distance around it, in feet. */
  readonly room: number;
}

const kept = new WeakMap<Area, LabelPlace>();

export function labelPlace(a: Area): LabelPlace {
  const known = kept.get(a);
  if (known) return known;
  const made = find(a);
  kept.set(a, made);
  return made;
}

/** Places tried along each side of the bounds. */
const TRIES = 11;

function find(a: Area): LabelPlace {
  const rings = [a.outline, ...(a.holes ?? [])].map((r) => ringOf(r, 0.5));
  const [outer = [], ...holes] = rings;
  const within = (p: Point) => ringHolds(outer, p) && !holes.some((h) => ringHolds(h, p));
  const room = (p: Point) => (within(p) ? Math.min(...rings.map((r) => gap(r, p))) : -1);
  const middle = centroid(outer);
  let best: LabelPlace = { at: middle, room: room(middle) };
  const b = boundsOf(outer);
  if (!b) return best;
  const side = Math.max(b.maxX - b.minX, b.maxY - b.minY);
  if (best.room > side / 6) return best;
  for (let i = 0; i < TRIES; i++) {
    for (let j = 0; j < TRIES; j++) {
      const p: Point = [
        b.minX + ((i + 0.5) / TRIES) * (b.maxX - b.minX),
        b.minY + ((j + 0.5) / TRIES) * (b.maxY - b.minY),
      ];
      const free = room(p);
      if (free > best.room * 1.05) best = { at: p, room: free };
    }
  }
  return best;
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

// Ties go with the corners they were measured to: where a corner is moved, the
// end of a tie that stands on it moves too, so that the tie goes on telling how
// far the drawing is from what was measured.

import { distance, type Point } from "./geometry";
import { find, ids, items, type Plan, parts, put, type Ref, ref, type Spot } from "./model";
import { place } from "./shape";
import { allThings, drawn, ringsOf, spotOf } from "./things";

/** A tie ends at a corner no farther than a quarter inch from it, in feet. */
const ON_FT = 1 / 48;

const pointOf = (s: Spot): Point => [s.x_ft, s.y_ft];

/**
 * The plan after a change, with the ends of ties where the corners went that
 * they stood on. An end at a corner that something else has too stays: it may
 * have been measured to that. Ties the change itself moved are left alone.
 */
export function withTiesFollowing(was: Plan, next: Plan): Plan {
  const ties = ids(next, "ties").filter((id) => next.ties?.[id] === was.ties?.[id]);
  if (ties.length === 0) return next;
  const moved = cornersMoved(was, next);
  const onMoved = (s: Spot): [Point, Point] | undefined =>
    moved.find(([from]) => distance(from, pointOf(s)) <= ON_FT);
  const ends = ties.flatMap((id) => [next.ties?.[id]?.from, next.ties?.[id]?.to]);
  if (!ends.some((s) => s && onMoved(s))) return next;
  const still = cornersLeft(was, next);
  const to = (end: Spot): Spot => {
    const gone = onMoved(end);
    if (!gone || still.some((p) => distance(p, pointOf(end)) <= ON_FT)) return end;
    return { x_ft: end.x_ft + gone[1][0] - gone[0][0], y_ft: end.y_ft + gone[1][1] - gone[0][1] };
  };
  return ties.reduce((plan, id) => {
    const t = find(plan, "ties", id);
    if (!t) return plan;
    const [from, end] = [to(t.from), to(t.to)];
    return from === t.from && end === t.to ? plan : put(plan, "ties", id, { ...t, from, to: end });
  }, next);
}

/** The corners that changed their place, from and to. Looks only at what changed: this runs with every move of a drag. */
function cornersMoved(was: Plan, next: Plan): [Point, Point][] {
  const out: [Point, Point][] = [];
  for (const c of drawn) {
    const [before, now] = [items(was, c), items(next, c)];
    if (c === "ties" || before === now) continue;
    for (const id in now) {
      if (before[id] === now[id]) continue;
      const [from, to] = [cornersOf(was, ref(c, id)), cornersOf(next, ref(c, id))];
      if (from.length !== to.length) continue;
      from.forEach((p, i) => {
        if (distance(p, to[i] as Point) > 0) out.push([p, to[i] as Point]);
      });
    }
  }
  return out;
}

/** The corners of things that are where they were. */
function cornersLeft(was: Plan, next: Plan): Point[] {
  return allThings(next).flatMap((r) => {
    if (parts(r)[0] === "ties") return [];
    const now = cornersOf(next, r);
    const before = cornersOf(was, r);
    return now.filter((p, i) => before[i] && distance(p, before[i] as Point) === 0);
  });
}

function cornersOf(p: Plan, r: Ref): Point[] {
  const spot = spotOf(p, r);
  return spot ? [spot] : ringsOf(p, r).flatMap((ring) => ring.map(place));
}

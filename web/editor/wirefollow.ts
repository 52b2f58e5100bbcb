// The ends of wire runs go with the controller, the sensor or the splice box they
// end at, when that is moved.

import { distance, type Point } from "./geometry";
import {
  type Change,
  ids,
  items,
  type Plan,
  putMany,
  type Ref,
  ref,
  type Vertex,
  type WireRun,
} from "./model";
import { spotOf } from "./things";

/** A run ends at a place no farther than this from it, in feet. */
const ON_FT = 0.05;

/**
 * The plan after a change, with the ends of wire runs where the places went that
 * they ended at. Runs the change itself touched, and locked ones, are left alone.
 */
export function withWiresFollowing(was: Plan, next: Plan): Plan {
  const moved = placesMoved(was, next);
  if (moved.length === 0) return next;
  const changes: Change[] = [];
  for (const id of ids(next, "wires")) {
    const run = next.wires?.[id] as WireRun;
    if (run.locked || run !== was.wires?.[id]) continue;
    const last = run.line.length - 1;
    const line = run.line.map((v, i) => (i === 0 || i === last ? taken(v, moved) : v));
    if (line.some((v, i) => v !== run.line[i])) changes.push({ in: "wires", id, thing: { ...run, line } });
  }
  return changes.length > 0 ? putMany(next, changes) : next;
}

/** A corner where the place went it stood at; itself when it stood at none. */
function taken(v: Vertex, moved: readonly [Point, Point][]): Vertex {
  const at = moved.find(([from]) => distance(from, [v[0], v[1]]) <= ON_FT);
  if (!at) return v;
  const [x, y, ...bulge] = v;
  return [x + at[1][0] - at[0][0], y + at[1][1] - at[0][1], ...bulge] as Vertex;
}

/** What wire ends at and what changed its place, from and to: this runs with every move of a drag. */
function placesMoved(was: Plan, next: Plan): [Point, Point][] {
  const changed = (["sensors", "boxes"] as const).flatMap((c): Ref[] => {
    const [before, now] = [items(was, c), items(next, c)];
    return before === now
      ? []
      : Object.keys(now).flatMap((id) => (before[id] === now[id] ? [] : [ref(c, id)]));
  });
  if (was.controller !== next.controller) changed.push("controller/at");
  return changed.flatMap((r): [Point, Point][] => {
    const [from, to] = [spotOf(was, r), spotOf(next, r)];
    return from && to && distance(from, to) > 0 ? [[from, to]] : [];
  });
}

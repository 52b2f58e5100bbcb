// Splitting: an area by a straight line across it, a wall at one of its corners.
// Cuts of straight edges lie on them; an arc is cut into two arcs of its circle.

import { arcOf, segmentMeetsArc } from "./arcs";
import { copyName } from "./edit";
import {
  add,
  alongShare,
  directionDeg,
  distance,
  meet,
  middle,
  minus,
  nearestOnSegment,
  normDeg,
  type Point,
  times,
} from "./geometry";
import { type Area, find, type Line, newID, type Outline, type Plan, put, type Ref, ref } from "./model";
import { capital, nameOf } from "./names";
import {
  areaOf,
  bulgeOf,
  type Corner,
  corner,
  type Edge,
  edges,
  faultOf,
  LATTICE,
  lengthOf,
  place,
  ringHolds,
  ringOf,
} from "./shape";

/** What a split or a join makes, or the sentence that says why it makes nothing. */
export type Changed =
  | { readonly plan: Plan; readonly label: string; readonly select: readonly Ref[] }
  | { readonly why: string };

/** A place where a ring is cut: on the edge that leaves a corner, at a share of its length. */
interface Cut {
  readonly edge: number;
  readonly share: number;
  readonly at: Point;
}

/** Splits an area along the straight line between two places, which must cross its outline twice. */
export function splitArea(p: Plan, id: string, from: Point, to: Point): Changed {
  const area = find(p, "areas", id);
  if (!area) return { why: "That area is no longer here." };
  const name = capital(nameOf(p, ref("areas", id)));
  const [first, second, more] = cutsOf(area.outline, from, to);
  if (!first || !second) {
    return {
      why: `The line must run right across ${name}: in over one edge and out over another. Set both ends on its edges or beyond.`,
    };
  }
  if (more) return { why: `The line crosses the edge of ${name} more than twice. Split it in steps.` };
  if (!ringHolds(ringOf(area.outline), middle(first.at, second.at))) {
    return { why: `Between its crossings the line runs outside ${name}. Draw it across the inside.` };
  }
  if ((area.holes ?? []).some((h) => cutsOf(h, first.at, second.at).length > 0)) {
    return { why: `The line runs through a hole of ${name}. Draw it beside the hole.` };
  }
  const two = [chain(area.outline, first, second), chain(area.outline, second, first)] as const;
  if (two.some((o) => faultOf(o) !== null)) {
    return { why: `The line runs along the edge of ${name} and would leave nothing on one side.` };
  }
  return { ...parted(p, id, area, two), label: `Split ${nameOf(p, ref("areas", id))}` };
}

/** The larger part keeps the id and the name; holes go with the part they lie in. */
function parted(p: Plan, id: string, area: Area, outlines: readonly [Outline, Outline]) {
  const [large, small] = [...outlines].sort((a, b) => areaOf(b) - areaOf(a)) as [Outline, Outline];
  const ring = ringOf(large);
  const inLarge = (h: Outline) => ringHolds(ring, place(h[0] as Corner));
  const { holes = [], ...rest } = area;
  const part = (outline: Outline, own: Outline[]): Area =>
    own.length > 0 ? { ...rest, outline, holes: own } : { ...rest, outline };
  const other = newID(p, "areas");
  const kept = put(p, "areas", id, part(large, holes.filter(inLarge)));
  const beside = part(
    small,
    holes.filter((h) => !inLarge(h)),
  );
  const plan = put(kept, "areas", other, { ...beside, name: copyName(p, area.name) });
  return { plan, select: [ref("areas", id), ref("areas", other)] };
}

/** Where the line between two places cuts a ring, in the order of the ring; a corner is met once. */
function cutsOf(ring: readonly Corner[], from: Point, to: Point): Cut[] {
  const out: Cut[] = [];
  const length = distance(from, to);
  if (length <= LATTICE) return [];
  // A hair longer at both ends, so that an end set on an edge is on it.
  const hair = times(minus(to, from), LATTICE / length);
  const [a, b] = [minus(from, hair), add(to, hair)];
  const all = edges(ring);
  all.forEach((e, edge) => {
    if (distance(e.a, nearestOnSegment(e.a, a, b)) <= LATTICE) out.push({ edge, share: 0, at: e.a });
  });
  all.forEach((e, edge) => {
    for (const at of meetings(e, a, b)) {
      const cut = cutAt(all, edge, ends(at, from, to));
      if (!out.some((c) => distance(c.at, cut.at) <= LATTICE)) out.push(cut);
    }
  });
  return out.sort((c, d) => c.edge - d.edge || c.share - d.share);
}

const ends = (at: Point, from: Point, to: Point): Point =>
  [from, to].find((q) => distance(q, at) <= LATTICE) ?? at;

function cutAt(all: readonly Edge[], edge: number, at: Point): Cut {
  const e = all[edge] as Edge;
  if (distance(at, e.a) <= LATTICE) return { edge, share: 0, at: e.a };
  if (distance(at, e.b) <= LATTICE) return { edge: (edge + 1) % all.length, share: 0, at: e.b };
  const arc = arcOf(e.a, e.b, e.bulge);
  if (!arc) return { edge, share: alongShare(at, e.a, e.b), at };
  const turned = normDeg(Math.sign(arc.sweepDeg) * (directionDeg(arc.centre, at) - arc.startDeg));
  return { edge, share: turned / Math.abs(arc.sweepDeg), at };
}

function meetings(e: Edge, a: Point, b: Point): Point[] {
  const arc = arcOf(e.a, e.b, e.bulge);
  if (arc) return segmentMeetsArc(a, b, arc);
  const at = meet(a, b, e.a, e.b);
  if (!at) return [];
  // On an upright or a level edge to the last digit.
  return [[e.a[0] === e.b[0] ? e.a[0] : at[0], e.a[1] === e.b[1] ? e.a[1] : at[1]]];
}

/** The bulge of a share of an arc: the tangent of that share of a quarter of its angle. */
const shareOf = (bulge: number, share: number): number =>
  bulge === 0 || share >= 1 ? bulge : Math.tan(Math.atan(bulge) * share);

/** The ring from one cut to the other, closed by the straight cut. */
function chain(ring: Outline, c: Cut, d: Cut): Outline {
  const n = ring.length;
  const bulge = (i: number) => bulgeOf(ring[i % n] as Corner);
  const v = (at: Point, b: number) => corner(at, b) as Outline[number];
  if (c.edge === d.edge && d.share > c.share) {
    return [v(c.at, shareOf(bulge(c.edge), d.share - c.share)), v(d.at, 0)];
  }
  const out: Outline = [v(c.at, shareOf(bulge(c.edge), 1 - c.share))];
  for (let k = c.edge + 1; k % n !== d.edge; k++) out.push(ring[k % n] as Outline[number]);
  if (d.share > 0) out.push(v(place(ring[d.edge] as Corner), shareOf(bulge(d.edge), d.share)));
  out.push(v(d.at, 0));
  return out;
}

/** Splits a wall at a corner between its ends, by the corner's number from 0. */
export function splitBarrier(p: Plan, id: string, at: number): Changed {
  const wall = find(p, "barriers", id);
  if (!wall) return { why: "That wall is no longer here." };
  const name = nameOf(p, ref("barriers", id));
  if (at < 1 || at > wall.line.length - 2) {
    return {
      why: `${capital(name)} is split at a corner between its ends. Add a corner there first, if it has none.`,
    };
  }
  const end = wall.line[at] as Corner;
  const two: [Line, Line] = [[...wall.line.slice(0, at), [end[0], end[1]]], wall.line.slice(at)];
  const [long, short] = two.sort((a, b) => lengthOf(b) - lengthOf(a)) as [Line, Line];
  const other = newID(p, "barriers");
  const kept = put(p, "barriers", id, { ...wall, line: long });
  const beside = { ...wall, line: short, name: copyName(p, wall.name, "barriers") };
  return {
    plan: put(kept, "barriers", other, beside),
    label: `Split ${name}`,
    select: [ref("barriers", id), ref("barriers", other)],
  };
}

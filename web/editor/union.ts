// The union of two areas: both boundaries are cut where they meet, the pieces
// inside the other area and those both have back to back fall away, and what is
// left is followed round.

import { arcOf, edgeMiddle, nearestOnArc, segmentMeetsArc, tangentDeg } from "./arcs";
import {
  alongShare,
  cross,
  distance,
  dot,
  meet,
  minus,
  nearestOnSegment,
  type Point,
  turnDeg,
} from "./geometry";
import type { Area, Outline } from "./model";
import { bulgeOf, type Corner, corner, LATTICE, place, shapeHolds, signedArea, turnedRing } from "./shape";

/** A directed piece of a boundary between two nodes, the inside on its left. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly bulge: number;
  readonly of: 0 | 1;
}

/** Places that are one when nearer than the lattice. */
class Nodes {
  readonly at: Point[] = [];
  /** The areas each is a corner of. */
  readonly corners: Set<0 | 1>[] = [];

  of(p: Point, area?: 0 | 1): number {
    let i = this.at.findIndex((q) => distance(p, q) <= LATTICE);
    if (i < 0) {
      i = this.at.push(p) - 1;
      this.corners.push(new Set());
    }
    if (area !== undefined) this.corners[i]?.add(area);
    return i;
  }

  place(i: number): Point {
    return this.at[i] as Point;
  }
}

/**
 * The rings of two areas together: outlines anticlockwise, holes clockwise.
 * "arc" when an arc of one meets the other elsewhere than at its ends.
 */
export function unionOf(a: Area, b: Area): Outline[] | "arc" {
  const nodes = new Nodes();
  const whole = [...boundary(nodes, a, 0), ...boundary(nodes, b, 1)];
  const cut = pieces(nodes, whole);
  if (cut === "arc") return "arc";
  const kept = cut.filter((e) => survives(nodes, e, cut, e.of === 0 ? b : a));
  return rings(nodes, kept);
}

function boundary(nodes: Nodes, area: Area, of: 0 | 1): Piece[] {
  const way = (ring: Outline, sign: 1 | -1): readonly Corner[] =>
    Math.sign(signedArea(ring)) === sign ? ring : turnedRing(ring);
  const all = [way(area.outline, 1), ...(area.holes ?? []).map((h) => way(h, -1))];
  return all.flatMap((ring) => {
    const at = ring.map((c) => nodes.of(place(c), of));
    return ring.map((c, i) => ({
      from: at[i] as number,
      to: at[(i + 1) % at.length] as number,
      bulge: bulgeOf(c),
      of,
    }));
  });
}

/** Every edge cut where the other area's boundary meets it. */
function pieces(nodes: Nodes, whole: readonly Piece[]): Piece[] | "arc" {
  const [a, b] = [whole.filter((e) => e.of === 0), whole.filter((e) => e.of === 1)];
  for (const e of a) {
    for (const f of b) {
      if (e.bulge !== 0 || f.bulge !== 0) {
        if (cutsArc(nodes, e, f)) return "arc";
        continue;
      }
      const at = meet(nodes.place(e.from), nodes.place(e.to), nodes.place(f.from), nodes.place(f.to));
      if (at) nodes.of(at);
    }
  }
  return whole
    .filter((e) => e.from !== e.to)
    .flatMap((e) => (e.bulge === 0 ? straightPieces(nodes, e) : [e]));
}

function straightPieces(nodes: Nodes, e: Piece): Piece[] {
  const [p, q] = [nodes.place(e.from), nodes.place(e.to)];
  const on = nodes.at
    .map((at, i) => ({ i, share: alongShare(at, p, q), off: distance(at, nearestOnSegment(at, p, q)) }))
    .filter((n) => n.i !== e.from && n.i !== e.to && n.off <= LATTICE && n.share > 0 && n.share < 1)
    .sort((m, n) => m.share - n.share);
  const stops = [e.from, ...on.map((n) => n.i), e.to];
  return stops.slice(1).map((to, i) => ({ ...e, from: stops[i] as number, to }));
}

/** Whether one of two edges is an arc that the other meets elsewhere than at the arc's ends. */
function cutsArc(nodes: Nodes, e: Piece, f: Piece): boolean {
  if (sameWay(e, f) || sameWay(e, back(f))) return false;
  const away = (of: Piece) => (at: Point) =>
    distance(at, nodes.place(of.from)) > LATTICE && distance(at, nodes.place(of.to)) > LATTICE;
  const ends = (x: Piece): [Point, Point] => [nodes.place(x.from), nodes.place(x.to)];
  const oneWay = (arcEdge: Piece, other: Piece): boolean => {
    const [p, q] = ends(arcEdge);
    const arc = arcOf(p, q, arcEdge.bulge);
    if (!arc) return false;
    const off = (at: Point) => distance(at, nearestOnArc(at, arc, p, q));
    if (ends(other).some((at) => off(at) <= LATTICE && away(arcEdge)(at))) return true;
    return runs(ends(other), other.bulge).some(([c, d]) => segmentMeetsArc(c, d, arc).some(away(arcEdge)));
  };
  return oneWay(e, f) || oneWay(f, e);
}

/** An edge as straight runs: an arc in short chords, enough to see whether it is met at all. */
function runs([p, q]: [Point, Point], bulge: number): [Point, Point][] {
  if (bulge === 0) return [[p, q]];
  const path = [p, ...chords(p, q, bulge, 5)];
  return path.slice(1).map((at, i) => [path[i] as Point, at]);
}

function chords(p: Point, q: Point, bulge: number, depth: number): Point[] {
  if (depth === 0) return [q];
  const m = edgeMiddle(p, q, bulge);
  const half = Math.tan(Math.atan(bulge) / 2);
  return [...chords(p, m, half, depth - 1), ...chords(m, q, half, depth - 1)];
}

const back = (e: Piece): Piece => ({ ...e, from: e.to, to: e.from, bulge: -e.bulge });
const sameWay = (e: Piece, f: Piece): boolean =>
  e.from === f.from && e.to === f.to && Math.abs(e.bulge - f.bulge) < 1e-6;

/** A piece stays unless the other area has it back to back, or has it too and is second, or lies round it. */
function survives(nodes: Nodes, e: Piece, all: readonly Piece[], other: Area): boolean {
  const theirs = all.filter((f) => f.of !== e.of);
  if (theirs.some((f) => sameWay(e, back(f)))) return false;
  if (theirs.some((f) => sameWay(e, f))) return e.of === 0;
  const mid = edgeMiddle(nodes.place(e.from), nodes.place(e.to), e.bulge);
  return !shapeHolds(other.outline, other.holes ?? [], mid);
}

/** The closed rings the pieces make, always by the sharpest left turn, so that none touches itself. */
function rings(nodes: Nodes, kept: readonly Piece[]): Outline[] {
  const left = new Set(kept);
  const out: Outline[] = [];
  for (const first of kept) {
    if (!left.has(first)) continue;
    const ring: Piece[] = [];
    let e: Piece | undefined = first;
    while (e) {
      left.delete(e);
      ring.push(e);
      e = e.to === first.from ? undefined : nextLeft(nodes, e, left);
    }
    if (ring.at(-1)?.to !== first.from) continue; // a stray edge encloses nothing
    const outline = tidied(nodes, ring);
    if (outline.length > 1 && signedArea(outline) !== 0) out.push(outline);
  }
  return out;
}

function nextLeft(nodes: Nodes, e: Piece, left: ReadonlySet<Piece>): Piece | undefined {
  const tangent = (x: Piece) => tangentDeg(nodes.place(x.from), nodes.place(x.to), x.bulge);
  const now = tangent(e).arriving;
  const turn = (x: Piece) => turnDeg(now, tangent(x).leaving);
  const out = [...left].filter((x) => x.from === e.to);
  return out.reduce<Piece | undefined>((best, x) => (best && turn(best) >= turn(x) ? best : x), undefined);
}

/** The ring without the corners that only came from joining and lie on a straight edge now. */
function tidied(nodes: Nodes, ring: readonly Piece[]): Outline {
  return ring
    .filter((e, i) => {
      const before = ring[(i + ring.length - 1) % ring.length] as Piece;
      const own = before.of === e.of && nodes.corners[e.from]?.has(e.of);
      return own || before.bulge !== 0 || e.bulge !== 0 || !straightOn(nodes, before, e);
    })
    .map((e) => corner(nodes.place(e.from), e.bulge) as Outline[number]);
}

function straightOn(nodes: Nodes, e: Piece, f: Piece): boolean {
  const u = minus(nodes.place(e.to), nodes.place(e.from));
  const w = minus(nodes.place(f.to), nodes.place(f.from));
  const long = Math.max(Math.hypot(...u), Math.hypot(...w));
  return dot(u, w) > 0 && Math.abs(cross(u, w)) <= LATTICE * long;
}

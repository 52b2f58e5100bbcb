// Closed outlines and open lines of the plan: edges, area, what lies inside,
// and what is wrong with an outline while it is being drawn. The server has
// the last word (internal/geom); both are tested on the same vectors.

import { arcOf, edgeLength, flattenEdge } from "./arcs";
import { cross, distance, dot, meet, minus, type Point } from "./geometry";

/** A corner as the plan keeps it: x, y and perhaps the bulge of the edge that leaves it. */
export type Corner = readonly [number, number] | readonly [number, number, number];

export interface Edge {
  readonly a: Point;
  readonly b: Point;
  readonly bulge: number;
}

export const place = (c: Corner): Point => [c[0], c[1]];
export const bulgeOf = (c: Corner): number => c[2] ?? 0;

/** The edges of a closed outline; the last joins the first corner. */
export function edges(outline: readonly Corner[]): Edge[] {
  return outline.map((c, i) => {
    const next = outline[(i + 1) % outline.length] ?? c;
    return { a: place(c), b: place(next), bulge: bulgeOf(c) };
  });
}

/** The edges of an open line. */
export const lineEdges = (line: readonly Corner[]): Edge[] => edges(line).slice(0, -1);

/** Chords within this of their arc, in feet: finer than a screen shows at usual scales. */
const CHORD = 1 / 64;

/** The outline as straight pieces, arcs flattened. The first point is not repeated. */
export function ringOf(outline: readonly Corner[], tolerance = CHORD): Point[] {
  const out: Point[] = [];
  for (const e of edges(outline)) out.push(...flattenEdge(e.a, e.b, e.bulge, tolerance));
  const last = out.pop();
  return last ? [last, ...out] : [];
}

export function pathOf(line: readonly Corner[], tolerance = CHORD): Point[] {
  const first = line[0];
  if (!first) return [];
  return [place(first), ...lineEdges(line).flatMap((e) => flattenEdge(e.a, e.b, e.bulge, tolerance))];
}

/** Twice the signed area of the corner polygon, positive anticlockwise. */
function doubleArea(outline: readonly Corner[]): number {
  const o = outline[0];
  if (!o) return 0;
  return edges(outline).reduce((sum, e) => sum + cross(minus(e.a, place(o)), minus(e.b, place(o))), 0);
}

/** The area enclosed, in square feet, positive anticlockwise; arcs are exact. */
export function signedArea(outline: readonly Corner[]): number {
  let area = doubleArea(outline) / 2;
  for (const e of edges(outline)) {
    const arc = arcOf(e.a, e.b, e.bulge);
    if (!arc) continue;
    const sweep = (arc.sweepDeg * Math.PI) / 180;
    area += ((sweep - Math.sin(sweep)) * arc.radius * arc.radius) / 2;
  }
  return area;
}

export const areaOf = (outline: readonly Corner[]): number => Math.abs(signedArea(outline));

export const perimeterOf = (outline: readonly Corner[]): number =>
  edges(outline).reduce((sum, e) => sum + edgeLength(e.a, e.b, e.bulge), 0);

export const lengthOf = (line: readonly Corner[]): number =>
  lineEdges(line).reduce((sum, e) => sum + edgeLength(e.a, e.b, e.bulge), 0);

/** Whether a place lies inside a ring of straight pieces. */
export function ringHolds(ring: readonly Point[], p: Point): boolean {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[i] as Point;
    const b = ring[j] as Point;
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0])
      odd = !odd;
  }
  return odd;
}

/** Whether a place lies inside an outline and outside its holes. */
export function shapeHolds(
  outline: readonly Corner[],
  holes: readonly (readonly Corner[])[],
  p: Point,
): boolean {
  return ringHolds(ringOf(outline), p) && !holes.some((h) => ringHolds(ringOf(h), p));
}

/** The middle of the area of a ring, for a label; the mean of the corners when it has no area. */
export function centroid(ring: readonly Point[]): Point {
  const o = ring[0];
  if (!o) return [0, 0];
  let [sum, x, y] = [0, 0, 0];
  for (let i = 0; i < ring.length; i++) {
    const a = minus(ring[i] as Point, o);
    const b = minus(ring[(i + 1) % ring.length] as Point, o);
    const w = cross(a, b);
    sum += w;
    x += w * (a[0] + b[0]);
    y += w * (a[1] + b[1]);
  }
  if (sum !== 0) return [o[0] + x / (3 * sum), o[1] + y / (3 * sum)];
  const n = ring.length;
  return [ring.reduce((s, p) => s + p[0], 0) / n, ring.reduce((s, p) => s + p[1], 0) / n];
}

/** A closed outline the other way round; every arc stays where it is. */
export const turnedRing = (ring: readonly Corner[]): Corner[] =>
  ring.map((_, i) => {
    const n = ring.length;
    const at = ring[n - 1 - i] as Corner;
    return corner(place(at), -bulgeOf(ring[(2 * n - 2 - i) % n] as Corner));
  });

/** An open line the other way round. */
export const turnedLine = (line: readonly Corner[]): Corner[] =>
  line.map((_, i) => {
    const n = line.length;
    const before = line[n - 2 - i];
    return corner(place(line[n - 1 - i] as Corner), before ? -bulgeOf(before) : 0);
  });

/** A corner, with a bulge only where there is one. */
export const corner = ([x, y]: Point, bulge = 0): Corner => (bulge === 0 ? [x, y] : [x, y, bulge]);

/** What is wrong with an outline, where, and the edge or corner it is at. */
export interface Fault {
  readonly reason: "too_few" | "repeated" | "spike" | "crosses" | "touches" | "no_area";
  readonly at: Point;
  /** The corner, from 0, or the one the faulty edge leaves. */
  readonly corner: number;
  /** The other edge of a crossing. */
  readonly other?: number;
}

/** Two corners nearer than this (feet) are one: the lattice the server snaps to. */
export const LATTICE = 1 / 4096;

/** Less than this, in square feet, is nothing enclosed: a square inch. */
const LEAST_AREA = 1 / 144;

/** The first thing wrong with a closed outline, or null. */
export function faultOf(outline: readonly Corner[]): Fault | null {
  const first = outline[0];
  const straight = outline.every((c) => bulgeOf(c) === 0);
  if (!first || outline.length < (straight ? 3 : 2)) {
    return { reason: "too_few", at: first ? place(first) : [0, 0], corner: 0 };
  }
  const all = edges(outline);
  const found =
    repeated(all) ?? (straight && inOneLine(all) ? noArea(place(first)) : (spike(all) ?? meeting(all, true)));
  return found ?? (areaOf(outline) < LEAST_AREA ? noArea(place(first)) : null);
}

function inOneLine(all: readonly Edge[]): boolean {
  const o = (all[0] as Edge).a;
  const far = all.reduce((best, e) => (distance(e.a, o) > distance(best, o) ? e.a : best), o);
  const along = minus(far, o);
  const len = Math.hypot(...along);
  return all.every((e) => Math.abs(cross(along, minus(e.a, o))) <= LATTICE * len);
}

/** The first thing wrong with a line that is still open: it may not cross itself either. */
export function openFault(line: readonly Corner[]): Fault | null {
  const all = lineEdges(line);
  return spike(all, false) ?? meeting(all, false);
}

const noArea = (at: Point): Fault => ({ reason: "no_area", at, corner: 0 });

function repeated(all: readonly Edge[]): Fault | null {
  const i = all.findIndex((e) => distance(e.a, e.b) <= LATTICE);
  const e = all[i];
  return e ? { reason: "repeated", at: e.b, corner: (i + 1) % all.length } : null;
}

/** An edge that runs back over the one before it. */
function spike(all: readonly Edge[], closed = true): Fault | null {
  for (let i = closed ? 0 : 1; i < all.length; i++) {
    const before = all[(i + all.length - 1) % all.length];
    const e = all[i];
    if (!before || !e || before.bulge !== 0 || e.bulge !== 0) continue;
    const u = minus(before.a, e.a);
    const w = minus(e.b, e.a);
    const len = Math.hypot(...u) * Math.hypot(...w);
    if (dot(u, w) > 0 && Math.abs(cross(u, w)) <= 1e-9 * len) return { reason: "spike", at: e.a, corner: i };
  }
  return null;
}

interface Piece {
  a: Point;
  b: Point;
  edge: number;
  minX: number;
  maxX: number;
}

function pieces(all: readonly Edge[]): Piece[] {
  const out: Piece[] = [];
  all.forEach((e, edge) => {
    let a = e.a;
    for (const b of flattenEdge(e.a, e.b, e.bulge, CHORD)) {
      out.push({ a, b, edge, minX: Math.min(a[0], b[0]), maxX: Math.max(a[0], b[0]) });
      a = b;
    }
  });
  return out.sort((p, q) => p.minX - q.minX || p.edge - q.edge);
}

/** The first two edges that cross or touch elsewhere than at a shared corner. */
function meeting(all: readonly Edge[], closed: boolean): Fault | null {
  const sorted = pieces(all);
  let worst: Fault | null = null;
  for (let i = 0; i < sorted.length; i++) {
    const p = sorted[i] as Piece;
    for (let j = i + 1; j < sorted.length; j++) {
      const q = sorted[j] as Piece;
      if (q.minX > p.maxX) break;
      const f = p.edge === q.edge ? null : pieceFault(p, q, all, closed);
      if (f && (!worst || f.corner < worst.corner)) worst = f;
    }
  }
  return worst;
}

function pieceFault(p: Piece, q: Piece, all: readonly Edge[], closed: boolean): Fault | null {
  const point = meet(p.a, p.b, q.a, q.b);
  const at = point ?? along(p, q);
  if (!at) return null;
  const [lo, hi] = p.edge < q.edge ? [p.edge, q.edge] : [q.edge, p.edge];
  const shared = sharedCorners(all, lo, hi, closed);
  if (shared.some((c) => distance(c, at) <= LATTICE)) return null;
  const onEnd = [p.a, p.b, q.a, q.b].some((c) => distance(c, at) <= 1e-9);
  return { reason: onEnd || !point ? "touches" : "crosses", at, corner: lo, other: hi };
}

/** Where two pieces on one line overlap. */
function along(p: Piece, q: Piece): Point | null {
  const r = minus(p.b, p.a);
  const len = Math.hypot(...r);
  if (len === 0) return null;
  const off = (c: Point) => Math.abs(cross(r, minus(c, p.a))) / len;
  if (off(q.a) > 1e-9 || off(q.b) > 1e-9) return null;
  const t = (c: Point) => dot(r, minus(c, p.a)) / (len * len);
  const [lo, hi] = [Math.min(t(q.a), t(q.b)), Math.max(t(q.a), t(q.b))];
  const [from, to] = [Math.max(0, lo), Math.min(1, hi)];
  if (from > to) return null;
  const mid = (from + to) / 2;
  return [p.a[0] + r[0] * mid, p.a[1] + r[1] * mid];
}

function sharedCorners(all: readonly Edge[], lo: number, hi: number, closed: boolean): Point[] {
  const out: Point[] = [];
  if (hi === lo + 1) out.push((all[hi] as Edge).a);
  if (closed && lo === 0 && hi === all.length - 1) out.push((all[0] as Edge).a);
  return out;
}

/** The sentence for a fault, with what to do about it. */
export function faultSentence(f: Fault, where: string): string {
  switch (f.reason) {
    case "too_few":
      return "An outline needs at least three corners. Add another.";
    case "repeated":
      return `Two corners lie in one place, at ${where}. Take one of them out.`;
    case "spike":
      return `The edge runs back over itself at ${where}. Take that corner out.`;
    case "crosses":
      return `The outline crosses itself at ${where}. Take out the corner that crosses, or move it.`;
    case "touches":
      return `The outline touches itself at ${where}. Move one of the two edges apart.`;
    case "no_area":
      return "The outline encloses nothing. Move a corner away from the line.";
  }
}

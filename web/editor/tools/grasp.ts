// What a press takes hold of in the select tool, and what pulling it does.

import { bulgeForRadius } from "../arcs";
import { moveEdge, moveThings, setBulge } from "../edit";
import { type Entry, type Field, placeFrom } from "../entry";
import { add, directionDeg, distance, minus, type Point, polar } from "../geometry";
import { dragGrip, type Grip, type GripKind, gripAt, gripsOf } from "../grips";
import { isFree } from "../layers";
import { find, type Plan, parts, put, type Ref } from "../model";
import { capital, nameOf, namesOf } from "../names";
import { clampSweep } from "../pattern";
import { standsApart } from "../pipenet";
import { edges, type Fault, faultOf, openFault, place } from "../shape";
import { indexOf, nearestOnEdge, type SnapEdge, type Source } from "../snapindex";
import { isClosed, ringsOf, spotOf } from "../things";
import type { Aim, Around } from "./tool";

export type Grasp =
  | { readonly what: "grip"; readonly grip: Grip; readonly from: Point; readonly corners: number }
  | { readonly what: "edge"; readonly edge: SnapEdge; readonly from: Point }
  | { readonly what: "things"; readonly refs: readonly Ref[]; readonly of: Point; readonly from: Point };

/** The one selected thing whose handles are shown, if it may be changed. */
function lone(plan: Plan, a: Around): Ref | null {
  const [only] = a.selection;
  return only && a.selection.size === 1 && isFree(plan, only, a.sight) ? only : null;
}

/** The handles on show. */
export function gripsShown(plan: Plan, a: Around): Grip[] {
  const only = lone(plan, a);
  return only ? gripsOf(plan, only, a.design) : [];
}

/** The edge of the lone selected shape that is under the pointer. */
function edgeAt(plan: Plan, a: Around, aim: Aim): SnapEdge | null {
  const only = lone(plan, a);
  if (!only || parts(only)[0] === "pipes") return null; // its ends hang on other things: it bends by its handles
  const off = (e: SnapEdge) => distance(nearestOnEdge(aim.raw, e), aim.raw);
  const near = indexOf(plan)
    .edgesNear(aim.raw, aim.reach * 0.75)
    .filter((e) => e.ref === only)
    .sort((e, f) => off(e) - off(f));
  return near[0] ?? null;
}

/** What a press at a place takes hold of; null when a drag from there draws a box. */
export function graspAt(plan: Plan, a: Around, aim: Aim, on: Ref | null): Grasp | null {
  const from = aim.raw;
  if (!aim.shift && !aim.ctrl) {
    const grip = gripAt(gripsShown(plan, a), aim.raw, aim.reach);
    if (grip) return { what: "grip", grip, from, corners: ringsOf(plan, grip.ref)[grip.ring]?.length ?? 0 };
    const edge = edgeAt(plan, a, aim);
    if (edge) return { what: "edge", edge, from };
  }
  if (!on || !isFree(plan, on, a.sight)) return null;
  const chosen = a.selection.has(on);
  // Grounds are large: a drag that begins on one not selected draws a box instead of moving it.
  if (!chosen && isClosed(parts(on)[0])) return null;
  const refs = chosen ? [...a.selection].filter((r) => isFree(plan, r, a.sight)) : [on];
  if (refs.length === 1 && heldByEnds(plan, on)) return null;
  return { what: "things", refs, of: handleOf(plan, on, aim.raw), from };
}

/** A pipe without corners between a valve and a head, say: it goes where they go. */
function heldByEnds(plan: Plan, r: Ref): boolean {
  const [c, id] = parts(r);
  const q = c === "pipes" ? find(plan, "pipes", id) : undefined;
  return q !== undefined && !q.via && [q.from, q.to].every((n) => !standsApart(plan, n));
}

const BENDS =
  "This pipe runs straight between what it joins. Select it and pull the handle in its middle to bend it.";

/** Why a press on a thing takes hold of nothing: it or its layer is locked. Null where a drag draws a box. */
export function stuckAt(plan: Plan, a: Around, on: Ref | null): string | null {
  if (!on) return null;
  if (isFree(plan, on, a.sight)) return heldByEnds(plan, on) ? BENDS : null;
  // Grounds are large: a box may begin on one that is not selected, locked or not.
  if (!a.selection.has(on) && isClosed(parts(on)[0])) return null;
  return sentence(plan, a, on);
}

function sentence(plan: Plan, a: Around, on: Ref): string {
  const layer = a.sight?.lockedIn(on);
  if (layer) return `The layer ${layer} is locked. Unlock it under Layers to move what lies on it.`;
  return `${capital(nameOf(plan, on))} is locked. Unlock it (L) to move it.`;
}

/** The place of a thing that a drag snaps: its spot, or its corner nearest the pointer. */
export function handleOf(plan: Plan, r: Ref, at: Point): Point {
  const spot = spotOf(plan, r);
  if (spot) return spot;
  const corners = ringsOf(plan, r).flatMap((ring) => ring.map(place));
  return corners.reduce((best, c) => (distance(c, at) < distance(best, at) ? c : best), corners[0] ?? at);
}

/** From the pointer to the place that is moved. */
export function leadOf(g: Grasp): Point | null {
  if (g.what === "things") return minus(g.of, g.from);
  return g.what === "grip" ? minus(g.grip.at, g.from) : null;
}

/** The plan with what is grasped brought to the pointer. base: before the drag; last: as the drag has it. */
export function pull(base: Plan, last: Plan | null, g: Grasp, aim: Aim, a: Around): Plan {
  if (g.what === "things") return moveThings(base, g.refs, minus(aim.at, g.of));
  if (g.what === "edge") {
    const { ref, ring, index } = g.edge;
    return moveEdge(base, ref, ring, index, acrossEdge(g.edge, minus(aim.at, g.from), aim));
  }
  const { kind } = g.grip;
  const keys = { coarse: aim.shift, free: aim.alt };
  if (kind === "corner" || kind === "middle" || kind === "body") {
    return dragGrip(base, g.grip, { to: aim.at, exact: false, ...keys }, a.design);
  }
  // Arc ends turn in steps unless pointed at a corner; throws go by the foot. Neither minds the grid.
  const exact = kind !== "throw" && kind !== "radius" && pointedAt(aim);
  const to = exact ? aim.at : add(aim.raw, minus(g.grip.at, g.from));
  // Followed from where the drag has brought them, so that going past the other end does not flip the arc.
  const follow = kind === "start" || kind === "end";
  return dragGrip(follow ? (last ?? base) : base, g.grip, { to, exact, ...keys }, a.design);
}

const pointedAt = (aim: Aim): boolean =>
  aim.snap !== null && ["end", "crossing", "centre"].includes(aim.snap.kind);

/** An edge moves square to itself; with Shift, or when it is an arc, any way. */
function acrossEdge(e: SnapEdge, by: Point, aim: Aim): Point {
  if (aim.shift || e.arc) return by;
  const [dx, dy] = minus(e.b, e.a);
  const len2 = dx * dx + dy * dy;
  if (len2 === 0) return by;
  const k = (by[0] * -dy + by[1] * dx) / len2;
  return [-dy * k, dx * k];
}

export interface Broken {
  readonly ref: Ref;
  readonly ring: number;
  readonly fault: Fault;
}

/** The fault a change leaves in the shape it is made to. */
export function brokenBy(plan: Plan, g: Grasp): Broken | null {
  if (g.what === "things") return null;
  const { ref, ring } = g.what === "edge" ? g.edge : g.grip;
  return brokenRing(plan, ref, ring);
}

export function brokenRing(plan: Plan, ref: Ref, ring: number): Broken | null {
  const corners = ringsOf(plan, ref)[ring];
  if (!corners || corners.length === 0) return null;
  const fault = isClosed(parts(ref)[0]) ? faultOf(corners) : openFault(corners);
  return fault ? { ref, ring, fault } : null;
}

const did: Readonly<Record<GripKind, string>> = {
  corner: "Move a corner of",
  middle: "Change an edge of",
  body: "Move",
  start: "Turn the arc of",
  end: "Open the arc of",
  throw: "Set the throw of",
  radius: "Resize",
};

/** What a step is called in the history. */
export function labelOf(plan: Plan, g: Grasp): string {
  if (g.what === "things") return `Move ${namesOf(plan, g.refs)}`;
  if (g.what === "edge") return `Move an edge of ${nameOf(plan, g.edge.ref)}`;
  return gripLabel(plan, g.grip);
}

export const gripLabel = (plan: Plan, g: Grip): string => `${did[g.kind]} ${nameOf(plan, g.ref)}`;

/** What is being dragged is not snapped to itself. */
export function skipping(g: Grasp): (x: Source) => boolean {
  if (g.what === "things") {
    const moving = new Set<Ref>(g.refs);
    return (x) => moving.has(x.ref);
  }
  if (g.what === "edge") return (x) => x.ref === g.edge.ref;
  const { ref, ring, index, kind } = g.grip;
  if (kind !== "corner") return (x) => x.ref === ref;
  // A corner's own two edges move with it; the rest of its shape stands still.
  const before = (index + g.corners - 1) % g.corners;
  return (x) => x.ref === ref && x.ring === ring && (x.index === index || x.index === before);
}

/** What a number means with a handle in hand. */
export function gripFields(g: Grip): readonly Field[] {
  switch (g.kind) {
    case "throw":
      return ["throw"];
    case "start":
    case "end":
      return ["sweep"];
    case "radius":
    case "middle":
      return ["radius"];
    default:
      return ["length", "angle"];
  }
}

/** A plan, or the sentence that says why what was typed cannot be. */
export type Typed = { readonly plan: Plan } | { readonly why: string };

/** A number typed for a handle: where it goes, how far the throw, how wide the arc, how round the edge. */
export function typedGrip(plan: Plan, g: Grip, entry: Entry, aim: Point, a: Around): Typed {
  const spot = spotOf(plan, g.ref);
  const { throw: reach, sweep, radius } = entry.values;
  const exact = { exact: true, coarse: false, free: false };
  if (sweep !== undefined) return typedSweep(plan, g, sweep);
  if (g.kind === "middle" && radius !== undefined) return typedRadius(plan, g, radius);
  const out = reach ?? radius;
  if (out !== undefined && spot) {
    const to = polar(spot, directionDeg(spot, g.at), out);
    return { plan: dragGrip(plan, g, { ...exact, to }, a.design) };
  }
  return { plan: dragGrip(plan, g, { ...exact, to: placeFrom(entry, startOf(plan, g), aim) }, a.design) };
}

function typedSweep(plan: Plan, g: Grip, sweep: number): Typed {
  const [c, id] = parts(g.ref);
  const h = c === "heads" ? find(plan, "heads", id) : undefined;
  if (!h) return { why: "Only a head has an arc." };
  const n = find(plan, "nozzles", h.nozzle);
  if (clampSweep(n, sweep) !== sweep) {
    return {
      why: `This nozzle can be set from ${n?.arc_least_deg ?? 1} to ${n?.arc_most_deg ?? 360} degrees.`,
    };
  }
  return { plan: put(plan, "heads", id, { ...h, sweep_deg: sweep }) };
}

/** Bows an edge to a radius, to the side it bows to already or outwards. */
function typedRadius(plan: Plan, g: Grip, radius: number): Typed {
  const e = edges(ringsOf(plan, g.ref)[g.ring] ?? [])[g.index];
  if (!e) return { why: "There is no edge here." };
  const bulge = bulgeForRadius(e.a, e.b, radius, e.bulge < 0 ? -1 : 1);
  if (bulge === null)
    return {
      why: "That radius is less than half the edge: no arc of it reaches both ends. Type a larger one.",
    };
  return { plan: setBulge(plan, g.ref, g.ring, g.index, bulge) };
}

/** What a corner's length and angle are measured from: the corner before it. */
export function startOf(plan: Plan, g: Grip): Point {
  const ring = ringsOf(plan, g.ref)[g.ring];
  const before = ring?.[(g.index + ring.length - 1) % ring.length];
  return before ? place(before) : g.at;
}

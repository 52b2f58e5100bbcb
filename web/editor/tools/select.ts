// Selecting, moving, and pulling handles. A drag is shown as a preview and
// becomes one step when it ends; a shape left crossing itself stays a draft
// here until it is mended, since the server takes no such shape.

import { moveEdge, moveThings } from "../edit";
import type { Entry } from "../entry";
import { placeFrom } from "../entry";
import { angleText, lengthText, placeText } from "../format";
import { directionDeg, distance, minus, type Point } from "../geometry";
import { dragGrip, type Grip, gripAt, gripKey, gripsOf } from "../grips";
import { mends } from "../mend";
import { find, type Plan, parts, type Ref } from "../model";
import { nameOf, namesOf } from "../names";
import { headAt } from "../pattern";
import { edges, type Fault, faultOf, faultSentence, lineEdges, openFault, place } from "../shape";
import { indexOf, nearestOnEdge, type SnapEdge, type Source } from "../snapindex";
import { boxed, isLocked, ringsOf, spotOf, thingAt } from "../things";
import { setRing } from "../edit";
import type { Aim, Around, Fix, Result, Sketch, SketchLabel, Tool, ToolEvent } from "./tool";

type Grasp =
  | { readonly what: "grip"; readonly grip: Grip }
  | { readonly what: "edge"; readonly edge: SnapEdge }
  | { readonly what: "things"; readonly refs: readonly Ref[]; readonly of: Point };

export interface Draft {
  readonly plan: Plan;
  readonly ref: Ref;
  readonly ring: number;
  readonly fault: Fault;
  readonly label: string;
}

export interface SelectState {
  /** Pressed, and what would be dragged; null grasp: an empty place or one to be boxed from. */
  readonly pressed: { readonly aim: Aim; readonly on: Ref | null; readonly grasp: Grasp | null } | null;
  /** The drag under way. */
  readonly drag: { readonly plan: Plan; readonly at: Point } | null;
  readonly box: { readonly from: Point; readonly to: Point } | null;
  /** A shape that crosses itself, waiting to be mended. */
  readonly draft: Draft | null;
}

type Out = Result<SelectState>;

const idle: SelectState = { pressed: null, drag: null, box: null, draft: null };

const working = (s: SelectState, a: Around): Plan => s.draft?.plan ?? a.plan;

/** The handles on show: those of a lone selected thing. */
export function gripsShown(plan: Plan, a: Around): Grip[] {
  const [only] = a.selection;
  if (!only || a.selection.size !== 1 || isLocked(plan, only)) return [];
  return gripsOf(plan, only, a.design);
}

/** The straight or curved edge of the lone selected shape that is under the pointer. */
function edgeAt(plan: Plan, a: Around, aim: Aim): SnapEdge | null {
  const [only] = a.selection;
  if (!only || a.selection.size !== 1 || isLocked(plan, only)) return null;
  const near = indexOf(plan)
    .edgesNear(aim.raw, aim.reach * 0.75)
    .filter((e) => e.ref === only);
  near.sort((e, f) => distance(nearestOnEdge(aim.raw, e), aim.raw) - distance(nearestOnEdge(aim.raw, f), aim.raw));
  return near[0] ?? null;
}

function graspAt(s: SelectState, a: Around, aim: Aim, on: Ref | null): Grasp | null {
  const plan = working(s, a);
  if (!aim.shift && !aim.ctrl) {
    const grip = gripAt(gripsShown(plan, a), aim.raw, aim.reach);
    if (grip) return { what: "grip", grip };
    const edge = edgeAt(plan, a, aim);
    if (edge) return { what: "edge", edge };
  }
  if (!on || isLocked(plan, on)) return null;
  const chosen = a.selection.has(on);
  // Grounds are large: a drag that begins on one not selected draws a box instead of moving it.
  if (!chosen && parts(on)[0] === "areas") return null;
  const refs = chosen ? [...a.selection] : [on];
  return { what: "things", refs, of: handleOf(plan, on, aim.raw) };
}

/** The place of a thing that a drag snaps: its spot, or its corner nearest the pointer. */
function handleOf(plan: Plan, r: Ref, at: Point): Point {
  const spot = spotOf(plan, r);
  if (spot) return spot;
  const corners = ringsOf(plan, r).flatMap((ring) => ring.map(place));
  return corners.reduce((best, c) => (distance(c, at) < distance(best, at) ? c : best), corners[0] ?? at);
}

function press(s: SelectState, aim: Aim, a: Around): Out {
  const on = thingAt(working(s, a), aim.raw, aim.reach);
  return { state: { ...s, pressed: { aim, on, grasp: graspAt(s, a, aim, on) }, drag: null, box: null } };
}

function drag(s: SelectState, aim: Aim, a: Around): Out {
  if (!s.pressed) return { state: s };
  const { grasp } = s.pressed;
  if (!grasp) return { state: { ...s, box: { from: s.pressed.aim.raw, to: aim.raw } } };
  const plan = dragged(s, grasp, aim, a);
  const broken = brokenShape(plan, grasp);
  const next = { ...s, drag: { plan, at: aim.at } };
  const refs = grasp.what === "things" ? grasp.refs : null;
  const select = refs && !refs.every((r) => a.selection.has(r)) ? { refs, how: "set" as const } : undefined;
  return { state: next, preview: broken || s.draft ? undefined : plan, select };
}

/** The plan with what is grasped brought to the pointer. */
function dragged(s: SelectState, grasp: Grasp, aim: Aim, a: Around): Plan {
  const base = working(s, a);
  if (grasp.what === "things") return moveThings(base, grasp.refs, minus(aim.at, grasp.of));
  if (grasp.what === "edge") {
    const { ref, ring, index } = grasp.edge;
    return moveEdge(base, ref, ring, index, acrossEdge(grasp.edge, minus(aim.at, s.pressed?.aim.raw ?? aim.at), aim));
  }
  // Arc ends are followed from where the drag has brought them, so that going past the other end does not flip the arc.
  const follow = grasp.grip.kind === "start" || grasp.grip.kind === "end";
  const exact = aim.snap !== null && aim.snap.kind !== "grid" && aim.snap.kind !== "inline";
  return dragGrip(
    follow ? (s.drag?.plan ?? base) : base,
    grasp.grip,
    { to: aim.at, exact, coarse: aim.shift, free: aim.alt },
    a.design,
  );
}

/** An edge moves square to itself; with Shift any way. */
function acrossEdge(e: SnapEdge, by: Point, aim: Aim): Point {
  if (aim.shift || e.arc) return by;
  const [dx, dy] = minus(e.b, e.a);
  const len2 = dx * dx + dy * dy;
  if (len2 === 0) return by;
  const k = (by[0] * -dy + by[1] * dx) / len2;
  return [-dy * k, dx * k];
}

/** The fault a drag leaves in the shape it changes. */
function brokenShape(plan: Plan, grasp: Grasp): { ref: Ref; ring: number; fault: Fault } | null {
  if (grasp.what === "things") return null;
  const { ref, ring } = grasp.what === "edge" ? grasp.edge : grasp.grip;
  const corners = ringsOf(plan, ref)[ring];
  if (!corners) return null;
  const fault = parts(ref)[0] === "areas" ? faultOf(corners) : openFault(corners);
  return fault ? { ref, ring, fault } : null;
}

function labelOf(plan: Plan, grasp: Grasp): string {
  if (grasp.what === "things") return `Move ${namesOf(plan, grasp.refs)}`;
  if (grasp.what === "edge") return `Move an edge of ${nameOf(plan, grasp.edge.ref)}`;
  const name = nameOf(plan, grasp.grip.ref);
  const did: Record<Grip["kind"], string> = {
    corner: `Move a corner of ${name}`,
    middle: `Change an edge of ${name}`,
    body: `Move ${name}`,
    start: `Turn the arc of ${name}`,
    end: `Open the arc of ${name}`,
    throw: `Set the throw of ${name}`,
    radius: `Resize ${name}`,
  };
  return did[grasp.grip.kind];
}

function release(s: SelectState, aim: Aim, moved: boolean, a: Around): Out {
  const p = s.pressed;
  const still = { ...s, pressed: null, drag: null, box: null };
  if (!p) return { state: still };
  if (!moved) return { ...clicked(still, p.on, aim, a), preview: null };
  if (!p.grasp) return { state: still, select: { refs: boxed(a.plan, p.aim.raw, aim.raw), how: aim.shift ? "add" : "set" } };
  return settled(still, dragged(s, p.grasp, aim, a), p.grasp, a);
}

function clicked(s: SelectState, on: Ref | null, aim: Aim, a: Around): Out {
  if (on) {
    const how = aim.shift || aim.ctrl ? "toggle" : "set";
    return { state: s, select: { refs: [on], how }, say: how === "set" ? sayThing(a.plan, on) : undefined };
  }
  return aim.shift || aim.ctrl ? { state: s } : { state: s, select: { refs: [], how: "set" } };
}

const sayThing = (p: Plan, r: Ref): string => `${nameOf(p, r)}${isLocked(p, r) ? ", locked" : ""} selected.`;

/** A drag that has ended: one step, or a draft that must be mended first. */
function settled(s: SelectState, plan: Plan, grasp: Grasp, a: Around): Out {
  const label = labelOf(plan, grasp);
  const broken = brokenShape(plan, grasp);
  if (broken) {
    const say = `Not kept yet. ${faultSentence(broken.fault, placeText(broken.fault.at, plan.show))}`;
    return { state: { ...s, draft: { plan, label, ...broken } }, preview: null, say };
  }
  return { state: idle, commit: { label, plan }, say: moveText(s, plan, grasp, a) };
}

function moveText(_s: SelectState, plan: Plan, grasp: Grasp, a: Around): string | undefined {
  if (grasp.what === "things") {
    const [first] = grasp.refs;
    const at = first && spotOf(plan, first);
    return at ? `${nameOf(plan, first)} at ${placeText(at, a.plan.show)}.` : undefined;
  }
  return grasp.what === "grip" ? gripText(plan, grasp.grip, a) : undefined;
}

/** What a handle now stands at, in words. */
export function gripText(plan: Plan, g: Grip, a: Around): string {
  const show = plan.show;
  const [c, id] = parts(g.ref);
  if (c === "heads") {
    const h = find(plan, "heads", id);
    if (!h) return "";
    if (g.kind === "body") return placeText(headAt(h), show);
    if (g.kind === "throw") return `Throw ${lengthText(gripsOf(plan, g.ref, a.design).length ? reachOf(plan, g, a) : 0, show)}`;
    return `Arc ${angleText(h.sweep_deg ?? 0)} from ${angleText(h.start_deg ?? 0)}`;
  }
  if (g.kind === "corner" || g.kind === "middle" || g.kind === "body") {
    const now = gripsOf(plan, g.ref, a.design).find((k) => gripKey(k) === gripKey(g));
    return placeText(now?.at ?? g.at, show);
  }
  const spot = spotOf(plan, g.ref);
  const edge = gripsOf(plan, g.ref, a.design).find((k) => k.kind === "radius");
  return spot && edge ? `Radius ${lengthText(distance(spot, edge.at), show)}` : "";
}

function reachOf(plan: Plan, g: Grip, a: Around): number {
  const spot = spotOf(plan, g.ref);
  const far = gripsOf(plan, g.ref, a.design).find((k) => k.kind === "throw");
  return spot && far ? distance(spot, far.at) : 0;
}

function typed(s: SelectState, entry: Entry, aim: Aim, a: Around): Out {
  const grip = s.pressed?.grasp?.what === "grip" ? s.pressed.grasp.grip : null;
  if (grip && s.pressed) {
    const done = typedGrip(s, grip, entry, aim, a);
    return done ? settled({ ...idle, draft: s.draft }, done, { what: "grip", grip }, a) : { state: s };
  }
  const refs = [...a.selection];
  const [first] = refs;
  if (!first) return { state: s, say: "Nothing is selected." };
  const of = handleOf(a.plan, first, aim.raw);
  const plan = moveThings(a.plan, refs, minus(placeFrom(entry, of, aim.at), of));
  return { state: idle, commit: { label: `Move ${namesOf(a.plan, refs)}`, plan } };
}

/** A number typed while a handle is in hand: where it goes, how far the throw, how wide the arc. */
export function typedGrip(s: SelectState, g: Grip, entry: Entry, aim: Aim, a: Around): Plan | null {
  const plan = working(s, a);
  const spot = spotOf(plan, g.ref);
  const { throw: reach, sweep, radius, length } = entry.values;
  const drag = { exact: true, coarse: false, free: false };
  const out = reach ?? radius;
  if (out !== undefined && spot && (g.kind === "throw" || g.kind === "radius")) {
    const deg = directionDeg(spot, g.at);
    return dragGrip(plan, g, { ...drag, to: polarOf(spot, deg, out) }, a.design);
  }
  if (sweep !== undefined) return withSweep(plan, g, sweep);
  if (g.kind === "middle" && radius !== undefined) return null;
  if (length === undefined && entry.values.angle === undefined && !entry.place) return null;
  return dragGrip(plan, g, { ...drag, to: placeFrom(entry, startOf(plan, g), aim.at) }, a.design);
}

const polarOf = (from: Point, deg: number, r: number): Point => [
  from[0] + r * Math.cos((deg * Math.PI) / 180),
  from[1] + r * Math.sin((deg * Math.PI) / 180),
];

function withSweep(plan: Plan, g: Grip, sweep: number): Plan | null {
  const [c, id] = parts(g.ref);
  const h = c === "heads" ? find(plan, "heads", id) : undefined;
  if (!h) return null;
  const n = find(plan, "nozzles", h.nozzle);
  const [least, most] = [n?.arc_least_deg ?? 1, n?.arc_most_deg ?? 360];
  return { ...plan, heads: { ...plan.heads, [id]: { ...h, sweep_deg: Math.min(most, Math.max(least, sweep)) } } };
}

/** What a corner's length and angle are measured from: the corner before it. */
function startOf(plan: Plan, g: Grip): Point {
  const ring = ringsOf(plan, g.ref)[g.ring];
  const before = ring?.[(g.index + ring.length - 1) % ring.length];
  return before ? place(before) : g.at;
}

function step(s: SelectState, e: ToolEvent, a: Around): Out {
  switch (e.type) {
    case "hover":
      return { state: s };
    case "press":
      return press(s, e.aim, a);
    case "drag":
      return drag(s, e.aim, a);
    case "release":
      return release(s, e.aim, e.moved, a);
    case "place": {
      const on = thingAt(working(s, a), e.aim.at, e.aim.reach);
      return clicked(s, on, e.aim, a);
    }
    case "typed":
      return typed(s, e.entry, e.aim, a);
    case "abort":
      return { state: { ...s, pressed: null, drag: null, box: null }, preview: null };
    case "escape":
      return escape(s, a);
    case "back":
      return s.pressed || s.draft ? escape(s, a) : { state: s, unused: true };
    default:
      return { state: s, unused: true };
  }
}

function escape(s: SelectState, a: Around): Out {
  if (s.pressed) return { state: { ...s, pressed: null, drag: null, box: null }, preview: null, say: "Put back." };
  if (s.draft) return { state: idle, preview: null, say: "The shape is as it was." };
  if (a.selection.size > 0) return { state: s, select: { refs: [], how: "set" }, say: "Nothing selected." };
  return { state: s, unused: true };
}

function sketch(s: SelectState, a: Around): Sketch {
  const grasp = s.pressed?.grasp;
  if (s.drag && grasp) {
    const broken = brokenShape(s.drag.plan, grasp);
    const problem = broken ? faultSentence(broken.fault, placeText(broken.fault.at, a.plan.show)) : undefined;
    return {
      plan: broken || s.draft ? s.drag.plan : undefined,
      labels: dragLabels(s.drag.plan, grasp, a),
      problem,
      ...(broken ? { line: ringsOf(s.drag.plan, broken.ref)[broken.ring], closed: closes(broken.ref), faulty: true } : {}),
    };
  }
  if (s.box) return { box: s.box };
  if (!s.draft) return {};
  const { plan, ref, ring, fault } = s.draft;
  const problem = faultSentence(fault, placeText(fault.at, plan.show));
  return { plan, line: ringsOf(plan, ref)[ring], closed: closes(ref), faulty: true, problem };
}

const closes = (r: Ref): boolean => parts(r)[0] === "areas";

/** Lengths of the edges being changed, or the numbers of the head in hand. */
function dragLabels(plan: Plan, grasp: Grasp, a: Around): SketchLabel[] {
  if (grasp.what === "grip" && grasp.grip.kind !== "corner" && grasp.grip.kind !== "middle") {
    const now = gripsOf(plan, grasp.grip.ref, a.design).find((g) => gripKey(g) === gripKey(grasp.grip));
    return [{ at: now?.at ?? grasp.grip.at, text: gripText(plan, grasp.grip, a) }];
  }
  if (grasp.what === "things") {
    const [first] = grasp.refs;
    const at = first ? spotOf(plan, first) : null;
    return at ? [{ at, text: placeText(at, plan.show) }] : [];
  }
  const { ref, ring, index } = grasp.what === "edge" ? grasp.edge : grasp.grip;
  const corners = ringsOf(plan, ref)[ring] ?? [];
  const all = closes(ref) ? edges(corners) : lineEdges(corners);
  const n = all.length;
  return [index - 1, index, index + 1].flatMap((i): SketchLabel[] => {
    const e = all[closes(ref) ? (i + n) % n : i];
    if (!e) return [];
    return [{ at: [(e.a[0] + e.b[0]) / 2, (e.a[1] + e.b[1]) / 2], text: lengthText(distance(e.a, e.b), plan.show), along: e }];
  });
}

/** What is being dragged is not snapped to itself. */
function skip(s: SelectState): ((x: Source) => boolean) | null {
  const grasp = s.pressed?.grasp;
  if (!grasp) return null;
  if (grasp.what === "things") {
    const moving = new Set<Ref>(grasp.refs);
    return (x) => moving.has(x.ref);
  }
  if (grasp.what === "edge") return (x) => x.ref === grasp.edge.ref;
  const { ref, ring, index, kind } = grasp.grip;
  if (kind !== "corner") return (x) => x.ref === ref;
  // A corner's own two edges move with it; the rest of its shape stands still.
  return (x) => x.ref === ref && x.ring === ring && near(x.index, index);
}

const near = (i: number, index: number): boolean => i === index || i === index - 1 || index === 0;

export const selectTool: Tool<SelectState> = {
  name: "select",
  start: () => idle,
  step,
  sketch,
  skip,
  anchor(s, a) {
    const grasp = s.pressed?.grasp;
    if (!grasp || !s.drag) return null;
    if (grasp.what === "things") return { at: grasp.of };
    if (grasp.what === "grip" && grasp.grip.kind === "corner") return { at: startOf(working(s, a), grasp.grip) };
    return grasp.what === "grip" && grasp.grip.kind === "body" ? { at: grasp.grip.at } : null;
  },
  lead(s) {
    const p = s.pressed;
    if (!p?.grasp) return null;
    if (p.grasp.what === "things") return minus(p.grasp.of, p.aim.raw);
    return p.grasp.what === "grip" ? minus(p.grasp.grip.at, p.aim.raw) : null;
  },
  fields(s, a) {
    const grasp = s.pressed?.grasp;
    if (grasp?.what === "grip") return gripFields(grasp.grip);
    return a.selection.size > 0 ? ["length", "angle"] : [];
  },
  fixes: (s) => {
    const d = s.draft;
    if (!d || !closes(d.ref)) return [];
    return mends(ringsOf(d.plan, d.ref)[d.ring] ?? []).map((m) => ({ title: m.title, draft: m.outline }));
  },
  applyFix(s, fix: Fix) {
    const d = s.draft;
    if (!d) return { state: s };
    const plan = setRing(d.plan, d.ref, d.ring, fix.draft);
    return { state: idle, commit: { label: d.label, plan }, say: `${fix.title}: done.` };
  },
  busy: (s) => s.pressed !== null || s.draft !== null,
  hint(s, a) {
    if (s.draft) return "Mend the shape to keep it, or Escape to put it back.";
    if (s.box) return s.box.to[0] < s.box.from[0] ? "Takes what the box touches." : "Takes what lies wholly inside.";
    if (a.selection.size === 0) return "Click a thing, or drag a box around several.";
    return "Drag to move, pull a handle, or type a length and direction.";
  },
};

/** What a number means with a handle in hand. */
export function gripFields(g: Grip): ("length" | "angle" | "sweep" | "throw" | "radius")[] {
  if (g.kind === "throw") return ["throw"];
  if (g.kind === "start" || g.kind === "end") return ["sweep"];
  if (g.kind === "radius") return ["radius"];
  return ["length", "angle"];
}

// Selecting, moving, and pulling handles. A drag is shown as a preview and
// becomes one step when it ends; a shape left crossing itself stays a draft
// here until it is mended, since the server takes no such shape.

import { moveThings, setRing } from "../edit";
import { type Entry, placeFrom } from "../entry";
import { placeText } from "../format";
import { minus, type Point } from "../geometry";
import { isTaken } from "../layers";
import { mends } from "../mend";
import { type Plan, parts, type Ref } from "../model";
import { nameOf, namesOf } from "../names";
import { faultSentence } from "../shape";
import { boxed, isClosed, isLocked, ringsOf, type Sees, spotOf, thingAt } from "../things";
import {
  type Broken,
  brokenBy,
  type Grasp,
  graspAt,
  gripFields,
  handleOf,
  labelOf,
  leadOf,
  pull,
  skipping,
  startOf,
  stuckAt,
  typedGrip,
} from "./grasp";
import type { Aim, Around, Fix, Result, Sketch, Tool, ToolEvent } from "./tool";
import { dragLabels, gripText } from "./words";

interface Draft extends Broken {
  readonly plan: Plan;
  readonly label: string;
  /** The corner that was moved or made. */
  readonly newest: number;
}

export interface SelectState {
  /** Pressed, and what a drag would pull; null grasp: a drag draws a box. */
  readonly pressed: { readonly aim: Aim; readonly on: Ref | null; readonly grasp: Grasp | null } | null;
  /** The drag under way. */
  readonly drag: Plan | null;
  readonly box: { readonly from: Point; readonly to: Point } | null;
  /** A shape that crosses itself, waiting to be mended. */
  readonly draft: Draft | null;
  /** Why the last drag moved nothing. */
  readonly stuck?: string;
}

type Out = Result<SelectState>;

const idle: SelectState = { pressed: null, drag: null, box: null, draft: null };

const lifted = (s: SelectState): SelectState => ({ ...idle, draft: s.draft });
const sees =
  (a: Around): Sees =>
  (r) =>
    !a.sight?.hides(r);
const working = (s: SelectState, a: Around): Plan => s.draft?.plan ?? a.plan;
const closed = (r: Ref): boolean => isClosed(parts(r)[0]);

function press(s: SelectState, aim: Aim, a: Around): Out {
  const plan = working(s, a);
  const on = thingAt(plan, aim.raw, aim.reach, sees(a));
  return { state: { ...lifted(s), pressed: { aim, on, grasp: graspAt(plan, a, aim, on) } } };
}

function drag(s: SelectState, aim: Aim, a: Around): Out {
  if (!s.pressed) return { state: s };
  const { grasp, aim: from, on } = s.pressed;
  const stuck = !grasp && !s.box ? stuckAt(working(s, a), a, on) : null;
  if (stuck) return { state: { ...s, stuck }, say: s.stuck ? undefined : stuck };
  if (!grasp) return { state: { ...s, box: { from: from.raw, to: aim.raw } } };
  const plan = pull(working(s, a), s.drag, grasp, aim, a);
  const shown = brokenBy(plan, grasp) || s.draft ? undefined : plan;
  const refs = grasp.what === "things" ? grasp.refs : [];
  const select = refs.every((r) => a.selection.has(r)) ? undefined : { refs, how: "set" as const };
  return { state: { ...s, drag: plan }, preview: shown, select };
}

function release(s: SelectState, aim: Aim, moved: boolean, a: Around): Out {
  const p = s.pressed;
  if (!p) return { state: s };
  if (!moved) return { ...clicked(lifted(s), p.on, p.grasp, aim, a), preview: null };
  if (s.stuck) return { state: { ...lifted(s), stuck: s.stuck } };
  if (!p.grasp) {
    const refs = boxed(a.plan, p.aim.raw, aim.raw, (r) => isTaken(a.plan, r, a.sight));
    const say = refs.length === 0 ? "Nothing in the box." : `${namesOf(a.plan, refs)} selected.`;
    return { state: lifted(s), select: { refs, how: aim.shift ? "add" : "set" }, say };
  }
  return settled(lifted(s), pull(working(s, a), s.drag, p.grasp, aim, a), p.grasp, a);
}

function clicked(s: SelectState, on: Ref | null, grasp: Grasp | null, aim: Aim, a: Around): Out {
  const add = aim.shift || aim.ctrl;
  if (grasp?.what === "grip" && grasp.grip.kind !== "body") {
    return { state: s, hold: grasp.grip, say: `${grasp.grip.name} in hand. Arrows move it.` };
  }
  // A click on the edge of what is selected keeps it.
  if (grasp?.what === "edge" && !add) return { state: s };
  if (on)
    return {
      state: s,
      select: { refs: [on], how: add ? "toggle" : "set" },
      say: add ? undefined : sayThing(a.plan, on),
    };
  return add ? { state: s } : { state: s, select: { refs: [], how: "set" } };
}

const sayThing = (p: Plan, r: Ref): string => `${nameOf(p, r)}${isLocked(p, r) ? ", locked," : ""} selected.`;

/** A change that has ended: one step, or a draft that must be mended first. */
function settled(s: SelectState, plan: Plan, grasp: Grasp, a: Around): Out {
  const label = s.draft?.label ?? labelOf(plan, grasp);
  const broken = brokenBy(plan, grasp);
  if (!broken) return { state: idle, commit: { label, plan }, say: movedText(plan, grasp, a) };
  const say = `Not kept yet. ${faultSentence(broken.fault, placeText(broken.fault.at, plan.show))}`;
  return {
    state: { ...s, draft: { plan, label, newest: newestCorner(grasp), ...broken } },
    preview: null,
    say,
  };
}

function newestCorner(g: Grasp): number {
  if (g.what === "things") return 0;
  if (g.what === "edge") return g.edge.index;
  return g.grip.kind === "middle" ? g.grip.index + 1 : g.grip.index;
}

function movedText(plan: Plan, g: Grasp, a: Around): string | undefined {
  if (g.what === "grip") return gripText(plan, g.grip, a);
  const [first] = g.what === "things" ? g.refs : [];
  const at = first && spotOf(plan, first);
  return at ? `${nameOf(plan, first)} at ${placeText(at, a.plan.show)}.` : undefined;
}

function typed(s: SelectState, entry: Entry, aim: Aim, a: Around): Out {
  const grasp = s.pressed?.grasp;
  if (grasp?.what === "grip") {
    const done = typedGrip(working(s, a), grasp.grip, entry, aim.at, a);
    return "why" in done ? { state: s, say: done.why } : settled(lifted(s), done.plan, grasp, a);
  }
  const refs = [...a.selection];
  const [first] = refs;
  if (!first) return { state: s, say: "Nothing is selected." };
  const of = handleOf(a.plan, first, aim.raw);
  const plan = moveThings(a.plan, refs, minus(placeFrom(entry, of, aim.at), of));
  return { state: idle, commit: { label: `Move ${namesOf(a.plan, refs)}`, plan } };
}

function backOut(s: SelectState, a: Around): Out {
  if (s.pressed) return { state: lifted(s), preview: null, say: "Put back." };
  if (s.stuck) return { state: lifted(s) };
  if (s.draft) return { state: idle, preview: null, say: "The shape is as it was." };
  if (a.selection.size > 0) return { state: s, select: { refs: [], how: "set" }, say: "Nothing selected." };
  return { state: s, unused: true };
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
    case "place":
      return clicked(s, thingAt(working(s, a), e.aim.at, e.aim.reach, sees(a)), null, e.aim, a);
    case "typed":
      return typed(s, e.entry, e.aim, a);
    case "abort":
      return { state: lifted(s), preview: null };
    case "escape":
      return backOut(s, a);
    case "back":
      return s.pressed || s.draft ? backOut(s, a) : { state: s, unused: true };
    default:
      return { state: s, unused: true };
  }
}

function sketch(s: SelectState, a: Around): Sketch {
  if (s.box) return { box: s.box };
  if (s.stuck) return { problem: s.stuck };
  const grasp = s.pressed?.grasp;
  if (s.drag && grasp) {
    const broken = brokenBy(s.drag, grasp);
    const own = broken || s.draft ? { plan: s.drag } : {};
    return { ...own, labels: dragLabels(s.drag, grasp, a), ...(broken ? faulty(s.drag, broken) : {}) };
  }
  return s.draft ? { plan: s.draft.plan, ...faulty(s.draft.plan, s.draft) } : {};
}

/** A shape in red, with the sentence. */
const faulty = (plan: Plan, b: Broken): Sketch => ({
  line: ringsOf(plan, b.ref)[b.ring],
  closed: closed(b.ref),
  faulty: true,
  problem: faultSentence(b.fault, placeText(b.fault.at, plan.show)),
});

export const selectTool: Tool<SelectState> = {
  name: "select",
  start: () => idle,
  step,
  sketch,
  aims: (s) => s.pressed?.grasp != null,
  skip: (s) => (s.pressed?.grasp ? skipping(s.pressed.grasp) : null),
  lead: (s) => (s.pressed?.grasp ? leadOf(s.pressed.grasp) : null),
  anchor(s, a) {
    const grasp = s.pressed?.grasp;
    if (!grasp || !s.drag) return null;
    if (grasp.what === "things") return { at: grasp.of };
    if (grasp.what === "edge") return null;
    if (grasp.grip.kind === "corner") return { at: startOf(working(s, a), grasp.grip) };
    return grasp.grip.kind === "body" ? { at: grasp.grip.at } : null;
  },
  fields(s, a) {
    const grasp = s.pressed?.grasp;
    if (grasp?.what === "grip") return gripFields(grasp.grip);
    return a.selection.size > 0 ? ["length", "angle"] : [];
  },
  fixes(s) {
    const d = s.draft;
    if (!d || !closed(d.ref)) return [];
    return mends(ringsOf(d.plan, d.ref)[d.ring] ?? [], d.newest).map((m) => ({
      title: m.title,
      draft: m.outline,
    }));
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
    if (s.box)
      return s.box.to[0] < s.box.from[0] ? "Takes what the box touches." : "Takes what lies wholly inside.";
    if (a.selection.size === 0) return "Click a thing, or drag a box around several.";
    return "Drag to move, pull a handle, or type a length and direction.";
  },
};

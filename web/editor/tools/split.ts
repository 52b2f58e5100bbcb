// Splitting what is selected: an area by a line set with two places, a wall at
// one of its corners.

import { type Changed, splitArea, splitBarrier } from "../cut";
import { placeFrom } from "../entry";
import { angleText, lengthText, placeText } from "../format";
import { directionDeg, distance, middle, type Point } from "../geometry";
import { isFree } from "../layers";
import { parts, type Ref } from "../model";
import { nameOf } from "../names";
import { type Corner, place } from "../shape";
import { ringsOf } from "../things";
import type { Around, Result, Sketch, Tool, ToolEvent } from "./tool";

export interface SplitState {
  readonly first: Point | null;
  readonly pointer: Point | null;
  /** Set by a press that may become a drag. */
  readonly pressed: Point | null;
  /** Why the last line did not split it. */
  readonly why: string;
}

type Out = Result<SplitState>;
const fresh: SplitState = { first: null, pointer: null, pressed: null, why: "" };

/** The one selected area or wall that may be split. */
export function splittable(a: Pick<Around, "plan" | "selection" | "sight">): Ref | null {
  const [only] = a.selection;
  if (!only || a.selection.size !== 1 || !isFree(a.plan, only, a.sight)) return null;
  return ["areas", "barriers"].includes(parts(only)[0]) ? only : null;
}

const NOTHING = "Select one area or wall that is not locked, then split it.";

function done(s: SplitState, c: Changed): Out {
  if ("why" in c) return { state: { ...s, why: c.why }, say: c.why };
  const { label, plan, select } = c;
  return { state: fresh, commit: { label, plan, select }, say: `${label}: done.`, leave: true };
}

/** A place set: the corner of a wall, the first or the second end of the line across an area. */
function set(s: SplitState, at: Point, a: Around): Out {
  const r = splittable(a);
  if (!r) return { state: fresh, say: NOTHING, leave: true };
  const [c, id] = parts(r);
  if (c === "barriers") return done(s, splitBarrier(a.plan, id, nearestCorner(a, r, at)));
  if (s.first) return done({ ...fresh, pointer: at }, splitArea(a.plan, id, s.first, at));
  return { state: { ...fresh, first: at, pointer: at }, say: `From ${placeText(at, a.plan.show)}.` };
}

const lineOf = (a: Around, r: Ref): readonly Corner[] => ringsOf(a.plan, r)[0] ?? [];

function nearestCorner(a: Around, r: Ref, at: Point): number {
  const inner = lineOf(a, r).slice(1, -1).map(place);
  const off = inner.map((c) => distance(c, at));
  return off.length > 0 ? off.indexOf(Math.min(...off)) + 1 : 0;
}

function step(s: SplitState, e: ToolEvent, a: Around): Out {
  switch (e.type) {
    case "hover":
    case "drag":
      return { state: { ...s, pointer: e.aim.at } };
    case "press":
      return { state: { ...s, pointer: e.aim.at, pressed: s.first ? null : e.aim.at, why: "" } };
    case "release":
      return e.moved && s.pressed
        ? set({ ...s, first: s.pressed, pressed: null }, e.aim.at, a)
        : set({ ...s, pressed: null }, e.aim.at, a);
    case "place":
      return set(s, e.aim.at, a);
    case "typed":
      if (!s.first && !e.entry.place) return { state: s, say: "Set the first end by a click or as x, y." };
      return set(s, s.first ? placeFrom(e.entry, s.first, e.aim.at) : (e.entry.place as Point), a);
    case "back":
    case "escape":
      return s.first ? { state: fresh, say: "First end taken back." } : { state: fresh, leave: true };
    case "abort":
      return { state: { ...s, pointer: null, pressed: null } };
    default:
      return { state: s, unused: true };
  }
}

function sketch(s: SplitState, a: Around): Sketch {
  const r = splittable(a);
  if (r && parts(r)[0] === "barriers") {
    const at = s.pointer ? lineOf(a, r)[nearestCorner(a, r, s.pointer)] : undefined;
    return at ? { dots: [place(at)], problem: s.why } : { problem: s.why };
  }
  const from = s.first ?? s.pressed;
  if (!from) return { problem: s.why };
  if (!s.pointer || distance(from, s.pointer) === 0) return { dots: [from] };
  const [p, q] = [from, s.pointer];
  const text = `${lengthText(distance(p, q), a.plan.show)} < ${angleText(directionDeg(p, q))}`;
  return {
    line: [p, q],
    dots: [p],
    rubber: [p, q],
    labels: [{ at: middle(p, q), text, along: { a: p, b: q } }],
  };
}

export const splitTool: Tool<SplitState> = {
  name: "split",
  start: () => fresh,
  step,
  sketch,
  anchor: (s) => (s.first ? { at: s.first } : null),
  fields: (s) => (s.first ? ["length", "angle"] : ["place"]),
  placeFirst: (s) => !s.first,
  own: (s) => (s.first ? [s.first] : []),
  busy: (s) => s.first !== null,
  hint(s, a) {
    const r = splittable(a);
    if (!r) return NOTHING;
    const name = nameOf(a.plan, r);
    if (parts(r)[0] === "barriers") return `Click the corner where ${name} is to be split.`;
    return s.first
      ? "Other end of the line: click, or type a length."
      : `Click on or beyond the edge of ${name}, where the line begins.`;
  },
};

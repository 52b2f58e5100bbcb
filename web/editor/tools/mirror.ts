// Mirroring what is selected in a line set with two places, or typed.

import { placeFrom } from "../entry";
import { placeText } from "../format";
import { distance, middle, type Point, polar } from "../geometry";
import { isFree } from "../layers";
import { type Axis, axisText, axisThrough, mirrorThings } from "../mirroring";
import type { Around, Result, Sketch, Tool, ToolEvent } from "./tool";

export interface MirrorState {
  readonly first: Point | null;
  readonly pointer: Point | null;
  /** Set by a press that may become a drag along the axis. */
  readonly pressed: Point | null;
  /** An axis given whole, waiting for Enter. */
  readonly axis: Axis | null;
}

type Out = Result<MirrorState>;
const fresh: MirrorState = { first: null, pointer: null, pressed: null, axis: null };

const NOTHING = "Select what is to be mirrored first.";

function mirrored(s: MirrorState, axis: Axis | null, a: Around): Out {
  const refs = [...a.selection];
  if (refs.length === 0) return { state: fresh, say: NOTHING, leave: true, preview: null };
  if (!axis)
    return { state: s, say: "The two places of the line are one. Set the second apart from the first." };
  if (!a.kit.keep && !refs.some((r) => isFree(a.plan, r, a.sight))) {
    return { state: s, say: "What is selected is locked. Unlock it first, or keep the originals." };
  }
  const { label, plan, select, notes } = mirrorThings(a.plan, a.catalog, refs, axis, a.kit.keep, a.sight);
  const say = [`${label}, in ${axisText(axis, a.plan.show)}: done.`, ...notes].join(" ");
  return { state: fresh, commit: { label, plan, select }, say, leave: true };
}

/** The plan as it would be, mirrored in the line to the pointer. */
function shown(s: MirrorState, a: Around): Out {
  const from = s.first ?? s.pressed;
  const axis = s.axis ?? (from && s.pointer ? axisThrough(from, s.pointer) : null);
  if (!axis || a.selection.size === 0) return { state: s };
  return {
    state: s,
    preview: mirrorThings(a.plan, a.catalog, [...a.selection], axis, a.kit.keep, a.sight).plan,
  };
}

function set(s: MirrorState, at: Point, a: Around): Out {
  if (s.first) return mirrored(s, axisThrough(s.first, at), a);
  const state = { ...fresh, first: at, pointer: at };
  return { state, preview: null, say: `From ${placeText(at, a.plan.show)}. Set a second place of the line.` };
}

function step(s: MirrorState, e: ToolEvent, a: Around): Out {
  switch (e.type) {
    case "hover":
    case "drag":
      return shown({ ...s, pointer: e.aim.at }, a);
    case "press":
      return { state: { ...s, pointer: e.aim.at, pressed: s.first ? null : e.aim.at, axis: null } };
    case "release":
      if (e.moved && s.pressed) return mirrored(s, axisThrough(s.pressed, e.aim.at), a);
      return set({ ...s, pressed: null }, e.aim.at, a);
    case "place":
      return set(s, e.aim.at, a);
    case "typed":
      if (!s.first && !e.entry.place)
        return { state: s, say: "Set the first place of the line by a click or as x, y." };
      return set(s, s.first ? placeFrom(e.entry, s.first, e.aim.at) : (e.entry.place as Point), a);
    case "axis":
      return e.now ? mirrored(s, e.axis, a) : shown({ ...fresh, axis: e.axis }, a);
    case "finish":
      return s.axis ? mirrored(s, s.axis, a) : { state: s, unused: true };
    case "back":
    case "escape":
      return s.first || s.axis
        ? { state: fresh, preview: null, say: "The line is taken back." }
        : { state: fresh, preview: null, leave: true };
    case "abort":
      return { state: { ...s, pointer: null, pressed: null }, preview: null };
    default:
      return { state: s, unused: true };
  }
}

/** Half the length an axis is drawn with, in feet: right across any plan in view. */
const FAR_FT = 5000;

const through = (axis: Axis): [Point, Point] => [
  polar(axis.at, axis.deg, -FAR_FT),
  polar(axis.at, axis.deg, FAR_FT),
];

function sketch(s: MirrorState, a: Around): Sketch {
  const from = s.first ?? s.pressed;
  const axis = s.axis ?? (from && s.pointer ? axisThrough(from, s.pointer) : null);
  if (!axis) return from ? { dots: [from] } : {};
  const set = !s.axis && from && s.pointer && distance(from, s.pointer) > 0;
  const [p, q]: [Point, Point] = set ? [from, s.pointer as Point] : [axis.at, polar(axis.at, axis.deg, 1)];
  const label = { at: middle(p, q), text: axisText(axis, a.plan.show), along: { a: p, b: q } };
  return { line: through(axis), ...(set ? { dots: [p, q] } : {}), labels: [label] };
}

export const mirrorTool: Tool<MirrorState> = {
  name: "mirror",
  start: () => fresh,
  step,
  sketch,
  anchor: (s) => (s.first ? { at: s.first } : null),
  fields: (s) => (s.first ? ["length", "angle"] : ["place"]),
  placeFirst: (s) => !s.first,
  own: (s) => (s.first ? [s.first] : []),
  busy: (s) => s.first !== null || s.axis !== null,
  hint(s, a) {
    if (a.selection.size === 0) return NOTHING;
    if (s.axis) return "Enter mirrors in this line; or click two places of another.";
    return s.first
      ? "Second place of the line: click, or type a length and angle."
      : "Click the first place of the line to mirror in, or type it above.";
  },
};

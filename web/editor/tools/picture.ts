// Two places on the picture under the plan: with the distance between them it is
// scaled, or the scale checked; without one, the line between them is levelled.
// Places are where the pointer is: nothing of the drawing pulls at it here.

import { distance, type Point } from "../geometry";
import type { Read } from "../length";
import type { KnownLength, Plan, Underlay } from "../model";
import {
  checked,
  checkText,
  frameHolds,
  isSized,
  levelled,
  onPicture,
  onPlan,
  scaled,
  smallText,
} from "../picture";
import type { Aim, Around, PictureDo, Result, Sketch, SketchLabel, Tool, ToolEvent } from "./tool";

export interface PictureState {
  /** The places pointed at so far, on the plan. */
  readonly ends: readonly Point[];
  /** Where the button went down, for a line drawn in one stroke. */
  readonly pressed: Point | null;
  readonly pointer: Point | null;
}

type Out = Result<PictureState>;
const fresh: PictureState = { ends: [], pressed: null, pointer: null };

const nothing = "There is no picture under the plan yet. Choose one under Layers.";
const beside = "That is beside the picture. Point at a place on it.";
const same = "That is the same place again. Point at another, far from the first: the longer, the truer.";

const awaits = (s: PictureState, what: PictureDo): boolean => s.ends.length === 2 && what !== "level";

/** Takes a place: the first end, or the second. */
function point(s: PictureState, at: Point, reach: number, a: Around): Out {
  const u = a.plan.underlay;
  const rest = { ...s, pressed: null };
  if (!u) return { state: fresh, say: nothing };
  if (!frameHolds(u, at)) return { state: rest, say: beside };
  const [from] = s.ends;
  if (!from || s.ends.length === 2) {
    return { state: { ...rest, ends: [at] }, say: "First place. Point at the second." };
  }
  if (distance(from, at) <= reach) return { state: rest, say: same };
  if (a.kit.pictureDo === "level") return level(u, from, at, a.plan);
  return { state: { ...rest, ends: [from, at] }, say: "Type the distance between the two, then Enter." };
}

function level(u: Underlay, from: Point, to: Point, plan: Plan): Out {
  if (!isSized(u)) return { state: fresh };
  const next = levelled(u, onPicture(u, from), onPicture(u, to));
  if (!next.ok) return { state: fresh, say: next.sentence };
  const step = { label: "Level the picture", plan: { ...plan, underlay: next.value } };
  return { state: fresh, commit: step, say: "The picture is turned.", leave: true };
}

/** The distance was typed. */
function known(s: PictureState, ft: number, a: Around): Out {
  const u = a.plan.underlay;
  const [from, to] = s.ends;
  if (!u || !from || !to || !isSized(u)) return { state: fresh, say: nothing };
  const k = { from: onPicture(u, from), to: onPicture(u, to), distance_ft: ft };
  const done = knownStep(a.plan, a.kit.pictureDo === "check" ? "check" : "scale", k);
  if (!done.ok) return { state: s, refused: done.sentence };
  const { label, plan, say } = done.value;
  if (a.kit.pictureDo === "check") return { state: fresh, commit: { label, plan }, say, leave: true };
  // A second distance is asked for at once: one alone says nothing of its own truth.
  return { state: fresh, commit: { label, plan, kit: { pictureDo: "check" } }, say: `${say} ${checkNext}` };
}

const checkNext = "A second known distance would check it: point at its ends, or press Escape.";

/** The step that scales or checks the picture by a known distance. */
export function knownStep(
  plan: Plan,
  what: "scale" | "check",
  k: KnownLength,
): Read<{ label: string; plan: Plan; say: string }> {
  const u = plan.underlay;
  if (!u) return { ok: false, sentence: nothing };
  const next = what === "check" ? checked(u, k) : scaled(u, k, plan.show);
  if (!next.ok) return next;
  const length = smallText(k.distance_ft, plan.show);
  const label = what === "check" ? `Check the picture by ${length}` : `Scale the picture by ${length}`;
  const check = checkText(next.value, plan.show);
  const say = what === "check" ? check : `The picture is scaled and locked.${check ? ` ${check}` : ""}`;
  return { ok: true, value: { label, plan: { ...plan, underlay: next.value }, say } };
}

function release(s: PictureState, aim: Aim, moved: boolean, a: Around): Out {
  // Drawn in one stroke: the place pressed is the first end.
  if (moved && s.pressed && s.ends.length !== 1) {
    const first = point({ ...s, ends: [] }, s.pressed, aim.reach, a);
    return first.state.ends.length === 1 ? point(first.state, aim.raw, aim.reach, a) : first;
  }
  return point(s, aim.raw, aim.reach, a);
}

function back(s: PictureState): Out {
  if (s.ends.length === 0) return { state: fresh, leave: true };
  return { state: { ...s, ends: s.ends.slice(0, -1), pressed: null }, say: "Taken back." };
}

function step(s: PictureState, e: ToolEvent, a: Around): Out {
  switch (e.type) {
    case "hover":
    case "drag":
      return { state: { ...s, pointer: e.aim.raw } };
    case "press":
      return { state: { ...s, pointer: e.aim.raw, pressed: e.aim.raw } };
    case "release":
      return release(s, e.aim, e.moved, a);
    case "place":
      return point(s, e.aim.at, e.aim.reach, a);
    case "typed": {
      if (e.entry.values.measured !== undefined) return known(s, e.entry.values.measured, a);
      return e.entry.place ? point(s, e.entry.place, e.aim.reach, a) : { state: s, unused: true };
    }
    case "back":
    case "escape":
      return back(s);
    case "abort":
      return { state: { ...s, pressed: null } };
    default:
      return { state: s, unused: true };
  }
}

/** The lines known on the picture, with their lengths, and the one being pointed out. */
function sketch(s: PictureState, a: Around): Sketch {
  const u = a.plan.underlay;
  if (!u || !isSized(u)) return {};
  const guides: { a: Point; b: Point }[] = [];
  const labels: SketchLabel[] = [];
  for (const [k, what] of [
    [u.scaled_by, "scale"],
    [u.checked_by, "check"],
  ] as const) {
    if (!k) continue;
    const line = { a: onPlan(u, k.from), b: onPlan(u, k.to) };
    guides.push(line);
    const text = `${what}: ${smallText(k.distance_ft, a.plan.show)}`;
    labels.push({ at: line.a, text, along: line });
  }
  const from = s.ends[0] ?? (s.pressed && s.ends.length === 0 ? s.pressed : undefined);
  const to = s.ends[1] ?? s.pointer;
  if (!from || !to) return { guides, labels, dots: s.pointer ? [s.pointer] : [] };
  const text = u.scaled_by ? smallText(distance(from, to), a.plan.show) : "";
  if (text) labels.push({ at: from, text, along: { a: from, b: to } });
  return { guides, labels, rubber: [from, to], dots: [from, to] };
}

const firstHints: Readonly<Record<PictureDo, string>> = {
  scale: "Point at one end of a distance you know on the picture.",
  check: "Point at one end of a second known distance, across the first if you can.",
  level: "Point at one end of a line that should lie level or upright.",
};

export const pictureTool: Tool<PictureState> = {
  name: "picture",
  start: () => fresh,
  step,
  sketch,
  aims: () => false,
  fields: (s, a) => (awaits(s, a.kit.pictureDo) ? ["measured"] : ["place"]),
  placeFirst: () => true,
  busy: (s) => s.ends.length > 0,
  hint(s, a) {
    if (!a.plan.underlay) return nothing;
    if (s.ends.length === 0) return firstHints[a.kit.pictureDo];
    if (s.ends.length === 1) return "Now its other end.";
    return "Type the distance between the two, then Enter.";
  },
};

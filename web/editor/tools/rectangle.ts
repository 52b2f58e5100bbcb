// A rectangle by two corners, by press and drag, or by a corner and typed
// width and depth.

import type { Entry } from "../entry";
import { areaText, lengthText, placeText } from "../format";
import { distance, type Point } from "../geometry";
import type { System } from "../model";
import { areaOf, type Corner, place } from "../shape";
import { closedOutline } from "./made";
import type { Around, Result, Sketch, Tool } from "./tool";

export interface RectangleState {
  readonly first: Point | null;
  readonly pointer: Point | null;
  /** Set by a press that may become a drag. */
  readonly pressed: Point | null;
  readonly typedPlace: boolean;
}

type Out = Result<RectangleState>;

const fresh: RectangleState = { first: null, pointer: null, pressed: null, typedPlace: false };

/** The corners anticlockwise from the lower left. */
export function rectangle(a: Point, b: Point): Corner[] {
  const [x0, x1] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [y0, y1] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}

/** The corner across from the first for typed sizes, on the side the pointer is. */
export function acrossFrom(first: Point, pointer: Point, entry: Entry): Point {
  if (entry.place) return entry.place;
  const side = (i: 0 | 1) => (pointer[i] < first[i] ? -1 : 1);
  const { width, depth } = entry.values;
  return [
    width === undefined ? pointer[0] : first[0] + side(0) * width,
    depth === undefined ? pointer[1] : first[1] + side(1) * depth,
  ];
}

function second(s: RectangleState, at: Point, a: Around): Out {
  const first = s.first as Point;
  if (first[0] === at[0] || first[1] === at[1]) {
    return {
      state: { ...s, pressed: null },
      say: "A rectangle needs width and depth. Move on, or type them: 30 x 20.",
    };
  }
  const made = closedOutline(a, rectangle(first, at));
  if ("why" in made) return { state: s, say: made.why };
  return { state: fresh, commit: made.step, say: `${made.step.label}: done.` };
}

function corner(s: RectangleState, at: Point, a: Around, typedPlace = false): Out {
  if (s.first) return second(s, at, a);
  const say = `First corner at ${placeText(at, a.plan.show)}.`;
  return { state: { ...fresh, first: at, pointer: at, typedPlace }, say };
}

function typed(s: RectangleState, entry: Entry, pointer: Point, a: Around): Out {
  if (s.first) return second(s, acrossFrom(s.first, pointer, entry), a);
  return entry.place
    ? corner(s, entry.place, a, true)
    : { state: s, say: "Set the first corner, then type width x depth." };
}

function sketch(s: RectangleState, system: System): Sketch {
  if (!s.first || !s.pointer) return {};
  const [a, b] = [s.first, s.pointer];
  const line = rectangle(a, b);
  const [width, depth] = [Math.abs(b[0] - a[0]), Math.abs(b[1] - a[1])];
  const [p, q, r] = line.map(place) as [Point, Point, Point];
  return {
    line,
    closed: true,
    dots: [a],
    labels: [
      { at: [(a[0] + b[0]) / 2, p[1]], text: lengthText(width, system), along: { a: p, b: q } },
      { at: [q[0], (a[1] + b[1]) / 2], text: lengthText(depth, system), along: { a: q, b: r } },
      { at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], text: areaText(areaOf(line), system) },
    ],
  };
}

export const rectangleTool: Tool<RectangleState> = {
  name: "rectangle",
  start: () => fresh,
  step(s, e, a) {
    switch (e.type) {
      case "hover":
        return { state: { ...s, pointer: e.aim.at } };
      case "press":
        return s.first
          ? { state: s }
          : { state: { ...s, first: e.aim.at, pressed: e.aim.at, pointer: e.aim.at } };
      case "drag":
        return { state: { ...s, pointer: e.aim.at } };
      case "release":
        // The click that set the first corner ends where it began; a drag ends at the second.
        if (s.pressed && !e.moved) return corner({ ...s, first: null, pressed: null }, e.aim.at, a);
        return s.first ? second(s, e.aim.at, a) : { state: s };
      case "place":
        return corner(s, e.aim.at, a);
      case "typed":
        return typed(s, e.entry, e.aim.at, a);
      case "finish":
        return s.first && s.pointer && distance(s.first, s.pointer) > 0
          ? second(s, s.pointer, a)
          : { state: s, unused: !s.first };
      case "back":
      case "escape":
        return s.first ? { state: fresh, say: "First corner taken back." } : { state: fresh, leave: true };
      case "abort":
        return { state: s.pressed ? fresh : { ...s, pointer: null } };
      default:
        return { state: s };
    }
  },
  sketch: (s, a) => sketch(s, a.plan.show),
  fields: (s) => (s.first ? ["width", "depth"] : ["place"]),
  placeFirst: (s) => !s.first || s.typedPlace,
  own: (s) => (s.first ? [s.first] : []),
  busy: (s) => s.first !== null,
  hint: (s) => (s.first ? "Second corner, or type width x depth." : "Click the first corner, or type x, y."),
};

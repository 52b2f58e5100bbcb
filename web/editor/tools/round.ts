// Circles and ovals: centre, then the radius by pointer or typed; two radii
// typed make an oval.

import { bulgeThrough } from "../arcs";
import type { Entry } from "../entry";
import { areaText, lengthText, placeText } from "../format";
import { distance, type Point } from "../geometry";
import type { System } from "../model";
import { areaOf, type Corner } from "../shape";
import { closedOutline } from "./made";
import type { Around, Result, Sketch, Tool } from "./tool";

export interface RoundState {
  readonly centre: Point | null;
  readonly pointer: Point | null;
  readonly pressed: boolean;
  /** Ctrl is down: the pointer sets both radii. */
  readonly oval: boolean;
  readonly typedPlace: boolean;
}

type Out = Result<RoundState>;
const fresh: RoundState = { centre: null, pointer: null, pressed: false, oval: false, typedPlace: false };

/** A quarter circle's bulge: tan(90/4). */
const QUARTER = Math.tan(Math.PI / 8);

/** A circle as four quarter arcs, its corners east, north, west and south. */
export function circle(c: Point, r: number): Corner[] {
  return [
    [c[0] + r, c[1], QUARTER],
    [c[0], c[1] + r, QUARTER],
    [c[0] - r, c[1], QUARTER],
    [c[0], c[1] - r, QUARTER],
  ];
}

/** Arcs an oval is drawn with: at 16 none is off by more than 0.2 % of the long radius down to 1 : 3. */
const OVAL_ARCS = 16;

/** An oval with its axes along x and y, as arcs through its own points. */
export function oval(c: Point, rx: number, ry: number): Corner[] {
  const at = (k: number): Point => {
    const t = (2 * Math.PI * k) / OVAL_ARCS;
    return [c[0] + rx * Math.cos(t), c[1] + ry * Math.sin(t)];
  };
  return Array.from({ length: OVAL_ARCS }, (_, k): Corner => {
    const [x, y] = at(k);
    return [x, y, bulgeThrough(at(k), at(k + 1), at(k + 0.5))];
  });
}

function radii(s: RoundState): [number, number] {
  const { centre: c, pointer: p } = s;
  if (!c || !p) return [0, 0];
  if (s.oval) return [Math.abs(p[0] - c[0]), Math.abs(p[1] - c[1])];
  return [distance(c, p), distance(c, p)];
}

const outline = (c: Point, [rx, ry]: [number, number]): Corner[] =>
  rx === ry ? circle(c, rx) : oval(c, rx, ry);

function done(s: RoundState, r: [number, number], a: Around): Out {
  if (!s.centre || Math.min(...r) < 0.05) {
    return {
      state: { ...s, pressed: false },
      say: "A circle needs a radius. Move away from the centre, or type it.",
    };
  }
  const made = closedOutline(a, outline(s.centre, r));
  if ("why" in made) return { state: s, say: made.why };
  return { state: fresh, commit: made.step, say: `${made.step.label}: done.` };
}

function typed(s: RoundState, entry: Entry, a: Around): Out {
  if (!s.centre) {
    if (!entry.place) return { state: s, say: "Set the centre, then type the radius." };
    return centred(s, entry.place, a, true);
  }
  if (entry.place) return done({ ...s, pointer: entry.place }, radii({ ...s, pointer: entry.place }), a);
  const rx = entry.values.radius ?? radii(s)[0];
  return done(s, [rx, entry.values.second ?? rx], a);
}

function centred(s: RoundState, at: Point, a: Around, typedPlace = false): Out {
  return {
    state: { ...s, centre: at, pointer: at, pressed: false, typedPlace },
    say: `Centre at ${placeText(at, a.plan.show)}.`,
  };
}

function sketch(s: RoundState, system: System): Sketch {
  if (!s.centre || !s.pointer) return {};
  const r = radii(s);
  if (Math.min(...r) < 1e-6) return { dots: [s.centre] };
  const line = outline(s.centre, r);
  const text =
    r[0] === r[1] ? `Radius ${lengthText(r[0], system)}` : r.map((n) => lengthText(n, system)).join(" x ");
  return {
    line,
    closed: true,
    dots: [s.centre],
    rubber: s.oval ? undefined : [s.centre, s.pointer],
    labels: [
      { at: [(s.centre[0] + s.pointer[0]) / 2, (s.centre[1] + s.pointer[1]) / 2], text },
      { at: s.centre, text: areaText(areaOf(line), system) },
    ],
  };
}

export const roundTool: Tool<RoundState> = {
  name: "round",
  start: () => fresh,
  step(s, e, a) {
    switch (e.type) {
      case "hover":
      case "drag":
        return { state: { ...s, pointer: e.aim.at, oval: e.aim.ctrl } };
      case "press":
        return s.centre
          ? { state: s }
          : { state: { ...s, centre: e.aim.at, pointer: e.aim.at, pressed: true } };
      case "release": {
        if (s.pressed && !e.moved) return centred(s, e.aim.at, a);
        const next = { ...s, pointer: e.aim.at, oval: e.aim.ctrl };
        return s.centre ? done(next, radii(next), a) : { state: s };
      }
      case "place": {
        const next = { ...s, pointer: e.aim.at };
        return s.centre ? done(next, radii(next), a) : centred(s, e.aim.at, a);
      }
      case "typed":
        return typed({ ...s, pointer: e.aim.at }, e.entry, a);
      case "finish":
        return s.centre ? done(s, radii(s), a) : { state: s, unused: true };
      case "back":
      case "escape":
        return s.centre ? { state: fresh, say: "Centre taken back." } : { state: fresh, leave: true };
      case "abort":
        return { state: s.pressed ? fresh : { ...s, pointer: null } };
      default:
        return { state: s };
    }
  },
  sketch: (s, a) => sketch(s, a.plan.show),
  anchor: (s) => (s.centre ? { at: s.centre } : null),
  fields: (s) => (s.centre ? ["radius", "second"] : ["place"]),
  placeFirst: (s) => !s.centre || s.typedPlace,
  busy: (s) => s.centre !== null,
  hint: (s) =>
    s.centre
      ? "Radius: click or type it. Two radii, or Ctrl, make an oval."
      : "Click the centre, or type x, y.",
};

// Measuring: each side, the running total, and what the corners enclose. It
// leaves nothing on the plan; what was measured can be copied as text.

import { type Entry, placeFrom } from "../entry";
import { angleText, areaText, lengthText } from "../format";
import { directionDeg, distance, middle, type Point } from "../geometry";
import type { System } from "../model";
import { areaOf, centroid, faultOf, LATTICE, lengthOf, perimeterOf } from "../shape";
import type { Aim, Around, Result, Sketch, SketchLabel, Tool } from "./tool";

export interface MeasureState {
  readonly corners: readonly Point[];
  readonly pointer: Point | null;
  /** Ended: the figures stand until the next is begun. */
  readonly done: boolean;
  /** It came back to its first corner. */
  readonly closed: boolean;
  /** The last corner was typed as x, y. */
  readonly typedPlace: boolean;
}

type Out = Result<MeasureState>;
const fresh: MeasureState = { corners: [], pointer: null, done: false, closed: false, typedPlace: false };

const last = (s: MeasureState): Point | null => s.corners.at(-1) ?? null;

function end(s: MeasureState, closed: boolean, a: Around): Out {
  const state = { ...s, done: true, closed };
  return { state, say: `Measured. ${figures(state, a.plan.show)}` };
}

function corner(was: MeasureState, at: Point, a: Around, typedPlace = false): Out {
  const s = was.done ? { ...fresh, pointer: was.pointer } : was;
  const [first, before] = [s.corners[0], last(s)];
  if (before && distance(before, at) <= LATTICE)
    return { state: s, say: "That is where the last corner is." };
  if (first && s.corners.length > 2 && distance(first, at) <= LATTICE) return end(s, true, a);
  const state = { ...s, corners: [...s.corners, at], typedPlace };
  return { state, say: state.corners.length > 1 ? figures(state, a.plan.show) : "First corner set." };
}

function click(s: MeasureState, aim: Aim, clicks: number, a: Around): Out {
  const before = last(s);
  const again = before && distance(before, aim.at) <= Math.max(aim.reach, LATTICE);
  if (clicks > 1 && again && !s.done && s.corners.length > 1) return end(s, false, a);
  return corner(s, aim.at, a);
}

function typed(s: MeasureState, entry: Entry, aim: Aim, a: Around): Out {
  const from = s.done ? null : last(s);
  if (from) return corner(s, placeFrom(entry, from, aim.at), a, entry.place !== undefined);
  if (entry.place) return corner(s, entry.place, a, true);
  return { state: s, refused: "Set the first corner by a click, or type it as x, y." };
}

function finish(s: MeasureState, a: Around): Out {
  if (s.corners.length === 0) return { state: fresh, leave: true };
  if (s.done) return { state: fresh, say: "Measure cleared." };
  return s.corners.length > 1 ? end(s, false, a) : { state: s, say: "Set another corner to measure to." };
}

function back(s: MeasureState): Out {
  if (s.done) return { state: { ...s, done: false, closed: false }, say: "Going on with the measure." };
  if (s.corners.length === 0) return { state: fresh, leave: true };
  return {
    state: { ...s, corners: s.corners.slice(0, -1) },
    say: `Corner ${s.corners.length} taken out.`,
  };
}

/** Whether what the corners enclose is a number: a line that crosses itself encloses none. */
const encloses = (corners: readonly Point[]): boolean =>
  corners.length > 2 && !["crosses", "touches"].includes(faultOf(corners)?.reason ?? "");

/** The newest side, the total and, closed, perimeter and area, in one line. */
function figures(s: MeasureState, show: System): string {
  const { corners } = s;
  const say = (ft: number) => lengthText(ft, show);
  if (corners.length < 2) return "";
  const side = say(distance(corners.at(-2) as Point, corners.at(-1) as Point));
  const total = say(lengthOf(corners));
  const open = corners.length === 2 ? `Length ${side}` : `Side ${side}, total ${total}`;
  if (corners.length < 3) return `${open}.`;
  const area = encloses(corners) ? `area ${areaText(areaOf(corners), show)}` : "it crosses itself";
  const around = `perimeter ${say(perimeterOf(corners))}, ${area}`;
  return s.closed ? `Closed: ${around}.` : `${open}; closed: ${around}.`;
}

/** What was measured as text, a line for each figure. */
export function measuredText(s: MeasureState, show: System): string | null {
  const { corners } = s;
  if (corners.length < 2) return null;
  const say = (ft: number) => lengthText(ft, show);
  const ring = s.closed ? [...corners, corners[0] as Point] : corners;
  const sides = ring.slice(1).map((c, i) => say(distance(ring[i] as Point, c)));
  const out = [`Sides: ${sides.join("; ")}`, `Total: ${say(lengthOf(ring))}`];
  if (corners.length < 3) return out.join("\n");
  out.push(`Perimeter, closed: ${say(perimeterOf(corners))}`);
  if (encloses(corners)) out.push(`Area: ${areaText(areaOf(corners), show)}`);
  return out.join("\n");
}

function sketch(s: MeasureState, show: System): Sketch {
  const before = s.done ? null : last(s);
  const reach = before && s.pointer && distance(before, s.pointer) > LATTICE ? [s.pointer] : [];
  const line = [...s.corners, ...reach];
  if (line.length < 2) return { dots: s.corners };
  const [first, end] = [line[0] as Point, line.at(-1) as Point];
  const labels: SketchLabel[] = line.slice(1).map((b, i) => {
    const a = line[i] as Point;
    const newest = !s.done && i === line.length - 2;
    const text = lengthText(distance(a, b), show);
    return {
      at: middle(a, b),
      text: newest ? `${text} < ${angleText(directionDeg(a, b))}` : text,
      along: { a, b },
    };
  });
  if (line.length > 2) {
    labels.push({
      at: middle(end, first),
      text: lengthText(distance(end, first), show),
      along: { a: end, b: first },
    });
    const area = encloses(line) ? areaText(areaOf(line), show) : "–";
    labels.push({ at: centroid(line), text: `Area ${area}` });
  }
  return {
    line,
    closed: s.closed,
    dots: s.corners,
    labels,
    guides: line.length > 2 && !s.closed ? [{ a: end, b: first }] : [],
    news: figures(s, show) || undefined,
  };
}

export const measureTool: Tool<MeasureState> = {
  name: "measure",
  start: () => fresh,
  step(s, e, a) {
    switch (e.type) {
      case "begin":
        return corner(s, e.at, a);
      case "hover":
      case "press":
      case "drag":
        return { state: { ...s, pointer: e.aim.at } };
      case "release":
        return click({ ...s, pointer: e.aim.at }, e.aim, e.clicks, a);
      case "place": {
        const before = last(s);
        const again = before && !s.done && distance(before, e.aim.at) <= LATTICE;
        return again ? finish(s, a) : corner({ ...s, pointer: e.aim.at }, e.aim.at, a);
      }
      case "typed":
        return typed(s, e.entry, e.aim, a);
      case "finish":
        return finish(s, a);
      case "back":
        return back(s);
      case "escape":
        return s.corners.length > 0
          ? { state: fresh, say: "Measure cleared." }
          : { state: fresh, leave: true };
      default:
        return { state: { ...s, pointer: null } };
    }
  },
  sketch: (s, a) => sketch(s, a.plan.show),
  anchor(s) {
    const at = s.done ? null : last(s);
    const before = s.corners.at(-2);
    return at ? { at, ...(before ? { beforeDeg: directionDeg(before, at) } : {}) } : null;
  },
  own: (s) => (s.done ? [] : s.corners),
  fields: (s) => (s.done || s.corners.length === 0 ? ["place"] : ["length", "angle"]),
  placeFirst: (s) => s.done || s.corners.length === 0 || s.typedPlace,
  text: (s, a) => measuredText(s, a.plan.show),
  busy: (s) => s.corners.length > 0,
  hint(s) {
    if (s.done) return "Copy takes the figures as text. Click to measure anew; Escape clears.";
    if (s.corners.length === 0) return "Click the first corner, or type x, y.";
    if (s.corners.length === 1) return "Next corner: click, or type a length.";
    return "Next corner; the first one closes; Enter ends.";
  },
};

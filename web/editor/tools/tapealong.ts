// By tape, along and off: a base line is chosen, and places are so far along it
// and so far off to a side.

import { lengthText, placeText } from "../format";
import { distance, nearestOnSegment, type Point } from "../geometry";
import { indexOf } from "../snapindex";
import { alongOff, type Base, offsetOf, otherSide } from "../taping";
import { buildingAround, clearSide, mayTurn } from "./tapeclear";
import { found, type Out, refuse, type TapeState, type WayOf } from "./tapestate";
import type { Aim, Around, Sketch, SketchLabel } from "./tool";

/** Ends nearer than half an inch, in feet, are no base line. */
const LEAST_FT = 1 / 24;

const withBase = (s: TapeState, base: Base, a: Around): Out => {
  const [from, to, long] = [
    placeText(base.a, a.plan.show),
    placeText(base.b, a.plan.show),
    lengthText(distance(base.a, base.b), a.plan.show),
  ];
  const say = `Along from ${from} towards ${to}, ${long}. Type along and off, such as 12' 6", 3'.`;
  const side = clearSide(a, base, s.side);
  return { state: { ...s, base, side, chosen: false, first: null, why: "" }, say };
};

/** The straight side of the corners in hand, or edge of the plan, that is pointed at; its nearer end first. */
function edgeAt(s: TapeState, aim: Aim, a: Around): Base | "arc" | null {
  const own = s.chain.slice(1).map((f, i) => ({ a: s.chain[i]?.at as Point, b: f.at }));
  const near = own.find((e) => distance(nearestOnSegment(aim.at, e.a, e.b), aim.at) <= aim.reach);
  const edges = indexOf(a.plan)
    .edgesNear(aim.at, aim.reach)
    .filter((e) => distance(e.a, e.b) >= LEAST_FT);
  const straight = near ?? edges.find((e) => !e.arc);
  if (!straight) return edges.length > 0 ? "arc" : null;
  const first = distance(aim.at, straight.a) <= distance(aim.at, straight.b);
  return first ? { a: straight.a, b: straight.b } : { a: straight.b, b: straight.a };
}

const onCorner = (aim: Aim): boolean =>
  aim.snap !== null && ["end", "self", "crossing", "centre"].includes(aim.snap.kind);

function choose(s: TapeState, at: Point, edge: Base | "arc" | null, a: Around): Out {
  if (s.first) {
    if (distance(s.first, at) < LEAST_FT)
      return refuse(s, "A base line needs two places. Choose another.", false);
    return withBase(s, { a: s.first, b: at }, a);
  }
  if (edge === "arc")
    return refuse(s, "A tape along an arc is no base. Choose a straight edge, or two places.", false);
  if (edge) return withBase(s, edge, a);
  return {
    state: { ...s, first: at, why: "" },
    say: `Along from ${placeText(at, a.plan.show)}. Now its other end.`,
  };
}

/** The side a place is on, when it is clearly off the line. */
function sideOf(s: TapeState, aim: Aim): TapeState["side"] {
  const o = s.base ? offsetOf(s.base, aim.at) : null;
  return o && o.off > aim.reach / 4 ? o.side : s.side;
}

/** The side while the pointer only moves: the one chosen, else the pointer's where that is likely meant. */
export function sidePointed(s: TapeState, aim: Aim, a: Around): TapeState["side"] {
  const o = s.base && !s.chosen ? offsetOf(s.base, aim.at) : null;
  if (!o || !s.base || o.off <= aim.reach / 4) return s.side;
  const across = alongOff(s.base, o.along, o.off, otherSide(o.side));
  return across && mayTurn(a, aim.at, across, o.off > 4 * aim.reach) ? o.side : s.side;
}

/** Rows of a station table as places, or the sentence for the first that gives none. */
export function stationPlaces(
  s: TapeState,
  rows: readonly { along: number; off: number; side: TapeState["side"] | null }[],
): Point[] {
  const { base } = s;
  if (!base) return [];
  return rows
    .map((r) => alongOff(base, r.along, r.off, r.side ?? s.side))
    .filter((at): at is Point => at !== null);
}

export const along: WayOf = {
  click(s, aim, a) {
    if (!s.base) return choose(s, aim.at, s.first || onCorner(aim) ? null : edgeAt(s, aim, a), a);
    return found({ ...s, side: sideOf(s, aim) }, { at: aim.at, tapes: [] }, a);
  },
  typed(s, entry, aim, a) {
    if (!s.base) {
      return entry.place
        ? choose(s, entry.place, null, a)
        : refuse(s, "Choose the line first: click an edge, or type one end as x, y.", true);
    }
    const pointed = s.pointer ? offsetOf(s.base, aim.at) : null;
    const { along = pointed?.along, off = 0 } = entry.values;
    if (along === undefined) return refuse(s, "Type how far along, then how far off: 12' 6\", 3'.", true);
    const side = entry.side ?? s.side;
    const chosen = s.chosen || entry.side !== undefined;
    const at = alongOff(s.base, along, off, side);
    return at
      ? found({ ...s, side, chosen }, { at, tapes: [] }, a)
      : refuse(s, "That gives no place. Check it.", true);
  },
  fields: (s) => (s.base ? ["along", "off"] : ["place"]),
  back(s) {
    if (s.base) return { state: { ...s, base: null }, say: "Base line put down." };
    return s.first ? { state: { ...s, first: null }, say: "First end taken back." } : null;
  },
  swap(s, what, a) {
    if (what === "base") {
      return {
        state: { ...s, base: null, first: null, why: "" },
        say: "Choose another line to measure from.",
      };
    }
    if (!s.base) return { state: s, say: "Choose the line first." };
    if (what === "side") {
      const side = otherSide(s.side);
      return { state: { ...s, side, chosen: true }, say: `Off to the ${side}.` };
    }
    const { state, say } = withBase(s, { a: s.base.b, b: s.base.a }, a);
    // Seen from the other end the same ground lies on the other side.
    return { state: { ...state, side: otherSide(s.side), chosen: s.chosen }, say };
  },
  sketch,
  hint(s, a) {
    if (s.first) return "Now the other end of the line: click, or type x, y.";
    if (!s.base) return "Click the edge to measure from, near its first end; or two places.";
    return `Off to the ${s.side}: type along, off as ${example(a)}, with L or R to turn.`;
  },
};

const example = (a: Around): string => (a.plan.show === "metric" ? "3.8, 0.9" : `12' 6", 3'`);

function sketch(s: TapeState, a: Around): Sketch {
  const { base, first, pointer } = s;
  if (!base) return first ? { dots: [first], guides: pointer ? [{ a: first, b: pointer }] : [] } : {};
  const ends: SketchLabel[] = [{ at: base.a, text: "0" }];
  const o = pointer ? offsetOf(base, pointer) : null;
  // The ghost stands on the side that is set, so that a key turns it too.
  const ghost = o ? alongOff(base, o.along, o.off, s.side) : null;
  if (!o || !ghost) return { dots: [base.a], guides: [base], labels: ends };
  const say = (ft: number) => lengthText(ft, a.plan.show);
  const building = a.kit.asHole ? null : buildingAround(a, ghost);
  const inside = building ? `, inside ${building}` : "";
  const labels: SketchLabel[] = [
    ...ends,
    { at: mid(base.a, o.foot), text: `along ${say(o.along)}`, along: { a: base.a, b: o.foot } },
    { at: mid(o.foot, ghost), text: `off ${say(o.off)} ${s.side}${inside}`, along: { a: o.foot, b: ghost } },
  ];
  return { dots: [base.a, ghost], guides: [base, { a: base.a, b: o.foot }, { a: o.foot, b: ghost }], labels };
}

const mid = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

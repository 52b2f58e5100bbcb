// By tape, sides and turns: lengths walked one after another with left and right
// turns; coming back to the start shows by how much they miss it.

import type { Run } from "../fieldbook";
import { lengthText, placeText } from "../format";
import { directionDeg, distance, type Point } from "../geometry";
import type { Corner } from "../shape";
import { misclosureOf, runFrom, sharedOut } from "../taping";
import { closes, cornersOf, found, lastOf, type Out, refuse, type TapeState, type WayOf } from "./tapestate";
import type { Around } from "./tool";

/** The way the run goes on: as the last side went, else where the pointer is, else east. */
function heading(s: TapeState, aimed: Point): number {
  const [before, last] = s.chain.slice(-2).map((f) => f.at);
  if (before && last) return directionDeg(before, last);
  return before && s.pointer && distance(before, aimed) > 0 ? directionDeg(before, aimed) : 0;
}

/** A run that ends this near its start has come back to it: a foot, or 2 % of its length. */
const backFt = (run: number): number => Math.max(1, 0.02 * run);

export function walked(s: TapeState, run: Run, aimed: Point, a: Around): Out {
  const start = lastOf(s);
  if (!start) return refuse(s, "Set where the run starts first: click, or type x, y.", true);
  const [places] = runFrom(start, heading(s, aimed), run.legs);
  const chain = [...s.chain, ...places.slice(1).map((at) => ({ at, tapes: [] }))];
  const next: TapeState = { ...s, chain, closing: null, dropped: [], why: "", fault: null };
  const n = run.legs.length === 1 ? "One side" : `${run.legs.length} sides`;
  const closing = closingOf(next, run, a);
  if (closing) {
    const state = { ...next, closing };
    return { state, say: `${n}. ${closingText(state, a)}` };
  }
  return { state: next, say: `${n}, to ${placeText(lastOf(next) as Point, a.plan.show)}.` };
}

/** The misclosure of the sides drawn, when they have come back to where they began. */
function closingOf(s: TapeState, run: Run, a: Around): TapeState["closing"] {
  const first = s.chain[0]?.at;
  if (!first || !closes(a.kit.tapeMakes) || s.chain.length < 4) return null;
  const miss = misclosureOf(
    s.chain.map((f) => f.at),
    first,
  );
  return run.closes || miss.length <= backFt(miss.run) ? { from: 0, miss } : null;
}

/** An eighth of an inch, in feet: less is how a tape is read, not a misclosure. */
const NOTHING_FT = 1 / 96;

/** How a run closes: length, direction, and one part in so many. */
export function closingText(s: TapeState, a: Around): string {
  if (!s.closing) return "";
  const { miss } = s.closing;
  const run = lengthText(miss.run, a.plan.show);
  if (miss.length <= NOTHING_FT) return `The run of ${run} closes.`;
  const by = lengthText(miss.length, a.plan.show);
  return `The run of ${run} misses its start by ${by} to the ${compass(miss.deg)}, 1 in ${Math.round(miss.oneIn).toLocaleString("en")}.`;
}

/** Worse than 1 in 100 is no longer how a tape is read, but a side misread: common practice. */
export function closingTrouble(s: TapeState, a: Around): string {
  const miss = s.closing?.miss;
  if (!miss || miss.length <= NOTHING_FT || miss.oneIn >= 100) return "";
  const likely = likelySide(s, miss.deg);
  const which =
    likely === null ? "" : ` Look first at the side of ${lengthText(likely, a.plan.show)}: it runs that way.`;
  return `That is worse than 1 in 100, so a side is likely misread.${which}`;
}

/** The longest side that runs the way of the misclosure, within 10 degrees: a misread length shows along itself. */
function likelySide(s: TapeState, deg: number): number | null {
  let best: number | null = null;
  s.chain.slice(1).forEach((f, i) => {
    const from = s.chain[i]?.at as Point;
    const off = Math.abs(((((directionDeg(from, f.at) - deg) % 180) + 270) % 180) - 90);
    const length = distance(from, f.at);
    if (off <= 10 && length > (best ?? 0)) best = length;
  });
  return best;
}

const eight = ["east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east"];
const compass = (deg: number): string => eight[Math.round(deg / 45) % 8] as string;

/** The corners with the misclosure shared out, and as measured; without the last, which is the first again. */
export function closedWays(s: TapeState): { shared: Corner[]; asMeasured: Corner[] } {
  const places = s.chain.map((f) => f.at);
  const first = places[0] as Point;
  const list = (all: readonly Point[]) => all.slice(0, -1).map((p): Corner => [p[0], p[1]]);
  return { shared: list(sharedOut(places, first)), asMeasured: cornersOf(s).slice(0, -1) };
}

export const closesExactly = (s: TapeState): boolean => (s.closing?.miss.length ?? 0) <= NOTHING_FT;

export const sides: WayOf = {
  click: (s, aim, a) => found(s, { at: aim.at, tapes: [] }, a),
  typed(s, entry, aim, a) {
    if (entry.place && !lastOf(s)) return found(s, { at: entry.place, tapes: [] }, a);
    return entry.run
      ? walked(s, entry.run, aim.at, a)
      : refuse(s, "Set where the run starts first: click, or type x, y.", true);
  },
  fields: (s) => (s.chain.length > 0 ? ["run"] : ["place"]),
  back: () => null,
  swap: (s) => ({ state: s, say: "A run has no base: type L or R for its turns." }),
  sketch(s) {
    const [at, to] = [lastOf(s), s.pointer];
    return at && to && !s.closing ? { guides: [{ a: at, b: to }] } : {};
  },
  hint(s, a) {
    if (s.closing) {
      return closesExactly(s)
        ? "Enter closes it; or go on."
        : "Enter shares the miss out over all sides, as is usual; as measured leaves it to the last side.";
    }
    if (s.chain.length === 0) return "Click where the run starts, or type x, y.";
    const metric = a.plan.show === "metric";
    // A figure first: a letter alone is the key of a command.
    if (s.chain.length === 1) {
      const first = metric ? "7.2 E, L 3.2" : `24' E, L 10' 6"`;
      return `Type the first side with E, N, W or S: ${first}.`;
    }
    return `Type sides and turns: ${metric ? "7.2, L 3.2" : `24', L 10' 6"`}; Enter ends.`;
  },
};

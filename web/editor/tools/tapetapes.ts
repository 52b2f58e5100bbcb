// By tape, from known places: two tapes meet at two places, one each side; three
// are laid together as well as they agree, and their differences are shown.

import { lengthText, placeText } from "../format";
import { distance, middle, type Point } from "../geometry";
import type { System } from "../model";
import {
  type Fit,
  fitTapes,
  isSlip,
  type Meeting,
  offsetOf,
  otherSide,
  poorCrossing,
  type Tape,
  twoTapes,
} from "../taping";
import { buildingAround, likelierSide } from "./tapeclear";
import { found, type Offered, type Out, refuse, type TapeState, type WayOf } from "./tapestate";
import type { Aim, Around, Sketch } from "./tool";

const nth = ["first", "second", "third"] as const;

/** Two places nearer than half an inch, in feet, are one. */
const ONE_FT = 1 / 24;

function addKnown(s: TapeState, at: Point, a: Around): Out {
  const anew = s.used || s.known.length === 3;
  const known = anew ? [] : s.known;
  const chosen = s.chosen && known.length > 0; // other places have other sides
  if (known.some((k) => distance(k, at) < ONE_FT)) {
    return refuse(s, "That place is known already. Choose another.", false);
  }
  const next = [...known, at];
  const ask =
    next.length === 1
      ? "Now the second."
      : next.length === 2
        ? "Type the two tapes, or choose a third place."
        : "Type the three tapes.";
  return {
    state: { ...s, known: next, used: false, chosen, why: "" },
    say: `Known: the ${nth[next.length - 1]}, at ${placeText(at, a.plan.show)}. ${ask}`,
  };
}

/** The sentence for tapes that cannot meet, with how much is missing. */
export function apartSentence(
  m: Exclude<Meeting, { kind: "meet" }>,
  tapes: readonly Tape[],
  show: System,
): string {
  const say = (ft: number) => lengthText(ft, show);
  const [one, two] = tapes.map((t) => say(t.length));
  const gap = say(distance((tapes[0] as Tape).from, (tapes[1] as Tape).from));
  switch (m.kind) {
    case "short":
      return `The tapes do not meet: ${one} and ${two} are ${say(m.missing)} short of the ${gap} between the known places. Measure again.`;
    case "long":
      return `The ${nth[m.which]} tape is ${say(m.missing)} too long: the other cannot reach its end. Measure again.`;
    default:
      return "These tapes give no place. Check the known places and the numbers.";
  }
}

function offer(s: TapeState, lengths: readonly number[], a: Around): Out {
  const tapes = s.known.map((from, i): Tape => ({ from, length: lengths[i] as number }));
  if (tapes.length === 2) {
    const m = twoTapes(tapes[0] as Tape, tapes[1] as Tape);
    if (m.kind !== "meet") return refuse(s, apartSentence(m, tapes, a.plan.show), true);
    const offered: Offered = { ...m, kind: "two", tapes };
    const side = s.chosen ? s.side : likelierSide(a, m.left, m.right, s.side);
    const state = { ...s, offered, side, why: "" };
    return { state, say: newsOf(state, a) };
  }
  const fit = fitTapes(tapes);
  if (!fit) return refuse(s, "These tapes give no place. Check the known places and the numbers.", true);
  const state: TapeState = { ...s, offered: { kind: "fit", tapes, fit }, side: fitSide(s, fit, a), why: "" };
  return { state, say: [newsOf(state, a), troubleOf(state, a)].filter(Boolean).join(" ") };
}

/** The side of known places in one line, which cannot tell the two apart. */
function fitSide(s: TapeState, fit: Fit, a: Around): TapeState["side"] {
  const [one, two] = s.known;
  if (s.chosen || !fit.mirrored || !one || !two) return s.side;
  const isLeft = offsetOf({ a: one, b: two }, fit.at)?.side === "left";
  const [left, right] = isLeft ? [fit.at, fit.mirrored] : [fit.mirrored, fit.at];
  return likelierSide(a, left, right, s.side);
}

/** The place that Enter takes. */
export function picked(s: TapeState): Point | null {
  const o = s.offered;
  if (!o) return null;
  if (o.kind === "two") return s.side === "left" ? o.left : o.right;
  const side = offsetOf({ a: o.tapes[0]?.from as Point, b: o.tapes[1]?.from as Point }, o.fit.at)?.side;
  return o.fit.mirrored && side !== s.side ? o.fit.mirrored : o.fit.at;
}

const choices = (o: Offered): Point[] =>
  o.kind === "two" ? [o.left, o.right] : o.fit.mirrored ? [o.fit.at, o.fit.mirrored] : [o.fit.at];

function take(s: TapeState, at: Point, a: Around): Out {
  const tapes = s.offered?.tapes ?? [];
  return found({ ...s, used: true }, { at, tapes }, a);
}

function clickOffered(s: TapeState, o: Offered, aim: Aim, a: Around): Out {
  const on = choices(o).find((c) => distance(c, aim.at) <= aim.reach);
  if (on) return take(s, on, a);
  const corner = aim.snap !== null && ["end", "self", "crossing", "centre"].includes(aim.snap.kind);
  const isNew = s.known.every((k) => distance(k, aim.at) >= ONE_FT);
  if (o.kind === "two" && corner && isNew) {
    return { state: { ...s, known: [...s.known, aim.at], why: "" }, say: "Known: the third. Type its tape." };
  }
  const next = { ...s, side: sideAt(s, aim) };
  return take(next, picked(next) as Point, a);
}

/** The side of the first two known places a click is on. */
function sideAt(s: TapeState, aim: Aim): TapeState["side"] {
  const [a, b] = s.known;
  const o = a && b ? offsetOf({ a, b }, aim.at) : null;
  return o && o.off > aim.reach / 4 ? o.side : s.side;
}

/** Whether two tapes are typed and the third place has just been chosen. */
const thirdOnly = (s: TapeState): boolean => s.offered?.kind === "two" && s.known.length === 3;

export const tapes: WayOf = {
  click: (s, aim, a) => (s.offered ? clickOffered(s, s.offered, aim, a) : addKnown(s, aim.at, a)),
  typed(s, entry, _aim, a) {
    if (entry.place) return addKnown(s, entry.place, a);
    const { tape1, tape2, tape3 } = entry.values;
    if (s.known.length < 2)
      return refuse(s, "Choose two known places first: click corners, or type x, y.", true);
    const before = thirdOnly(s) ? (s.offered?.tapes.map((t) => t.length) ?? []) : [];
    const lengths = [...before, ...[tape1, tape2, tape3].filter((l) => l !== undefined)];
    if (lengths.length === s.known.length) return offer(s, lengths, a);
    const n = s.known.length === 2 ? "both tapes" : "all three tapes";
    return refuse(s, `Type ${n} in the order of the places: ${example(s, a)}.`, true);
  },
  fields(s) {
    if (s.known.length < 2) return ["place"];
    if (thirdOnly(s)) return ["tape3"];
    return s.known.length === 2 ? ["tape1", "tape2"] : ["tape1", "tape2", "tape3"];
  },
  accept(s, a) {
    const at = thirdOnly(s) ? null : picked(s);
    return at ? take(s, at, a) : null;
  },
  back(s) {
    if (thirdOnly(s)) return { state: { ...s, known: s.known.slice(0, 2) }, say: "Third place taken back." };
    if (s.offered) return { state: { ...s, offered: null, why: "" }, say: "Tapes taken back." };
    if (s.known.length === 0) return null;
    return { state: { ...s, known: s.known.slice(0, -1), used: false }, say: "Known place taken back." };
  },
  swap(s, what, a) {
    if (what === "side") {
      const state = { ...s, side: otherSide(s.side), chosen: true };
      return { state, say: s.offered ? newsOf(state, a) : `The ${state.side} of two places is taken.` };
    }
    if (what === "end") return { state: s, say: "Tapes have no end to turn. Choose the side instead." };
    return {
      state: { ...s, known: [], used: false, offered: null, why: "" },
      say: "Choose other known places.",
    };
  },
  sketch(s, a): Sketch {
    const say = (ft: number) => lengthText(ft, a.plan.show);
    const labels = s.known.map((at, i) => ({ at, text: `${i + 1}` }));
    const at = picked(s);
    if (!s.offered || !at)
      return { dots: s.known, labels, guides: s.known.length > 1 ? between(s.known) : [] };
    return {
      dots: [...s.known, ...choices(s.offered)],
      rings: s.offered.tapes.map((t) => ({ at: t.from, radius: t.length })),
      guides: s.offered.tapes.map((t) => ({ a: t.from, b: at })),
      labels: [
        ...labels,
        { at, text: placeText(at, a.plan.show) },
        ...s.offered.tapes.map((t) => ({
          at: middle(t.from, at),
          text: say(t.length),
          along: { a: t.from, b: at },
        })),
      ],
      news: newsOf(s, a),
      problem: troubleOf(s, a) || undefined,
    };
  },
  hint(s, a) {
    if (thirdOnly(s)) return "Type the third tape.";
    if (s.offered) return "Enter takes it; Shift+S the other side; or click a third place to check.";
    if (s.known.length === 0) return "Click the first known place: a corner, a tree, or type x, y.";
    if (s.known.length === 1) return "Click the second known place.";
    return `Type the tapes from ${s.known.map((_, i) => i + 1).join(" and ")}: ${example(s, a)}.`;
  },
};

const between = (known: readonly Point[]): { a: Point; b: Point }[] =>
  known.slice(1).map((b, i) => ({ a: known[i] as Point, b }));

const example = (s: TapeState, a: Around): string => {
  const all = a.plan.show === "metric" ? ["7.7", "9.4", "6.2"] : [`25' 4"`, `31'`, `20' 6"`];
  return all.slice(0, Math.max(2, s.known.length)).join(", ");
};

/** What was found, in words. */
function newsOf(s: TapeState, a: Around): string {
  const [o, at] = [s.offered, picked(s)];
  if (!o || !at) return "";
  const where = placeText(at, a.plan.show);
  const building = a.kit.asHole ? null : buildingAround(a, at);
  const inside = building ? ` It lies inside ${building}.` : "";
  if (o.kind === "two") {
    const third = thirdOnly(s) ? " Type the third tape to check." : "";
    return `The ${s.side} of the two places, at ${where}.${inside}${third}`;
  }
  const say = (ft: number) => lengthText(ft, a.plan.show);
  const each = o.fit.residuals.map((r, i) => `${nth[i]} ${signed(r, say)}`).join(", ");
  const largest = say(Math.max(...o.fit.residuals.map(Math.abs)));
  const side = o.fit.mirrored ? ` The known places lie in one line; the ${s.side} is taken.` : "";
  return `Misclosure, tape less drawing: ${each}; the largest ${largest}. Place ${where}.${side}${inside}`;
}

const signed = (ft: number, say: (ft: number) => string): string => {
  const text = say(Math.abs(ft));
  return text === say(0) ? text : `${ft < 0 ? "−" : "+"}${text}`;
};

/** What is wrong with the tapes, if anything. */
function troubleOf(s: TapeState, a: Around): string {
  const o = s.offered;
  if (!o) return "";
  const say = (ft: number) => lengthText(ft, a.plan.show);
  if (o.kind === "two") {
    if (!poorCrossing(o.crossingDeg)) return "";
    return `The tapes cross at ${Math.round(o.crossingDeg)}°: a small slip moves the place far. Choose known places that cross nearer a right angle, or add a third.`;
  }
  const tape = o.tapes[o.fit.worst] as Tape;
  if (!isSlip(o.fit.slip, tape.length)) return "";
  const way = o.fit.slip > 0 ? "long" : "short";
  // Three tapes tell that one is off and by how much, never surely which.
  return `One tape is off by about ${say(Math.abs(o.fit.slip))}, too ${way} if it is the ${nth[o.fit.worst]}: measure again.`;
}

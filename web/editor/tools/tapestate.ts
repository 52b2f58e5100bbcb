// By tape: what is in hand while places are found with a tape, and what becomes
// of a place once it is found. The ways of finding are in the files beside.

import type { Entry, Field } from "../entry";
import { placeText } from "../format";
import { distance, type Point } from "../geometry";
import type { Plan } from "../model";
import { type Corner, type Fault, LATTICE } from "../shape";
import type { Base, Fit, Misclosure, Side, Tape } from "../taping";
import { wentByTape } from "./built";
import { barrier, closedOutline, head, keepDry, type Made, note, tree } from "./made";
import { fixture, spotHeight, withTies } from "./standing";
import { insideSaid } from "./tapeclear";
import type { Aim, Around, Result, Sketch, TapeMakes, TapeWay } from "./tool";

/** A place found, and the tapes it was found by: they are kept as ties. */
export interface Found {
  readonly at: Point;
  readonly tapes: readonly Tape[];
}

/** Places that tapes leave to choose from, or one to look at before it is taken. */
export type Offered =
  | {
      readonly kind: "two";
      readonly tapes: readonly Tape[];
      readonly left: Point;
      readonly right: Point;
      readonly crossingDeg: number;
    }
  | { readonly kind: "fit"; readonly tapes: readonly Tape[]; readonly fit: Fit };

/** A run that has come back to where it began. */
export interface Closing {
  /** The corner it began at, of the chain. */
  readonly from: number;
  readonly miss: Misclosure;
}

export interface TapeState {
  /** Corners found, in the order they were. */
  readonly chain: readonly Found[];
  readonly pointer: Point | null;
  /** The first of two places a base line is chosen by, or a tie set between. */
  readonly first: Point | null;
  readonly base: Base | null;
  readonly side: Side;
  /** The side is the user's choice, and stays until they change it; else it goes by what lies there. */
  readonly chosen: boolean;
  /** The places tapes are pulled from, and whether a place was found from them already. */
  readonly known: readonly Point[];
  readonly used: boolean;
  readonly offered: Offered | null;
  readonly closing: Closing | null;
  /** A place that waits for its level or its words. */
  readonly mark: Found | null;
  /** The far place of a tie that waits for its measure. */
  readonly second: Point | null;
  readonly dropped: readonly Found[];
  /** What stands in the way of closing, and the sentence for it or for anything else that is wrong. */
  readonly fault: Fault | null;
  readonly why: string;
}

export const fresh: TapeState = {
  chain: [],
  pointer: null,
  first: null,
  base: null,
  side: "left",
  chosen: false,
  known: [],
  used: false,
  offered: null,
  closing: null,
  mark: null,
  second: null,
  dropped: [],
  fault: null,
  why: "",
};

export type Out = Result<TapeState>;

/** One way of finding a place. */
export interface WayOf {
  click(s: TapeState, aim: Aim, a: Around): Out;
  typed(s: TapeState, entry: Entry, aim: Aim, a: Around): Out;
  fields(s: TapeState): readonly Field[];
  /** Takes what is offered; null when nothing is. */
  accept?(s: TapeState, a: Around): Out | null;
  /** Takes the last choice back; null when there was none. */
  back(s: TapeState): Out | null;
  swap(s: TapeState, what: "side" | "end" | "base", a: Around): Out;
  sketch(s: TapeState, a: Around): Sketch;
  hint(s: TapeState, a: Around): string;
}

/** What places found by tape become beside the kinds of area, as it stands in the choice beside the tool. */
export const makesNames: Readonly<Record<Exclude<TapeMakes, "area">, string>> = {
  lot: "Property line",
  barriers: "Wall or fence",
  trees: "Trees",
  keep_dry: "Keep dry",
  heads: "Heads",
  elevations: "Spot heights",
  notes: "Notes",
  fixtures: "Fixtures",
  built: "What is selected, as built",
};

export const wayNames: Readonly<Record<TapeWay, string>> = {
  along: "Along and off",
  tapes: "Tapes from places",
  sides: "Sides and turns",
  tie: "Tie to check",
};

export const closes = (makes: TapeMakes): boolean => makes === "area" || makes === "lot";
/** Things that are asked for more than their place: a level, or words. */
export const asks = (makes: TapeMakes): boolean => makes === "elevations" || makes === "notes";
const isChain = (makes: TapeMakes): boolean => closes(makes) || makes === "barriers";

export const lastOf = (s: TapeState): Point | null => s.chain.at(-1)?.at ?? null;
export const cornersOf = (s: TapeState): Corner[] => s.chain.map((f): Corner => [f.at[0], f.at[1]]);

/** A sentence that is both shown and said, and keeps the box open when it was typed. */
export const refuse = (s: TapeState, why: string, typed: boolean): Out =>
  typed ? { state: s, refused: why } : { state: { ...s, why }, say: why };

/** A place found: the next corner, or a thing set there. */
export function found(s: TapeState, f: Found, a: Around): Out {
  const clean = { ...s, offered: null, why: "", fault: null };
  const makes = a.kit.tapeMakes;
  if (isChain(makes)) return corner(clean, f, a);
  if (asks(makes)) {
    const what = makes === "notes" ? "Type the note" : "Type the level";
    return {
      state: { ...clean, mark: f },
      say: `Place ${placeText(f.at, a.plan.show)}. ${what}, then Enter.${insideTold(a, f.at)}`,
    };
  }
  const made = marked(a, f.at);
  if ("why" in made) return { state: { ...clean, why: made.why }, say: made.why };
  return settled(clean, made, f, a);
}

function corner(s: TapeState, f: Found, a: Around): Out {
  const before = lastOf(s);
  if (before && distance(before, f.at) <= LATTICE) {
    return { state: s, say: "That is where the last corner already is." };
  }
  const chain = [...s.chain, f];
  const say = `Corner ${chain.length} at ${placeText(f.at, a.plan.show)}.${insideTold(a, f.at)}`;
  return { state: { ...s, chain, closing: null, dropped: [], why: insideSaid(a, f.at) }, say };
}

/** What is said of a place inside a building, after another sentence. */
const insideTold = (a: Around, at: Point): string => {
  const said = insideSaid(a, at);
  return said && ` ${said}`;
};

function marked(a: Around, at: Point): Made {
  switch (a.kit.tapeMakes) {
    case "trees":
      return { step: tree(a, at) };
    case "keep_dry":
      return { step: keepDry(a, at) };
    case "heads":
      return head(a, at);
    case "built":
      return wentByTape(a, at);
    default:
      return fixture(a, at);
  }
}

/** The step of one thing set, with its ties. */
function settled(s: TapeState, made: Extract<Made, { step: unknown }>, f: Found, a: Around): Out {
  const step = { ...made.step, plan: withTies(made.step.plan, f.at, f.tapes) };
  const say = `${step.label}, at ${placeText(f.at, a.plan.show)}.${insideTold(a, f.at)}`;
  return { state: { ...s, why: insideSaid(a, f.at) }, commit: step, say };
}

/** A waiting place gets its level. */
export function levelled(s: TapeState, z: number, a: Around): Out {
  return s.mark
    ? settled({ ...s, mark: null }, { step: spotHeight(a, s.mark.at, z) }, s.mark, a)
    : { state: s };
}

/** A waiting place gets its words; without words there is no note. */
export function worded(s: TapeState, text: string, a: Around): Out {
  if (!s.mark || text === "") return { state: { ...s, mark: null }, say: "No text, so no note." };
  return settled({ ...s, mark: null }, { step: note(a, s.mark.at, text) }, s.mark, a);
}

/** What the corners make, with the tapes to them kept as ties. */
export function madeOf(s: TapeState, corners: readonly Corner[], a: Around): Made {
  const { tapeMakes, areaKind } = a.kit;
  if (!isChain(tapeMakes)) {
    return {
      why: "Choose a kind of area, the property line or a wall beside By tape to make something of these corners.",
    };
  }
  const made = tapeMakes === "barriers" ? barrier(a, corners) : closedOutline(kitted(a, areaKind), corners);
  if ("why" in made) return made;
  const plan = tied(made.step.plan, s, corners);
  const kit = tapeMakes === "lot" ? { kit: { tapeMakes: "area" as const } } : {};
  const { kit: _kit, ...step } = made.step;
  return { step: { ...step, ...kit, plan } };
}

/** The kit closedOutline is to go by: the property line is chosen with what By tape makes. */
function kitted(a: Around, areaKind: Around["kit"]["areaKind"]): Around {
  const lot = a.kit.tapeMakes === "lot";
  const kind = lot ? "lot" : areaKind === "lot" ? "planting" : areaKind;
  return { ...a, kit: { ...a.kit, areaKind: kind, asHole: a.kit.asHole && !lot } };
}

/** Two places nearer than a quarter inch are one corner. */
const ONE_FT = 1 / 48;

function tied(p: Plan, s: TapeState, corners: readonly Corner[]): Plan {
  const whole = corners.length === s.chain.length || corners.length === s.chain.length - 1;
  return s.chain.reduce((next, f, i) => {
    const same = whole ? corners[i] : corners.find((c) => distance([c[0], c[1]], f.at) <= ONE_FT);
    return same ? withTies(next, [same[0], same[1]], f.tapes) : next;
  }, p);
}

// What is dug for the pipes and wires of the plan, as the server tells it: the Go
// type is web.DigsView. It is asked for only while something on the page shows it.

import type { XY } from "./design";
import type { Ref } from "./model";

/** One straight stretch of a trench, or of what lies otherwise, as it is drawn. */
export interface Stretch {
  line: [XY, XY];
  /** lawn, bed, roots and so on: see internal/trench.Ground. */
  ground: string;
  wide_ft: number;
  about: Ref[];
  /** A pipe always under pressure is among what it holds. */
  main: boolean;
  /** A new trench; else there already, in a sleeve or in a building. */
  dug: boolean;
}

/** What is dug in one go, in the words of the crew's trench list. */
export interface TrenchRow {
  from: string;
  to: string;
  /** Points it comes past, each with how far it is from the first. */
  way: string;
  length: string;
  cover: string;
  depth: string;
  holds: string;
  ground: string;
  about: Ref[];
  line: [XY, XY];
}

/** One way under paving. */
export interface Crossing {
  ends: [XY, XY];
  where: string;
  length: string;
  cover: string;
  method: string;
  holds: string;
  about: Ref[];
  needs: { says: string; why: string; sleeve: Ref | "" }[];
  new: boolean;
  /** Of those that are new. */
  longest: boolean;
}

/** One box in the ground. */
export interface DugBox {
  at: XY;
  words: string;
  holds: string;
  about: Ref[];
  new: boolean;
}

/** The wire of one valve or sensor. */
export interface WireOf {
  to: Ref;
  name: string;
  station: string;
  length: string;
  size: string;
  volts: string;
  drop: string;
  sum: string;
  /** Why there is no way for it; "" where there is. */
  missing: string;
  /** Where what is laid ends, when there is none. */
  at?: XY;
  new: boolean;
}

export interface Digs {
  says: string;
  totals: { label: string; text: string }[];
  stretches: Record<string, Stretch>;
  /** The crew's trench list, by the number of the row. */
  list: Record<string, TrenchRow>;
  /** What the list leaves out, in words. */
  short: string;
  crossings: Crossing[];
  boxes: DugBox[];
  wire: {
    says: string;
    why: string;
    /** The thinnest wire does not do for all. */
    sums: boolean;
    runs: WireOf[];
    splices: { at: XY; where: string; says: string; boxed: boolean }[];
    cables: { what: string; length: string; why: string }[];
    cautions: string[];
    /** The sizes wire is made in, to choose from. */
    gauges: { value: string; label: string }[];
  };
  caution: string;
}

/** Who on the page shows what is dug. */
export class DigsWanted {
  readonly #by = new Set<string>();

  constructor(readonly changed: () => void) {}

  get any(): boolean {
    return this.#by.size > 0;
  }

  by(who: string, on: boolean): void {
    const had = this.any;
    if (on) this.#by.add(who);
    else this.#by.delete(who);
    if (had !== this.any) this.changed();
  }
}

/** The rows of the trench list in the order of digging, each with its number. */
export function rowsInOrder(d: Digs): [string, TrenchRow][] {
  return Object.entries(d.list).sort(([a], [b]) => Number(a) - Number(b));
}

/** The middle of two places. */
export const between = ([a, b]: readonly [XY, XY]): XY => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

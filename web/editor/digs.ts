// What is dug for the pipes and wires of the plan, as the server tells it: the Go
// type is web.DigsView. It is asked for only while something on the page shows it.

import type { XY } from "./design";
import type { Ref } from "./model";
import { sortKey } from "./names";

/** One straight stretch of a trench, or of what lies otherwise. */
export interface Stretch {
  line: [XY, XY];
  /** lawn, bed, roots and so on: see internal/trench.Ground. */
  ground: string;
  where: string;
  length: string;
  cover: string;
  width: string;
  /** For drawing. */
  wide_ft: number;
  holds: string;
  about: Ref[];
  /** A pipe always under pressure is among what it holds. */
  main: boolean;
  /** A new trench; else there already, in a sleeve or in a building. */
  dug: boolean;
  /** Less than a spade is wide: drawn, but nothing to be dug by itself. */
  short: boolean;
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
  /** What of them a list leaves out, in words. */
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

/** The stretches as a list has them: what is to be dug first, the main first, then by what they hold and from west to east. */
export function stretchesInOrder(d: Digs): [string, Stretch][] {
  const keyed = Object.entries(d.stretches).map(([key, s]) => ({ key, s, words: sortKey(s.holds) }));
  const from = ({ s }: { s: Stretch }): XY => s.line[0];
  keyed.sort(
    (a, b) =>
      Number(b.s.dug) - Number(a.s.dug) ||
      Number(b.s.main) - Number(a.s.main) ||
      (a.words < b.words ? -1 : a.words > b.words ? 1 : 0) ||
      from(a)[0] - from(b)[0] ||
      from(a)[1] - from(b)[1] ||
      (a.key < b.key ? -1 : 1),
  );
  return keyed.map(({ key, s }) => [key, s]);
}

/** The middle of two places. */
export const between = ([a, b]: readonly [XY, XY]): XY => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

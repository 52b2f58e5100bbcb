// How the heads of an offer lie within its picture, in feet.

import type { StandView } from "./arranging";
import { type Bounds, boundsOf, growBounds, type Point } from "./geometry";
import type { Head, Nozzle } from "./model";
import { type Pattern, patternOf } from "./pattern";

/** Where a head of an offer stands. */
export const standAt = (s: StandView): Point => [s.x_ft, s.y_ft];

/** What it wets, to be drawn. */
export function patternOfStand(s: StandView): Pattern {
  const head: Head = { ...s, nozzle: s.nozzle, body: "" };
  const nozzle = s.strip ? ({ strip: s.strip } as Nozzle) : undefined;
  return patternOf(head, nozzle, s.throw_ft);
}

/** The bounds of a picture of areas and heads, with a margin. */
export function pictureBounds(rings: readonly (readonly Point[])[], heads: readonly StandView[]): Bounds {
  const b = boundsOf([...rings.flat(), ...heads.map(standAt)]) ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 };
  return growBounds(b, 0.04 * Math.max(b.maxX - b.minX, b.maxY - b.minY, 1));
}

/** Bounds no smaller than a side, about the same middle: a mend is seen with what lies around it. */
export function about(at: Point, side: number): Bounds {
  return { minX: at[0] - side / 2, maxX: at[0] + side / 2, minY: at[1] - side / 2, maxY: at[1] + side / 2 };
}

// Turning what is selected about a place by an angle, or until an edge of it
// lies along another.

import { layOrCopy, type Moved } from "./edit";
import { angleText } from "./format";
import { add, directionDeg, type Point, times, turnDeg } from "./geometry";
import type { Sight } from "./layers";
import { find, type Head, type Plan, type Ref } from "./model";
import { laid, type Motion, turnAbout } from "./motions";
import { namesOf } from "./names";
import { place } from "./shape";
import { type Drawn, ringsOf, spotOf } from "./things";

/**
 * The middle of what is selected: what it is turned about until another centre
 * is chosen. The mean of its corners and places, since that turns with it: the
 * middle of a box around it would not, and turning back would miss.
 */
export function middleOfAll(p: Plan, refs: Iterable<Ref>): Point | null {
  const all = [...refs].flatMap((r) => {
    const spot = spotOf(p, r);
    return spot ? [spot] : ringsOf(p, r).flatMap((ring) => ring.map(place));
  });
  if (all.length === 0) return null;
  const sum = all.reduce<Point>((s, q) => add(s, q), [0, 0]);
  return times(sum, 1 / all.length);
}

/** The smallest turn, in degrees, that lays the direction of one edge along another: within a quarter turn. */
export function turnToLie(edge: readonly [Point, Point], along: number): number {
  const turn = turnDeg(directionDeg(...edge), along);
  if (turn > 90) return turn - 180;
  return turn <= -90 ? turn + 180 : turn;
}

/** Lays each thing down by a motion that does not mirror. */
export const byMotion =
  (p: Plan, m: Motion) =>
  <C extends Drawn>(c: C, thing: Parameters<typeof laid<C>>[1]) =>
    laid(c, thing, m, c === "heads" ? find(p, "nozzles", (thing as Head).nozzle) : undefined);

/** Turns things anticlockwise about a centre; with keep, the originals stay and copies are made. */
export function turnThings(
  p: Plan,
  refs: readonly Ref[],
  centre: Point,
  deg: number,
  keep: boolean,
  sight?: Sight,
): Moved {
  const { free, ...moved } = layOrCopy(p, refs, byMotion(p, turnAbout(centre, deg)), keep, sight);
  return { ...moved, label: `${keep ? "Copy turned:" : "Turn"} ${namesOf(p, free)} by ${angleText(deg)}` };
}

// Turning what is selected about a place by an angle, or until an edge of it
// lies along another.

import { copyThings, layCopies, layThings } from "./edit";
import { angleText } from "./format";
import { directionDeg, type Point, turnDeg } from "./geometry";
import { isFree, type Sight } from "./layers";
import { find, type Head, type Plan, type Ref } from "./model";
import { laid, type Motion, turnAbout } from "./motions";
import { namesOf } from "./names";
import { boundsOfAll, type Drawn } from "./things";

/** The middle of what is selected: what it is turned about until another centre is chosen. */
export function middleOfAll(p: Plan, refs: Iterable<Ref>): Point | null {
  const b = boundsOfAll(p, refs);
  return b ? [(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2] : null;
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

export interface Turned {
  readonly plan: Plan;
  readonly label: string;
  readonly select: readonly Ref[];
  readonly notes: readonly string[];
}

/** Turns things anticlockwise about a centre; with keep, the originals stay and copies are made. */
export function turnThings(
  p: Plan,
  refs: readonly Ref[],
  centre: Point,
  deg: number,
  keep: boolean,
  sight?: Sight,
): Turned {
  const lay = byMotion(p, turnAbout(centre, deg));
  const free = keep ? refs : refs.filter((r) => isFree(p, r, sight));
  const locked = refs.length - free.length;
  const [plan, select] = keep
    ? layCopies(p, copyThings(p, refs), [lay])
    : [layThings(p, free, lay), [...refs]];
  const label = `${keep ? "Copy turned:" : "Turn"} ${namesOf(p, free)} by ${angleText(deg)}`;
  return { plan, label, select, notes: locked > 0 ? [`${locked} locked left alone.`] : [] };
}

// Mirroring what is selected in a line: the things themselves, or a copy of
// them on the other side.

import type { Catalog } from "./api";
import { equip, nozzles } from "./catalog";
import { layOrCopy, type Moved } from "./edit";
import { angleText, lengthText } from "./format";
import { directionDeg, distance, normDeg, type Point } from "./geometry";
import type { Sight } from "./layers";
import { parseAngle, parseCoordinate, type Read, read, refuse } from "./length";
import { find, type Head, type Nozzle, type Plan, put, type Ref, type System } from "./model";
import { laid, type Motion, mirrorIn } from "./motions";
import { namesOf } from "./names";
import { LATTICE } from "./shape";
import type { Drawn } from "./things";

/** The line things are mirrored in: through a place (feet), in a direction (degrees). */
export interface Axis {
  readonly at: Point;
  readonly deg: number;
}

/** The axis through two places; null when they are one place. */
export const axisThrough = (a: Point, b: Point): Axis | null =>
  distance(a, b) <= LATTICE ? null : { at: a, deg: directionDeg(a, b) };

/**
 * Reads a typed axis: "x 20" is the upright line at x 20, "y 12' 6\"" the level
 * one at that height, "45" or "45°" a line at that angle through the middle of
 * what is mirrored.
 */
export function parseAxis(typed: string, show: System, middle: Point): Read<Axis> {
  const upright = /^\s*x\s*=?\s*(.+)$/i.exec(typed);
  const level = /^\s*y\s*=?\s*(.+)$/i.exec(typed);
  const along = upright ?? level;
  if (along) {
    const v = parseCoordinate(along[1] as string, show);
    if (!v.ok) return v;
    return read(upright ? { at: [v.value, 0], deg: 90 } : { at: [0, v.value], deg: 0 });
  }
  const angle = /^[\s\d.+°-]*(deg|degrees)?\s*$/i.test(typed) ? parseAngle(typed) : null;
  if (angle?.ok) return read({ at: middle, deg: angle.value });
  return refuse(`“${typed.trim()}” is not an axis. Write x 20, y 12 or an angle such as 45.`);
}

/** An axis in words: "x = 20' 0\"", "y = 3.00 m", or its angle. */
export function axisText(axis: Axis, show: System): string {
  const deg = normDeg(axis.deg) % 180;
  if (deg === 90) return `x = ${lengthText(axis.at[0], show)}`;
  if (deg === 0) return `y = ${lengthText(axis.at[1], show)}`;
  return `a line at ${angleText(deg)}`;
}

/** Mirrors things in an axis; with keep, the originals stay and copies are made. */
export function mirrorThings(
  p: Plan,
  from: Catalog,
  refs: readonly Ref[],
  axis: Axis,
  keep: boolean,
  sight?: Sight,
): Moved {
  const twins = new Twins(p, from);
  const m = mirrorIn(axis.at, axis.deg);
  const lay = <C extends Drawn>(c: C, thing: Parameters<typeof laid<C>>[1]) =>
    c === "heads" ? (twins.laid(thing as Head, m) as typeof thing) : laid(c, thing, m);
  const { plan, select, free, notes } = layOrCopy(p, refs, lay, keep, sight);
  const strips = `${twins.missing} strip ${twins.missing === 1 ? "nozzle has" : "nozzles have"}`;
  const turned =
    twins.missing > 0 ? [`${strips} no mirror image in the tables: check which side they wet.`] : [];
  const label = `${keep ? "Copy mirrored:" : "Mirror"} ${namesOf(p, free)}`;
  return { plan: twins.equipped(plan), label, select, notes: [...notes, ...turned] };
}

/** The strip nozzles that are each other's mirror image, as a left and a right end strip are. */
class Twins {
  missing = 0;
  readonly #used = new Set<string>();

  constructor(
    readonly p: Plan,
    readonly from: Catalog,
  ) {}

  laid(h: Head, m: Motion): Head {
    const nozzle = find(this.p, "nozzles", h.nozzle);
    const moved = laid("heads", h, m, nozzle);
    const strip = nozzle?.strip;
    if (!nozzle || !strip || (strip.ahead && strip.back) || strip.left_ft === strip.right_ft) return moved;
    const twin = nozzles(this.p, this.from).find((n) => mirrors(n, nozzle));
    if (!twin) {
      this.missing++;
      return moved;
    }
    this.#used.add(twin.id);
    return { ...moved, nozzle: twin.id };
  }

  /** The plan with the rows of the nozzles taken instead. */
  equipped(p: Plan): Plan {
    let next = p;
    for (const id of this.#used) {
      const own = find(this.p, "nozzles", id);
      next = own ? put(next, "nozzles", id, own) : equip(next, this.from, id, "");
    }
    return next;
  }
}

/** Whether a nozzle is another with left and right changed about. */
function mirrors(n: Nozzle, of: Nozzle): boolean {
  const [a, b] = [n.strip, of.strip];
  if (!a || !b || n.family !== of.family || n.thread !== of.thread || n.generic !== of.generic) return false;
  const alike = JSON.stringify(n.rows) === JSON.stringify(of.rows);
  const turned = a.left_ft === b.right_ft && a.right_ft === b.left_ft;
  return (
    alike && turned && (a.ahead ?? false) === (b.ahead ?? false) && (a.back ?? false) === (b.back ?? false)
  );
}

// By tape, which of two sides is meant until the user says: the one clear of
// buildings and of what is drawn already; and whether a place found lies inside
// a building, where next to nothing is measured.

import { distance, type Point } from "../geometry";
import { find, parts } from "../model";
import { nameOf } from "../names";
import { footOn } from "../setback";
import { edges } from "../shape";
import { alongOff, type Base, type Side } from "../taping";
import { areaAt } from "../things";
import type { Around } from "./tool";

/** So far off a line, in feet, is looked for what lies beside it. */
const BESIDE_FT = 0.25;
/** Nearer than this to its outline, in feet, a place is on a building, not in it. */
const ON_FT = 0.05;

/** The name of the building a place lies inside of; null when it is outside, or on the wall. */
export function buildingAround(a: Around, at: Point): string | null {
  const r = areaAt(a.plan, at, (area) => area.kind === "building");
  const area = r ? find(a.plan, "areas", parts(r)[1]) : undefined;
  if (!r || !area) return null;
  const all = [area.outline, ...(area.holes ?? [])].flatMap((ring) => edges(ring));
  return all.some((e) => distance(footOn(e, at), at) <= ON_FT) ? null : nameOf(a.plan, r);
}

/** The sentence for a place inside a building; "" when it is none, or a hole is cut. */
export function insideSaid(a: Around, at: Point): string {
  const name = a.kit.asHole ? null : buildingAround(a, at);
  return name ? `This lies inside ${name}. Take it back and turn the side if the tape ran outside.` : "";
}

/** How unlikely a place is meant: inside a building most of all; then where what is made does not belong. */
function unlikely(a: Around, at: Point): number {
  const { tapeMakes, asHole } = a.kit;
  if (buildingAround(a, at)) return 4;
  const r = areaAt(a.plan, at);
  const kind = r ? find(a.plan, "areas", parts(r)[1])?.kind : undefined;
  switch (tapeMakes) {
    case "area":
      return asHole === (kind !== undefined) ? 0 : 1;
    case "lot":
    case "barriers":
      return kind ? 1 : 0;
    case "heads":
      return kind === "planting" ? 0 : 1;
    default:
      return 0;
  }
}

/** The likelier of two places, seen from a line; the side that is set when neither is. */
export function likelierSide(a: Around, left: Point, right: Point, set: Side): Side {
  const by = unlikely(a, left) - unlikely(a, right);
  return by === 0 ? set : by < 0 ? "left" : "right";
}

/** The side of a line that is clear of what is drawn, all along it; the side that is set when neither is more so. */
export function clearSide(a: Around, base: Base, set: Side): Side {
  const length = distance(base.a, base.b);
  const sum = (side: Side): number =>
    [0.25, 0.5, 0.75].reduce((n, share) => {
      const at = alongOff(base, share * length, BESIDE_FT, side);
      return n + (at ? unlikely(a, at) : 0);
    }, 0);
  const by = sum("left") - sum("right");
  return by === 0 ? set : by < 0 ? "left" : "right";
}

/** Whether the pointer at a place may turn the side to its own: never into a building, and near the line only where it is as clear. */
export function mayTurn(a: Around, at: Point, mirrored: Point, far: boolean): boolean {
  const here = unlikely(a, at);
  return here < 4 && (far || here <= unlikely(a, mirrored));
}

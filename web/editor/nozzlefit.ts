// Nozzles of one family and size often come in several arcs: a quarter, a half,
// a full. A head set by one click gets the one its place calls for. And on a plan
// without heads, a first nozzle that suits the ground.

import type { Catalog, NozzleEntry } from "./api";
import { nozzles, ownThrow } from "./catalog";
import { METRES_A_FOOT } from "./conversions";
import { distance } from "./geometry";
import { type Area, find, ids, type Nozzle, type Plan, type Ref, ref, type System } from "./model";
import { nameOf } from "./names";
import { areaOf, ringOf } from "./shape";

/** A fixed arc within this of what is wanted will do, in degrees: a crew turns it by hand. */
const FIXED_NEAR_DEG = 5;

const takes = (n: Nozzle, sweep: number): boolean =>
  sweep >= n.arc_least_deg - FIXED_NEAR_DEG && sweep <= n.arc_most_deg + FIXED_NEAR_DEG;

/**
 * The nozzle for an arc: the one chosen if it can be set to it; else one of the
 * same family, thread and throw that can, the narrowest range first; else the
 * one chosen after all. Strips have no arc and stay as chosen.
 */
export function nozzleFor(all: readonly NozzleEntry[], chosen: NozzleEntry, sweep: number): NozzleEntry {
  if (chosen.strip || takes(chosen, sweep)) return chosen;
  const alike = all.filter(
    (n) =>
      !n.strip &&
      n.family === chosen.family &&
      n.thread === chosen.thread &&
      ownThrow(n) === ownThrow(chosen) &&
      takes(n, sweep),
  );
  const range = (n: Nozzle) => n.arc_most_deg - n.arc_least_deg;
  alike.sort((a, b) => range(a) - range(b) || (a.id < b.id ? -1 : 1));
  return alike[0] ?? chosen;
}

/** Narrower ground than this is for sprays, wider than that for rotors, what is between for streams, in feet (common practice). */
const STREAMS_FROM = 12;
const ROTORS_FROM = 60;

/** A nozzle that suits some ground, and why, in a sentence. */
export interface Suiting {
  readonly nozzle: string;
  readonly why: string;
}

/**
 * The first nozzle for the planting that is selected, else for the largest
 * watered by sprinklers; null while there is none. Rows of heads divide its
 * narrow side into equal intervals no longer than the throw, head to head: of
 * the family's generic throws the one that needs the fewest rows, and of those
 * the shortest, so that it is turned down least (common practice).
 */
export function suitingNozzle(p: Plan, catalog: Catalog, selected: ReadonlySet<Ref>): Suiting | null {
  const id = groundMeant(p, selected);
  const area = id === null ? undefined : find(p, "areas", id);
  if (id === null || !area) return null;
  const across = narrowSide(area);
  const family = across < STREAMS_FROM ? "spray" : across <= ROTORS_FROM ? "stream" : "rotor";
  const [best] = nozzles(p, catalog)
    .filter((n) => n.generic && n.family === family)
    .map((n) => ({ n, throwFt: ownThrow(n) }))
    .sort((a, b) => intervals(across, a.throwFt) - intervals(across, b.throwFt) || a.throwFt - b.throwFt);
  if (!best) return null;
  const rows = intervals(across, best.throwFt) + 1;
  const where = `${nameOf(p, ref("areas", id))}, about ${rough(across, p.show)} across`;
  return {
    nozzle: best.n.id,
    why: `${rough(best.throwFt, p.show)} ${family}: ${numbers[rows] ?? rows} rows on ${where}.`,
  };
}

/** In how many intervals rows of heads of a throw divide a width. */
const intervals = (across: number, throwFt: number): number =>
  Math.max(1, Math.ceil(across / throwFt - 1e-9));

/** A length as it is spoken of: 22 ft, 6.7 m. */
const rough = (feet: number, show: System): string =>
  show === "metric" ? `${Number((feet * METRES_A_FOOT).toFixed(1))} m` : `${Math.round(feet)} ft`;

const numbers = ["", "one", "two", "three", "four", "five", "six"];

const isSprinkled = (a: Area | undefined): boolean =>
  a?.kind === "planting" && (a.watering ?? "overhead") === "overhead" && a.status !== "remove";

function groundMeant(p: Plan, selected: ReadonlySet<Ref>): string | null {
  const all = ids(p, "areas").filter((id) => isSprinkled(find(p, "areas", id)));
  const chosen = all.filter((id) => selected.has(ref("areas", id)));
  const size = (id: string): number => areaOf(find(p, "areas", id)?.outline ?? []);
  const [largest] = (chosen.length > 0 ? chosen : all).sort((a, b) => size(b) - size(a));
  return largest ?? null;
}

/**
 * About how wide an area is across its narrow side, in feet: the side of the
 * rectangle that has its size and its edge, holes and all. Of a rectangle it is
 * the side itself, of an L about the width of its legs.
 */
export function narrowSide(a: Area): number {
  const rings = [a.outline, ...(a.holes ?? [])];
  const [outer = 0, ...holes] = rings.map((r) => areaOf(r));
  const size = outer - holes.reduce((sum, s) => sum + s, 0);
  const edge = rings.map((r) => around(ringOf(r, 0.5))).reduce((sum, l) => sum + l, 0);
  // w + l = edge/2 and w·l = size; a shape as round as a circle has no such rectangle, and is a square.
  const half = edge / 2;
  return (half - Math.sqrt(Math.max(0, half * half - 4 * size))) / 2 || 0;
}

const around = (ring: readonly (readonly [number, number])[]): number =>
  ring.reduce((sum, p, i) => sum + distance(p, ring[(i + 1) % ring.length] ?? p), 0);

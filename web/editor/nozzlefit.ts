// Nozzles of one family and size often come in several arcs: a quarter, a half,
// a full. A head set by one click gets the one its place calls for.

import type { NozzleEntry } from "./api";
import { ownThrow } from "./heads";
import type { Nozzle } from "./model";

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

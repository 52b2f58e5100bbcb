// Changing a head's nozzle, body, arc and throw so that it stays one that
// exists. Every function returns a new plan.

import type { Catalog } from "./api";
import { equip, fitting, ownThrow } from "./catalog";
import { normDeg } from "./geometry";
import { changeMany, find, type Head, type Nozzle, type Plan, put } from "./model";

/** The arc a nozzle can be set to that is nearest to the one asked for; undefined for strips. */
export function arcFor(n: Nozzle, sweep: number | undefined): number | undefined {
  if (n.arc_most_deg <= 0) return undefined;
  return Math.min(n.arc_most_deg, Math.max(n.arc_least_deg, sweep ?? n.arc_most_deg));
}

/**
 * Gives heads another nozzle. Its row comes into the plan; the arc is brought
 * within what it can be set to, a body it does not screw into is changed for
 * one it does, and a throw set before is kept only where it turns down both the
 * old nozzle and the new: a 15 ft spray at 15 ft is not a wish for 15 ft.
 */
export function setNozzle(p: Plan, from: Catalog, heads: readonly string[], nozzle: string): Plan {
  let next = equip(p, from, nozzle, "");
  const n = find(next, "nozzles", nozzle);
  if (!n) return p;
  const bodies = new Map<string, string>();
  for (const now of new Set(heads.flatMap((id) => find(p, "heads", id)?.body ?? []))) {
    const body = bodyFor(next, from, n, now);
    bodies.set(now, body);
    next = equip(next, from, nozzle, body);
  }
  return changeMany(next, "heads", heads, (head) => {
    const body = bodies.get(head.body) ?? head.body;
    const old = find(p, "nozzles", head.nozzle);
    const full = old !== undefined && head.throw_ft !== undefined && head.throw_ft >= ownThrow(old);
    const { throw_ft, ...rest } = head;
    const kept: Head = full || throw_ft === undefined ? rest : { ...rest, throw_ft };
    return refitted({ ...kept, nozzle, body }, n);
  });
}

function bodyFor(p: Plan, from: Catalog, n: Nozzle, now: string): string {
  const fit = fitting(p, from, n);
  return fit.some((b) => b.id === now) ? now : (fit[0]?.id ?? now);
}

function refitted(head: Head, n: Nozzle): Head {
  const { sweep_deg, throw_ft, ...rest } = head;
  const sweep = arcFor(n, sweep_deg || undefined);
  const out: Head = sweep === undefined ? rest : { ...rest, sweep_deg: sweep };
  return throw_ft !== undefined && throw_ft < ownThrow(n) ? { ...out, throw_ft } : out;
}

/** Gives heads another body. */
export function setBody(p: Plan, from: Catalog, heads: readonly string[], body: string): Plan {
  return changeMany(equip(p, from, "", body), "heads", heads, (head) => ({ ...head, body }));
}

/** A new head at a place, with its rows brought into the plan. */
export function newHead(p: Plan, from: Catalog, id: string, head: Head): Plan {
  const next = equip(p, from, head.nozzle, head.body);
  const n = find(next, "nozzles", head.nozzle);
  const start_deg = normDeg(head.start_deg ?? 0);
  return put(next, "heads", id, n ? refitted({ ...head, start_deg }, n) : { ...head, start_deg });
}

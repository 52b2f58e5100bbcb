// Using catalogue rows in a plan: a plan carries a copy of every row it uses,
// so that a file means the same on another machine.

import type { BodyEntry, Catalog, NozzleEntry } from "./api";
import type { Choice } from "./fields";
import { type Body, find, type Nozzle, type Plan, put, type System } from "./model";
import { rowName } from "./rownames";

/** A plan that carries the rows of a nozzle and a body, copied from the catalogue if it lacks them. */
export function equip(p: Plan, from: Catalog, nozzle: string, body: string): Plan {
  let next = p;
  const n = from.nozzles.find((e) => e.id === nozzle);
  if (n && !find(next, "nozzles", nozzle)) next = put(next, "nozzles", nozzle, row<Nozzle>(n));
  const b = from.bodies.find((e) => e.id === body);
  if (b && !find(next, "bodies", body)) next = put(next, "bodies", body, row<Body>(b));
  return next;
}

function row<T>(entry: NozzleEntry | BodyEntry): T {
  const { id: _id, ...rest } = entry;
  return structuredClone(rest) as unknown as T;
}

/** The throw of a nozzle at the pressure it is planned at. */
export function ownThrow(n: Nozzle): number {
  const rows = n.rows;
  const near = rows.reduce((a, b) => (far(a, n) <= far(b, n) ? a : b));
  return near.throw_ft;
}

const far = (row: { pressure_psi: number }, n: Nozzle): number => Math.abs(row.pressure_psi - n.best_psi);

/** Remembers the last answer, for as long as it is asked about the same rows of the same catalogue. */
function remembered<R, T>(
  rows: (p: Plan) => R | undefined,
  list: (p: Plan, from: Catalog) => T[],
): (p: Plan, from: Catalog) => readonly T[] {
  let last: { rows: R | undefined; from: Catalog; list: readonly T[] } | null = null;
  return (p, from) => {
    if (last?.rows !== rows(p) || last?.from !== from) last = { rows: rows(p), from, list: list(p, from) };
    return last.list;
  };
}

/** Every nozzle that can be chosen, the plan's own rows and the catalogue's: by family, then throw, arc and name. */
export const nozzles = remembered((p) => p.nozzles, listNozzles);

/** Every body that can be chosen. */
export const bodies = remembered((p) => p.bodies, listBodies);

function listNozzles(p: Plan, from: Catalog): NozzleEntry[] {
  const own = Object.entries(p.nozzles ?? {}).map(([id, n]) => ({ ...n, id }));
  const rest = from.nozzles.filter((n) => !find(p, "nozzles", n.id));
  return [...own, ...rest].sort(
    (a, b) =>
      families.indexOf(a.family) - families.indexOf(b.family) ||
      ownThrow(a) - ownThrow(b) ||
      a.arc_most_deg - b.arc_most_deg ||
      b.arc_least_deg - a.arc_least_deg ||
      natural.compare(`${a.name} ${a.id}`, `${b.name} ${b.id}`),
  );
}

const natural = new Intl.Collator("en", { numeric: true });
const families = ["spray", "stream", "rotor", "strip"];
const familyNames = ["Sprays", "Streams", "Rotors", "Strips"];

/** Nozzles as they are chosen from: by name, under their families. */
export const nozzleChoices = (list: readonly NozzleEntry[], show: System): Choice[] =>
  list.map((n) => ({
    value: n.id,
    label: rowName(n, show),
    group: familyNames[families.indexOf(n.family)] ?? "Others",
  }));

function listBodies(p: Plan, from: Catalog): BodyEntry[] {
  const own = Object.entries(p.bodies ?? {}).map(([id, b]) => ({ ...b, id }));
  const rest = from.bodies.filter((b) => !find(p, "bodies", b.id));
  return [...own, ...rest].sort((a, b) => a.name.localeCompare(b.name, "en", { numeric: true }));
}

/** The bodies a nozzle screws into; all of them when none says so. */
export function fitting(p: Plan, from: Catalog, nozzle: Nozzle): readonly BodyEntry[] {
  const all = bodies(p, from);
  const fit = all.filter((b) => b.takes === nozzle.thread);
  return fit.length > 0 ? fit : all;
}

/** Bodies as they are chosen from. */
export const bodyChoices = (list: readonly BodyEntry[], show: System): Choice[] =>
  list.map((b) => ({ value: b.id, label: rowName(b, show) }));

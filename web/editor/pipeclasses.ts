// Pipe classes and their sizes as they are chosen: the plan's own rows, then the
// catalogue's; a plan takes a copy of each row it uses.

import type { Catalog, PipeClassEntry } from "./api";
import type { Choice, Context } from "./fields";
import { find, type Plan, put } from "./model";
import { pipeSizeText } from "./pipenames";
import { rowName } from "./rownames";

/** Every pipe class that can be chosen. */
function pipeClasses({ plan, catalog }: Context): PipeClassEntry[] {
  const own = Object.entries(plan.pipe_classes ?? {}).map(([id, c]) => ({ ...c, id }));
  return [...own, ...(catalog.pipe_classes ?? []).filter((c) => !find(plan, "pipe_classes", c.id))];
}

/** The classes as choices, none first; one the plan has no row of is listed by its id. */
export function classChoices(c: Context, now: string, none = "Not chosen"): Choice[] {
  const rows = pipeClasses(c).map((r) => ({ value: r.id, label: rowName(r, c.plan.show) }));
  const lost = now && !rows.some((r) => r.value === now) ? [{ value: now, label: now }] : [];
  return [{ value: "", label: none }, ...rows, ...lost];
}

/** The sizes a class is made in; without one, the usual nominal sizes. */
const usualSizes = [0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3];

export function sizeChoices(c: Context, id: string, now: number): Choice[] {
  const made =
    pipeClasses(c)
      .find((r) => r.id === id)
      ?.sizes.map((s) => s.nominal_in) ?? usualSizes;
  const all = now > 0 && !made.includes(now) ? [...made, now].sort((a, b) => a - b) : made;
  return [
    { value: "", label: "Not sized" },
    ...all.map((n) => ({ value: String(n), label: pipeSizeText(n, c.plan.show) })),
  ];
}

/** A plan that carries the row of a pipe class, copied from the catalogue if it lacks it. */
export function withClass(p: Plan, from: Catalog, id: string): Plan {
  const entry = from.pipe_classes?.find((c) => c.id === id);
  if (!entry || find(p, "pipe_classes", id)) return p;
  const { id: _id, ...row } = entry;
  return put(p, "pipe_classes", id, structuredClone(row));
}

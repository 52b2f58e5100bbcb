// What can be typed about pipes and their joints.

import type { PipeClassEntry } from "./api";
import {
  type Choice,
  type Context,
  choice,
  coordinate,
  type Field,
  member,
  setAll,
  statuses,
  yes,
} from "./fields";
import { zoneLabel } from "./fields_heads";
import { read, refuse } from "./length";
import { find, type Plan } from "./model";
import { withClass } from "./pipedraw";
import { pipeSizeText } from "./pipenames";
import { zonesInOrder } from "./zoning";

/** What a pipe carries: the main's water or a zone's. */
export const waterChoices = (p: Plan): Choice[] => [
  { value: "", label: "Main" },
  ...zonesInOrder(p).map((id) => ({ value: id, label: zoneLabel(p, id) })),
];

const zone: Field = {
  key: "zone",
  label: "Carries",
  as: "choice",
  get: ({ plan }, id) => find(plan, "pipes", id)?.zone ?? "",
  set: ({ plan }, ids, typed) => read(setAll(plan, "pipes", ids, "zone", typed === "" ? undefined : typed)),
  choices: ({ plan }) => waterChoices(plan),
};

/** Every pipe class that can be chosen: the plan's own rows, then the catalogue's. */
export function pipeClasses({ plan, catalog }: Context): PipeClassEntry[] {
  const own = Object.entries(plan.pipe_classes ?? {}).map(([id, c]) => ({ ...c, id }));
  return [...own, ...(catalog.pipe_classes ?? []).filter((c) => !find(plan, "pipe_classes", c.id))];
}

/** The classes as choices; one the plan has no row of is listed by its id. */
export function classChoices(c: Context, now: string): Choice[] {
  const rows = pipeClasses(c).map((r) => ({ value: r.id, label: r.name }));
  const lost = now && !rows.some((r) => r.value === now) ? [{ value: now, label: now }] : [];
  return [{ value: "", label: "Not chosen" }, ...rows, ...lost];
}

const pipeClass: Field = {
  key: "class",
  label: "Class",
  as: "choice",
  get: ({ plan }, id) => find(plan, "pipes", id)?.class ?? "",
  set: ({ plan, catalog }, ids, typed) =>
    read(setAll(withClass(plan, catalog, typed), "pipes", ids, "class", typed === "" ? undefined : typed)),
  choices: (c, ids) => classChoices(c, find(c.plan, "pipes", ids[0] ?? "")?.class ?? ""),
};

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
    ...all.map((n) => ({ value: String(n), label: pipeSizeText(n) })),
  ];
}

const size: Field = {
  key: "nominal_in",
  label: "Size",
  as: "choice",
  get: ({ plan }, id) => String(find(plan, "pipes", id)?.nominal_in ?? ""),
  set: ({ plan }, ids, typed) => {
    const n = Number(typed);
    if (!Number.isFinite(n) || n < 0) return refuse("Choose one of the sizes this pipe is made in.");
    return read(setAll(plan, "pipes", ids, "nominal_in", n > 0 ? n : undefined));
  },
  choices: (c, ids) => {
    const q = find(c.plan, "pipes", ids[0] ?? "");
    return sizeChoices(c, q?.class ?? "", q?.nominal_in ?? 0);
  },
};

const material = member(
  "pipes",
  "material",
  "Material",
  (v) => (typeof v === "string" ? v : ""),
  (typed) => read(typed.trim() === "" ? undefined : typed.trim()),
  {
    hint: () => "in words",
    has: ({ plan }, id) => !find(plan, "pipes", id)?.class,
  },
);

export const pipeFields: readonly Field[] = [
  zone,
  pipeClass,
  size,
  material,
  choice("pipes", "status", "Status", statuses),
  yes("pipes", "locked", "Locked in place"),
];

export const nodeKinds = [
  ["joint", "Joint"],
  ["drain", "Drain"],
  ["valve", "Valve in the pipe"],
] as const;

export const nodeFields: readonly Field[] = [
  choice("nodes", "kind", "Kind", nodeKinds),
  coordinate("nodes", "x_ft", "X, east"),
  coordinate("nodes", "y_ft", "Y, north"),
  choice("nodes", "status", "Status", statuses),
  yes("nodes", "locked", "Locked in place"),
];

// What can be typed about pipes and their joints.

import { type Choice, choice, coordinate, type Field, member, setAll, statuses, yes } from "./fields";
import { zoneChoices } from "./fields_heads";
import { read, refuse } from "./length";
import { find, type Plan } from "./model";
import { classChoices, sizeChoices, withClass } from "./pipeclasses";

/** What a pipe carries: the main's water or a zone's. */
export const waterChoices = (p: Plan): Choice[] => [{ value: "", label: "Main" }, ...zoneChoices(p)];

const zone: Field = {
  key: "zone",
  label: "Carries",
  as: "choice",
  get: ({ plan }, id) => find(plan, "pipes", id)?.zone ?? "",
  set: ({ plan }, ids, typed) => read(setAll(plan, "pipes", ids, "zone", typed === "" ? undefined : typed)),
  choices: ({ plan }) => waterChoices(plan),
};

const pipeClass: Field = {
  key: "class",
  label: "Class",
  as: "choice",
  get: ({ plan }, id) => find(plan, "pipes", id)?.class ?? "",
  set: ({ plan, catalog }, ids, typed) =>
    read(setAll(withClass(plan, catalog, typed), "pipes", ids, "class", typed === "" ? undefined : typed)),
  choices: (c, ids) => classChoices(c, find(c.plan, "pipes", ids[0] ?? "")?.class ?? ""),
};

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

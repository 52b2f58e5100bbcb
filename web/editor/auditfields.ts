// What can be typed about an audit itself: one description per member, as supply.ts
// has them for the supply. Everything is text here.

import { auditOf, OLD, withAudit } from "./audits";
import { type Choice, withMember } from "./fields";
import { zoneLabel } from "./fields_heads";
import { type Read, read, refuse } from "./length";
import { find, type Plan } from "./model";
import { isDay } from "./panels/diggingfields";
import type { Audit } from "./proof";
import { type Measure, measures } from "./yard/measures";
import { zonesInOrder } from "./zoning";

/** A field of one audit. */
export interface AuditField {
  readonly key: string;
  readonly label: string;
  readonly as: "text" | "choice";
  hint?(p: Plan): string;
  readonly empty?: string;
  get(p: Plan, id: string): string;
  set(p: Plan, id: string, typed: string): Read<Plan>;
  choices?(p: Plan): Choice[];
}

/** A plan with one member of an audit set, or without it. */
function set<K extends keyof Audit>(p: Plan, id: string, key: K, value: Audit[K] | undefined): Plan {
  const a = auditOf(p, id);
  return a ? withAudit(p, id, withMember(a, key, value)) : p;
}

const words = (key: "name" | "note", label: string): AuditField => ({
  key,
  label,
  as: "text",
  get: (p, id) => auditOf(p, id)?.[key] ?? "",
  set: (p, id, typed) => {
    const t = typed.trim();
    if (t.length > 2000) return refuse(`${label} has ${t.length} characters. Shorten it to 2,000.`);
    return read(set(p, id, key, t || undefined));
  },
});

const figure = (key: "throat_in2" | "wind_mph", label: string, as: Measure, empty: string): AuditField => ({
  key,
  label,
  as: "text",
  empty,
  hint: (p) => as.unit(p.show),
  get: (p, id) => as.text(auditOf(p, id)?.[key], p.show),
  set: (p, id, typed) => {
    const v = as.read(typed, p.show);
    return v.ok ? read(set(p, id, key, v.value)) : v;
  },
});

const day: AuditField = {
  key: "on",
  label: "Made on",
  as: "text",
  hint: () => "day",
  empty: "2026-05-31",
  get: (p, id) => auditOf(p, id)?.on ?? "",
  set: (p, id, typed) => {
    const t = typed.trim();
    if (t !== "" && !isDay(t)) return refuse("Type the day as 2026-05-31, or leave it empty.");
    return read(set(p, id, "on", t || undefined));
  },
};

/** The areas that can be audited, as choices. */
export const areaChoices = (p: Plan): Choice[] =>
  Object.entries(p.areas ?? {})
    .filter(([, a]) => a.kind === "planting" && (a.watering ?? "overhead") === "overhead")
    .map(([value, a]) => ({ value, label: a.name }))
    .sort((a, b) => (a.label < b.label ? -1 : 1));

const area: AuditField = {
  key: "area",
  label: "Area",
  as: "choice",
  get: (p, id) => auditOf(p, id)?.area ?? "",
  set: (p, id, typed) => read(set(p, id, "area", typed || undefined)),
  choices: (p) => [{ value: "", label: "Not said" }, ...areaChoices(p)],
};

const scale: AuditField = {
  key: "scale",
  label: "Cans are read by",
  as: "choice",
  get: (p, id) => auditOf(p, id)?.scale ?? "volume",
  set: (p, id, typed) => read(set(p, id, "scale", typed === "depth" ? "depth" : undefined)),
  choices: () => [
    { value: "volume", label: "Volume, ml" },
    { value: "depth", label: "Depth, marked on them" },
  ],
};

const throat = figure("throat_in2", "Opening of a can", measures.throat, "as printed on it");

/** All fields of an audit but the minutes; those of older documents have only the can. */
export const auditFields = (p: Plan, id: string): readonly AuditField[] => {
  if (id === OLD) return [throat];
  const volume = auditOf(p, id)?.scale !== "depth";
  return [
    words("name", "Name"),
    day,
    area,
    scale,
    ...(volume ? [throat] : []),
    figure("wind_mph", "Wind", measures.wind, "not said"),
    words("note", "Note"),
  ];
};

/** How long a zone ran for an audit. */
export const minutesOf = (zone: string): AuditField => ({
  key: `runs/${zone}`,
  label: zone,
  as: "text",
  hint: () => "min",
  empty: "did not run",
  get: (p, id) => measures.runMinutes.text(auditOf(p, id)?.runs?.[zone], p.show),
  set: (p, id, typed) => {
    const v = measures.runMinutes.read(typed, p.show);
    if (!v.ok) return v;
    const { [zone]: _was, ...rest } = auditOf(p, id)?.runs ?? {};
    return read(set(p, id, "runs", v.value ? { ...rest, [zone]: v.value } : rest));
  },
});

/** The one time of older documents. */
export const oldMinutes: AuditField = {
  key: "minutes",
  label: "All zones ran",
  as: "text",
  hint: () => "min",
  get: (p) => measures.runMinutes.text(p.proof?.minutes, p.show),
  set: (p, _id, typed) => {
    const v = measures.runMinutes.read(typed, p.show);
    return v.ok ? read({ ...p, proof: withMember(p.proof ?? {}, "minutes", v.value) }) : v;
  },
};

/** The zones whose minutes are asked for, in the order of their stations; those that ran and are gone are last. */
export function zonesAsked(p: Plan, id: string): { zone: string; label: string }[] {
  const known = zonesInOrder(p).map((zone) => ({ zone, label: zoneLabel(p, zone) }));
  const gone = Object.keys(auditOf(p, id)?.runs ?? {}).filter((z) => !find(p, "zones", z));
  return [...known, ...gone.sort().map((zone) => ({ zone, label: `Zone ${zone}, no longer in the plan` }))];
}

// What can be typed about an area.

import { CM_AN_INCH } from "./conversions";
import { cornersText, parseCorners } from "./corners";
import {
  type Context,
  choice,
  type Field,
  length,
  member,
  parseNumber,
  percentText,
  readPercent,
  statuses,
  text,
  yes,
} from "./fields";
import { type Read, read } from "./length";
import { find, type Kind, type Outline, type Plan, put } from "./model";
import { kindNames } from "./names";

const isKind =
  (...kinds: Kind[]) =>
  ({ plan }: Context, id: string): boolean => {
    const kind = find(plan, "areas", id)?.kind;
    return kind !== undefined && kinds.includes(kind);
  };

const planting = isKind("planting");
const turf = (c: Context, id: string): boolean => {
  const what = find(c.plan, "areas", id)?.planting;
  return planting(c, id) && (what === undefined || what === "turf");
};

/** The planting's members mean nothing on other ground, and leave with it. */
const plantingOnly = [
  "planting",
  "exposure",
  "soil",
  "slope",
  "slope_toward_deg",
  "watering",
  "mow_height_in",
  "plant_factor",
  "density_factor",
  "microclimate",
  "roots_in",
  "depletion",
  "plant_height_in",
  "own_zones_only",
] as const;

const kinds = Object.entries(kindNames) as [Kind, string][];

const kind: Field = {
  key: "kind",
  label: "Kind",
  as: "choice",
  get: ({ plan }, id) => find(plan, "areas", id)?.kind ?? "planting",
  set: ({ plan }, ids, typed) => {
    let next = plan;
    for (const id of ids) next = setKind(next, id, typed as Kind);
    return read(next);
  },
  choices: () => kinds.map(([value, label]) => ({ value, label })),
};

/** A plan in which an area is of another kind, without the members only the old kind has. */
export function setKind(p: Plan, id: string, to: Kind): Plan {
  const area = find(p, "areas", id);
  if (!area || area.kind === to) return p;
  const next = { ...area, kind: to };
  if (to !== "planting") for (const k of plantingOnly) delete next[k];
  if (to !== "building") delete next.height_ft;
  return put(p, "areas", id, next);
}

const slope = member(
  "areas",
  "slope",
  "Slope",
  percentText,
  (typed) => readPercent(typed, "the rise over the run", 0, 100),
  { hint: () => "percent", has: planting },
);

/** Inches or centimetres of a plan, as they are typed. */
const shortText = (v: unknown, p: Plan): string =>
  typeof v !== "number" ? "" : p.show === "metric" ? String(Number((v * CM_AN_INCH).toFixed(2))) : String(v);

const shortUnit = (p: Plan): string => (p.show === "metric" ? "cm" : "inches");

/** Reads them; empty is none. Limits are in inches, told in centimetres as round figures. */
function readShort(
  typed: string,
  p: Plan,
  [least, most]: readonly [number, number],
  cm: readonly [number, number],
): Read<number | undefined> {
  if (typed.trim() === "") return read(undefined);
  if (p.show === "us") return parseNumber(typed.replace(/in$|"$/, ""), "inches", least, most);
  const v = parseNumber(typed.replace(/cm$/, ""), "centimetres", cm[0], cm[1]);
  return v.ok ? read(v.value / CM_AN_INCH) : v;
}

const mow = member(
  "areas",
  "mow_height_in",
  "Mowing height",
  shortText,
  (typed, p) => readShort(typed, p, [0.25, 12], [0.5, 30]),
  { hint: (p) => (p.show === "metric" ? "cm; empty: 7.6" : "inches; empty: 3"), has: turf },
);

/** What is asked for only by the watering plan, and has a usual figure for each planting. */
const forWatering = {
  has: planting,
  under: "For the watering program",
  empty: "the usual",
} as const;

/** A factor of need; empty is the usual. Nothing needs nothing: what is not watered says so by Watering. */
const factor = (
  key: "plant_factor" | "density_factor" | "microclimate",
  label: string,
  hint: string,
  most: number,
): Field =>
  member(
    "areas",
    key,
    label,
    (v) => (typeof v === "number" ? String(v) : ""),
    (typed) => (typed.trim() === "" ? read(undefined) : parseNumber(typed, "a factor", 0.05, most)),
    { ...forWatering, hint: () => hint },
  );

/** A depth or height of plants, in inches or centimetres; empty is the usual. */
const short = (key: "roots_in" | "plant_height_in", label: string, empty: string): Field =>
  member("areas", key, label, shortText, (typed, p) => readShort(typed, p, [0.5, 240], [1, 600]), {
    ...forWatering,
    hint: shortUnit,
    empty,
  });

const wateringPlan: readonly Field[] = [
  factor("plant_factor", "Plant factor", "need over reference ET", 1.5),
  factor("density_factor", "Density factor", "thin planting under 1", 2),
  factor("microclimate", "Microclimate factor", "shade under 1, hot walls over 1", 2),
  short("roots_in", "Roots reach", "the usual"),
  member(
    "areas",
    "depletion",
    "May be used up",
    percentText,
    (typed) => readPercent(typed, "the share of the water that roots reach", 5, 95),
    { ...forWatering, hint: () => "% of the water roots reach" },
  ),
  short("plant_height_in", "Height of plants", "low"),
  yes("areas", "own_zones_only", "Count only the water of its own zones", {
    has: planting,
    under: forWatering.under,
  }),
];

const outline: Field = {
  key: "outline",
  label: "Corners",
  as: "long",
  hint: () => "one to a line: x, y; a third number bows the edge that leaves the corner",
  get: ({ plan }, id) => cornersText(find(plan, "areas", id)?.outline ?? [], plan.show),
  set: ({ plan }, [id], typed) => {
    const area = id === undefined ? undefined : find(plan, "areas", id);
    if (!area || id === undefined) return read(plan);
    const v = parseCorners(typed, plan.show, 3, area.outline);
    return v.ok ? read(put(plan, "areas", id, { ...area, outline: v.value })) : v;
  },
};

const gap = /\n\s*\n/;

const holes: Field = {
  key: "holes",
  label: "Holes",
  as: "long",
  hint: () => "corners as above; an empty line between holes",
  get: ({ plan }, id) =>
    (find(plan, "areas", id)?.holes ?? []).map((o) => cornersText(o, plan.show)).join("\n\n"),
  set: ({ plan }, [id], typed) => {
    const area = id === undefined ? undefined : find(plan, "areas", id);
    if (!area || id === undefined) return read(plan);
    const out: Outline[] = [];
    for (const part of typed.trim() === "" ? [] : typed.replace(/\r/g, "").trim().split(gap)) {
      const v = parseCorners(part, plan.show, 3, (area.holes ?? []).flat());
      if (!v.ok) return v;
      out.push(v.value);
    }
    const { holes: _old, ...rest } = area;
    return read(put(plan, "areas", id, out.length > 0 ? { ...rest, holes: out } : rest));
  },
};

export const areaFields: readonly Field[] = [
  text("areas", "name", "Name", true),
  kind,
  choice(
    "areas",
    "planting",
    "Planting",
    [
      ["turf", "Turf"],
      ["flowers", "Flowers"],
      ["shrubs", "Shrubs"],
      ["groundcover", "Ground cover"],
      ["vegetables", "Vegetables"],
      ["trees", "Trees"],
    ],
    { has: planting },
  ),
  choice(
    "areas",
    "exposure",
    "Exposure",
    [
      ["sun", "Sun"],
      ["part_shade", "Part shade"],
      ["shade", "Shade"],
    ],
    { has: planting },
  ),
  choice(
    "areas",
    "soil",
    "Soil",
    [
      ["", "Not known"],
      ["sand", "Sand"],
      ["loamy_sand", "Loamy sand"],
      ["sandy_loam", "Sandy loam"],
      ["loam", "Loam"],
      ["silt_loam", "Silt loam"],
      ["clay_loam", "Clay loam"],
      ["clay", "Clay"],
    ],
    { has: planting },
  ),
  slope,
  choice(
    "areas",
    "watering",
    "Watering",
    [
      ["overhead", "Sprinklers"],
      ["point", "Drip or bubblers"],
      ["by_hand", "By hand"],
      ["none", "None"],
    ],
    { has: planting },
  ),
  mow,
  length(
    "areas",
    "height_ft",
    "Height",
    { least: 0.5, most: 500, empty: "default" },
    { has: isKind("building") },
  ),
  choice("areas", "status", "Status", statuses, {
    hint: () => "how it is drawn; nothing is bought for an area",
  }),
  yes("areas", "locked", "Locked in place"),
  ...wateringPlan,
  outline,
  holes,
];

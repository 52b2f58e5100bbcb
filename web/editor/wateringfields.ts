// What can be typed about the watering plan: one description per member, as supply.ts
// has them for the supply. Everything is text here.

import { CM_AN_INCH } from "./conversions";
import { parseNumber, percentText, readPercent, withMember } from "./fields";
import { readNeed } from "./grouping";
import { type Read, read, refuse } from "./length";
import type { Plan, Watering } from "./model";
import type { SupplyField } from "./supply";

export const wateringOf = (p: Plan): Watering => p.watering ?? {};

/** The plan with members of its watering set, or without those that are undefined. */
export function withWatering(p: Plan, part: Partial<Watering>): Plan {
  let w = wateringOf(p);
  for (const key of Object.keys(part) as (keyof Watering)[]) w = withMember(w, key, part[key]);
  return { ...p, watering: w };
}

/** The days of the week as the document writes them, with their names. */
export const weekdays = [
  ["mon", "Monday"],
  ["tue", "Tuesday"],
  ["wed", "Wednesday"],
  ["thu", "Thursday"],
  ["fri", "Friday"],
  ["sat", "Saturday"],
  ["sun", "Sunday"],
] as const;

/** Whether a day is allowed; all are where none is named. */
export function allows(p: Plan, day: string): boolean {
  const { days } = wateringOf(p);
  return !days || days.length === 0 || days.includes(day);
}

/** The plan with a day allowed or forbidden; one has to stay. */
export function withDay(p: Plan, day: string, allowed: boolean): Read<Plan> {
  const days = weekdays.map(([d]) => d as string).filter((d) => (d === day ? allowed : allows(p, d)));
  if (days.length === 0) return refuse("One day has to be allowed. Allow another one first.");
  return read(withWatering(p, { days, every: undefined }));
}

/** The most days from one watering to the next that a plan takes. */
const MOST_EVERY = 31;

export const every: SupplyField = {
  key: "every",
  label: "One day in",
  as: "text",
  hint: () => "days; 1 is every day",
  get: (p) => String(wateringOf(p).every ?? ""),
  set: (p, typed) => {
    if (typed.trim() === "") return read(withWatering(p, { every: undefined }));
    const v = parseNumber(typed, "days", 1, MOST_EVERY);
    if (!v.ok) return v;
    if (!Number.isInteger(v.value)) return refuse(`Type a whole number of days, 1 to ${MOST_EVERY}.`);
    return read(withWatering(p, { every: v.value, days: undefined }));
  },
};

const clock = /^(\d{1,2})(?:[:.]?(\d{2}))?(?:([ap])\.?m?\.?)?$/;

/** Reads a time of day, as 22:00, 22 or 10 pm, into "22:00". */
export function readTime(typed: string): Read<string> {
  const cut = clock.exec(typed.toLowerCase().replace(/\s/g, ""));
  const half = cut?.[3];
  let hour = Number(cut?.[1]);
  const minute = Number(cut?.[2] ?? 0);
  const told = half ? hour >= 1 && hour <= 12 : hour < 24 || (hour === 24 && minute === 0);
  if (!cut || !told || minute > 59)
    return refuse(`“${typed.trim()}” is not a time of day. Write it as 22:00 or 10 pm.`);
  if (half) hour = (hour % 12) + (half === "p" ? 12 : 0);
  return read(`${String(hour % 24).padStart(2, "0")}:${String(minute).padStart(2, "0")}`);
}

const time = (key: "start" | "end", label: string): SupplyField => ({
  key,
  label,
  as: "text",
  hint: () => (key === "start" ? "as 22:00" : "or the next day"),
  empty: () => "the usual",
  get: (p) => wateringOf(p)[key] ?? "",
  set: (p, typed) => {
    if (typed.trim() === "") return read(withWatering(p, { [key]: undefined }));
    const v = readTime(typed);
    return v.ok ? read(withWatering(p, { [key]: v.value })) : v;
  },
});

export const hourFields: readonly SupplyField[] = [time("start", "Water from"), time("end", "Until")];

export const together: SupplyField = {
  key: "together",
  label: "Stations may run side by side, as far as the flow planned on goes",
  as: "yes",
  get: (p) => (wateringOf(p).together ? "yes" : ""),
  set: (p, typed) => read(withWatering(p, { together: typed === "yes" ? true : undefined })),
  whole: true,
};

/** One of a fixed list of words; the first is what an absent member means. */
function choice(
  key: "turf" | "stage" | "target",
  label: string,
  list: readonly (readonly [value: string, label: string])[],
): SupplyField {
  const usual = list[0]?.[0] ?? "";
  return {
    key,
    label,
    as: "choice",
    get: (p) => wateringOf(p)[key] ?? usual,
    set: (p, typed) => read(withWatering(p, { [key]: typed === usual ? undefined : typed })),
    choices: () => list.map(([value, name]) => ({ value, label: name })),
    whole: true,
  };
}

/** What each target means, in the order of its choices. */
export const targets = [
  [
    "multiplier",
    "The drier half gets enough",
    "The usual. Run times go up as the field is uneven, but less than the driest quarter asks for: it gets a little short, the rest not much too much.",
  ],
  [
    "low_quarter",
    "The driest quarter gets enough",
    "Nothing goes brown by the sums; uneven ground costs the most water, for the wetter parts get what the driest part needs.",
  ],
  [
    "mean",
    "The mean gets enough",
    "The least water: half of the ground gets less than it needs. Even ground bears it.",
  ],
] as const;

export const target = choice(
  "target",
  "Run times are made for",
  targets.map(([v, l]) => [v, l] as const),
);

export const plantFields: readonly SupplyField[] = [
  choice("turf", "Turf", [
    ["", "Not said: one figure all year"],
    ["cool", "Cool-season, by month"],
    ["warm", "Warm-season, by month"],
  ]),
  choice("stage", "How far turf is grown", [
    ["established", "Established"],
    ["new_sod", "New sod"],
    ["seed", "Sown"],
  ]),
];

export const audited: SupplyField = {
  key: "audited_du",
  label: "Evenness audited",
  as: "text",
  hint: () => "%, of zones with none of their own",
  empty: () => "as estimated",
  get: (p) => percentText(wateringOf(p).audited_du),
  set: (p, typed) => {
    const v = readPercent(typed, "the evenness", 1, 100);
    return v.ok ? read(withWatering(p, { audited_du: v.value })) : v;
  },
};

export const peak: SupplyField = {
  key: "peak_in_per_week",
  label: "Turf needs in the week at peak",
  as: "text",
  hint: (p) => (p.show === "metric" ? "mm" : "in"),
  empty: () => "the usual",
  get: (p) => depthText(wateringOf(p).peak_in_per_week, p),
  set: (p, typed) => {
    const v = readNeed(typed, p.show);
    return v.ok ? read(withWatering(p, { peak_in_per_week: v.value })) : v;
  },
};

/** Temperatures tell reference ET only with it. */
export const latitude: SupplyField = {
  key: "latitude_deg",
  label: "Latitude of the site",
  as: "text",
  hint: () => "degrees, south below 0",
  get: (p) => String(p.site?.latitude_deg ?? ""),
  set: (p, typed) => {
    const site = p.site ?? {};
    if (typed.trim() === "") return read({ ...p, site: withMember(site, "latitude_deg", undefined) });
    const v = parseNumber(typed.replace(/°$/, ""), "degrees", -90, 90);
    return v.ok ? read({ ...p, site: withMember(site, "latitude_deg", v.value) }) : v;
  },
};

/** A depth of water as it is typed, in inches or millimetres. */
export function depthText(v: number | undefined, p: Plan): string {
  if (v === undefined) return "";
  return String(Number((p.show === "metric" ? v * 10 * CM_AN_INCH : v).toFixed(2)));
}

/** Where the climate is from. */
export type ClimateFrom = "none" | "zone" | "normals" | "temperatures" | "weather";

/** By the first that the plan gives, as the server goes by. */
export function climateFrom(p: Plan): ClimateFrom {
  const w = wateringOf(p);
  if (w.et_in) return w.et_by ? "weather" : "normals";
  if (w.high_f) return "temperatures";
  return w.et_zone ? "zone" : "none";
}

const nothing = {
  et_in: undefined,
  et_by: undefined,
  et_from: undefined,
  high_f: undefined,
  low_f: undefined,
  et_zone: undefined,
} satisfies Partial<Watering>;

/** The plan with a climate, and no other that would go before it; rain stays unless it is given. */
export const withClimate = (p: Plan, part: Partial<Watering>): Plan =>
  withWatering(p, { ...nothing, ...part });

/** The plan without a climate: the week at peak stands for every month. */
export const withoutClimate = (p: Plan): Plan => withWatering(p, { ...nothing, rain_in: undefined });

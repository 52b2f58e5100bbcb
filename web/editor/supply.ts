// What can be typed about the water supply: one description per member, as
// fields.ts has them for the things on the board. Everything is text here.

import type { Catalog } from "./api";
import { type Choice, withMember } from "./fields";
import { lengthText } from "./format";
import { parseLength, type Read, read, refuse } from "./length";
import type { Plan, Supply } from "./model";
import { classChoices, withClass } from "./pipeclasses";
import { flow, pressure, type Quantity, readQuantity, showQuantity, speed, time, volume } from "./quantity";
import { deviceChoices, type Role, roleKinds, withDevice } from "./supplyrows";

export interface SupplyField {
  readonly key: string;
  readonly label: string;
  readonly as: "text" | "choice" | "yes";
  hint?(p: Plan): string;
  /** What an empty field means, shown faintly in it. */
  empty?(p: Plan): string;
  get(p: Plan): string;
  set(p: Plan, typed: string, from: Catalog): Read<Plan>;
  choices?(p: Plan, from: Catalog): Choice[];
  /** Whether the supply as it is has this member; always, when absent. */
  shown?(p: Plan): boolean;
  /** As wide as the form, for what is told in words. */
  readonly whole?: boolean;
}

export const supplyOf = (p: Plan): Supply => p.supply ?? {};

/** The plan with one member of its supply set, or without it. */
export const withSupply = (p: Plan, key: keyof Supply & string, value: unknown): Plan => ({
  ...p,
  supply: withMember(supplyOf(p), key, value),
});

type Key = keyof Supply & string;

const shownFor =
  (...kinds: string[]) =>
  (p: Plan): boolean =>
    kinds.includes(supplyOf(p).kind ?? "town_meter");

const piped = shownFor("town_meter", "house_pipe", "reclaimed");
const pumped = shownFor("well", "pond");

function quantity(
  key: Key,
  label: string,
  q: Quantity,
  least: number,
  most: number,
  more: Partial<SupplyField> = {},
): SupplyField {
  return {
    key,
    label,
    as: "text",
    hint: (p) => q.bare[p.show],
    get: (p) => showQuantity(supplyOf(p)[key] as number | undefined, q, p.show),
    set: (p, typed) => {
      if (typed.trim() === "") return read(withSupply(p, key, undefined));
      const v = readQuantity(typed, q, p.show, least, most);
      return v.ok ? read(withSupply(p, key, v.value)) : v;
    },
    ...more,
  };
}

/** A length; limits in feet. */
function length(
  key: Key,
  label: string,
  least: number,
  most: number,
  more: Partial<SupplyField> = {},
): SupplyField {
  return {
    key,
    label,
    as: "text",
    hint: (p) => (p.show === "metric" ? "m" : "ft"),
    get: (p) => {
      const v = supplyOf(p)[key] as number | undefined;
      return v === undefined ? "" : lengthText(v, p.show);
    },
    set: (p, typed) => {
      if (typed.trim() === "") return read(withSupply(p, key, undefined));
      const v = parseLength(typed, p.show);
      if (!v.ok) return v;
      if (v.value < least || v.value > most)
        return refuse(
          `${label} is ${lengthText(v.value, p.show)}. Type a length from ${lengthText(least, p.show)} to ${lengthText(most, p.show)}.`,
        );
      return read(withSupply(p, key, v.value));
    },
    ...more,
  };
}

/** One of a fixed list of words; the first is what an absent member means. */
function choice(
  key: Key,
  label: string,
  list: readonly (readonly [value: string, label: string])[],
  more: Partial<SupplyField> = {},
): SupplyField {
  return {
    key,
    label,
    as: "choice",
    get: (p) => (supplyOf(p)[key] as string | undefined) ?? list[0]?.[0] ?? "",
    set: (p, typed) => read(withSupply(p, key, typed === (list[0]?.[0] ?? "") ? undefined : typed)),
    choices: () => list.map(([value, name]) => ({ value, label: name })),
    ...more,
  };
}

function yes(key: Key, label: string, more: Partial<SupplyField> = {}): SupplyField {
  return {
    key,
    label,
    as: "yes",
    get: (p) => (supplyOf(p)[key] ? "yes" : ""),
    set: (p, typed) => read(withSupply(p, key, typed === "yes" ? true : undefined)),
    ...more,
  };
}

function words(key: Key, label: string, hint: string, more: Partial<SupplyField> = {}): SupplyField {
  return {
    key,
    label,
    as: "text",
    hint: () => hint,
    get: (p) => (supplyOf(p)[key] as string | undefined) ?? "",
    set: (p, typed) => {
      const t = typed.trim();
      if (t.length > 200) return refuse(`${label} has ${t.length} characters. Shorten it to 200.`);
      return read(withSupply(p, key, t || undefined));
    },
    ...more,
  };
}

/** A device by its row; the plan takes a copy of the row along. */
function device(role: Role, label: string, none: string, more: Partial<SupplyField> = {}): SupplyField {
  return {
    key: role,
    label,
    as: "choice",
    get: (p) => supplyOf(p)[role] ?? "",
    set: (p, typed, from) => read(withDevice(p, role, typed, from)),
    choices: (p, from) => [{ value: "", label: none }, ...deviceChoices(p, from, roleKinds[role])],
    whole: true, // the names of rows are long
    ...more,
  };
}

/** Whether the water passes a regulator: this system's own, or the house's. */
const regulated = (p: Plan): boolean =>
  supplyOf(p).regulator === true || supplyOf(p).tap === "after_regulator";

/** A choice of sizes in inches, with one of the plan's own that is not among them. */
function size(
  key: Key,
  label: string,
  list: readonly Choice[],
  more: Partial<SupplyField> = {},
): SupplyField {
  return {
    key,
    label,
    as: "choice",
    get: (p) => {
      const v = supplyOf(p)[key] as number | undefined;
      return v ? String(v) : "";
    },
    set: (p, typed) => read(withSupply(p, key, typed ? Number(typed) : undefined)),
    choices: (p) => {
      const now = supplyOf(p)[key] as number | undefined;
      const own = now !== undefined && !list.some((c) => c.value === String(now));
      return own ? [...list, { value: String(now), label: `${now} in` }] : [...list];
    },
    ...more,
  };
}

/** Sizes of meters, in inches, as they are called. */
const meters: readonly Choice[] = [
  { value: "", label: "not known" },
  { value: "0.625", label: "5/8 in (16 mm)" },
  { value: "0.75", label: "3/4 in (19 mm)" },
  { value: "1", label: "1 in (25 mm)" },
  { value: "1.5", label: "1 1/2 in (38 mm)" },
  { value: "2", label: "2 in (51 mm)" },
];

const pipes: readonly Choice[] = [
  { value: "", label: "not known" },
  { value: "0.5", label: "1/2 in (15 mm)" },
  { value: "0.75", label: "3/4 in (20 mm)" },
  { value: "1", label: "1 in (25 mm)" },
  { value: "1.25", label: "1 1/4 in (32 mm)" },
  { value: "1.5", label: "1 1/2 in (40 mm)" },
  { value: "2", label: "2 in (50 mm)" },
];

const serviceClass: SupplyField = {
  key: "service_class",
  label: "Service pipe",
  as: "choice",
  whole: true,
  shown: piped,
  get: (p) => supplyOf(p).service_class ?? "",
  set: (p, typed, from) => read(withSupply(withClass(p, from, typed), "service_class", typed || undefined)),
  choices: (plan, catalog) =>
    classChoices({ plan, catalog }, supplyOf(plan).service_class ?? "", "not known, or in words"),
};

export const sourceFields: readonly SupplyField[] = [
  choice(
    "kind",
    "Water comes from",
    [
      ["town_meter", "Town main through a meter"],
      ["house_pipe", "A pipe of the house"],
      ["well", "A well with its pump"],
      ["pond", "A pond or cistern with its pump"],
      ["reclaimed", "Reclaimed water"],
    ],
    { whole: true },
  ),
  choice(
    "tap",
    "The regulator the house has",
    [
      ["", "none that we know of"],
      ["before_regulator", "this system is tapped before it"],
      ["after_regulator", "this system is tapped after it"],
    ],
    { shown: shownFor("town_meter", "house_pipe"), whole: true },
  ),
  quantity("house_gpm", "The house draws", flow, 0.1, 100, {
    shown: shownFor("town_meter", "house_pipe"),
    empty: () => "nothing",
  }),
];

export const flowFields: readonly SupplyField[] = [
  quantity("static_psi", "Static pressure", pressure, 5, 200),
  quantity("flow_gpm", "Flow measured", flow, 0.5, 500),
  quantity("residual_psi", "Pressure left at it", pressure, 1, 200),
  choice("measured_where", "Taken at", [
    ["", "not noted"],
    ["connection", "the connection"],
    ["outside_tap", "an outside tap"],
    ["hydrant", "a hydrant"],
  ]),
  words("measured_at", "Measured at", "hour and season, as 7 pm in July", { whole: true }),
  yes("measured", "These figures were measured"),
];

export const containerFields: readonly SupplyField[] = [
  quantity("timed_gal", "Container holds", volume, 0.1, 1000),
  quantity("timed_s", "It was full in", time, 1, 3600),
];

export const serviceFields: readonly SupplyField[] = [
  size("meter_in", "Meter", meters, { shown: piped }),
  device("meter", "Meter’s own row", "the usual one of its size", { shown: piped }),
  serviceClass,
  words("service_material", "Made of, in words", "if it is not in the list", {
    shown: (p) => piped(p) && !supplyOf(p).service_class,
  }),
  size("service_in", "Service line", pipes, { shown: piped }),
  length("service_length_ft", "Service length", 0.1, 10_000, { shown: piped }),
  quantity("service_fps", "Velocity at most", speed, 1, 15, {
    shown: piped,
    empty: () => "by the pipe",
  }),
];

export const regulatorFields: readonly SupplyField[] = [
  yes("regulator", "This system gets a regulator of its own, besides any the house has"),
  quantity("regulator_psi", "Regulator set to", pressure, 5, 150, { shown: regulated }),
];

export const pumpFields: readonly SupplyField[] = [
  quantity("pump_least_gpm", "Least flow the pump runs at", flow, 0.1, 500, { shown: pumped }),
];

export const backflowFields: readonly SupplyField[] = [
  device("backflow_device", "Backflow device", "none chosen"),
  length("backflow_height_ft", "Stands above its own ground", 0.01, 100),
  words("backflow", "Said of it", "in words, such as make and size", { whole: true }),
  choice(
    "push_back",
    "After it, water is pushed back by",
    [
      ["", "nothing"],
      ["pump", "a booster pump"],
      ["second_source", "a second source of water"],
    ],
    { whole: true, hint: () => "the pressure it adds is not counted" },
  ),
  yes("injection", "Fertilizer or other chemicals are put into the water"),
  yes("taps_after", "Water for drinking or hoses is taken off after it"),
];

export const freezeFields: readonly SupplyField[] = [
  choice(
    "freeze",
    "Kept from freezing by",
    [
      ["", "not said"],
      ["none", "nothing: it does not freeze here"],
      ["blow_out", "blowing out with air"],
      ["manual_drain", "drains opened by hand"],
      ["automatic_drain", "drains that open by themselves"],
    ],
    { whole: true },
  ),
];

export const deviceFields: readonly SupplyField[] = [
  device("isolation", "Isolation valve", "none chosen"),
  device("filter", "Filter", "none"),
  device("master_valve", "Master valve", "none"),
  device("swing_joint", "Under each head", "the usual swing joint"),
];

export const planFields: readonly SupplyField[] = [
  quantity("needed_psi", "Wanted before the zone valves", pressure, 5, 150, {
    empty: () => "by the heads",
  }),
  quantity("design_flow_gpm", "Flow to plan on", flow, 0.5, 500, { empty: () => "the least limit" }),
  words("design_flow_reason", "Reason", "why another flow than the limits give", {
    whole: true,
    shown: (p) => supplyOf(p).design_flow_gpm !== undefined || supplyOf(p).design_flow_reason !== undefined,
  }),
];

/** The field that is asked for first: of the pressure, then of the flow. */
export const firstAsked = (p: Plan): string =>
  supplyOf(p).static_psi === undefined ? "Static pressure" : "Flow measured";

export const supplyFields: readonly SupplyField[] = [
  ...planFields,
  ...sourceFields,
  ...flowFields,
  ...containerFields,
  ...serviceFields,
  ...regulatorFields,
  ...pumpFields,
  ...backflowFields,
  ...freezeFields,
  ...deviceFields,
];

/** Whether a pump's curve belongs to the supply as it is. */
export const hasPump = (p: Plan): boolean => pumped(p) || (supplyOf(p).pump ?? []).length > 0;

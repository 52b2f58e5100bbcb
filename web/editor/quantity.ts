// Reading flows, pressures and the other figures of a water supply as people type
// them, with or without their unit. The units are those of internal/units;
// testdata/vectors/quantity.json holds flow and pressure to them.

import {
  BAR_A_PSI,
  CM_AN_INCH,
  KILOMETRES_A_MILE,
  LITRES_A_GALLON,
  METRES_A_FOOT,
  ML_A_FLUID_OUNCE,
} from "./conversions";
import { parseNumber } from "./fields";
import { type Read, read, refuse } from "./length";
import type { System } from "./model";

/** A kind of figure: its units with how much one of each is in the unit the plan keeps. */
export interface Quantity {
  readonly what: string;
  /** The unit a bare number is in, as it is shown. */
  readonly bare: Readonly<Record<System, string>>;
  readonly units: Readonly<Record<string, number>>;
  /** The units in a sentence. */
  readonly names: string;
}

const litre = 1 / LITRES_A_GALLON;
/** What many a meter's dial counts: 1728 cubic inches, of which a gallon has 231. */
const cubicFoot = 1728 / 231;

export const flow: Quantity = {
  what: "flow",
  bare: { us: "gpm", metric: "l/min" },
  units: {
    gpm: 1,
    "gal/min": 1,
    "l/min": litre,
    lpm: litre,
    "l/h": litre / 60,
    "l/s": 60 * litre,
    "m3/h": (1000 / 60) * litre,
    "m³/h": (1000 / 60) * litre,
  },
  names: "gpm, l/min or m3/h",
};

export const pressure: Quantity = {
  what: "pressure",
  bare: { us: "psi", metric: "bar" },
  units: { psi: 1, bar: 1 / BAR_A_PSI, kpa: 0.01 / BAR_A_PSI },
  names: "psi, bar or kPa",
};

export const volume: Quantity = {
  what: "volume",
  bare: { us: "gal", metric: "l" },
  units: {
    gal: 1,
    gallon: 1,
    gallons: 1,
    ft3: cubicFoot,
    "ft³": cubicFoot,
    cuft: cubicFoot,
    cf: cubicFoot,
    l: litre,
    litre,
    litres: litre,
    liter: litre,
    liters: litre,
    m3: 1000 * litre,
    "m³": 1000 * litre,
  },
  names: "gal, ft³, l or m³",
};

export const time: Quantity = {
  what: "time",
  bare: { us: "s", metric: "s" },
  units: { s: 1, sec: 1, seconds: 1, min: 60, minutes: 60 },
  names: "s or min",
};

/** What a catch can holds. A fluid ounce is the US one. */
export const catchVolume: Quantity = {
  what: "catch",
  bare: { us: "ml", metric: "ml" },
  units: { ml: 1, cc: 1, cm3: 1, "cm³": 1, floz: ML_A_FLUID_OUNCE, oz: ML_A_FLUID_OUNCE },
  names: "ml or fl oz",
};

/** What is read off a can that is marked by depth. */
export const catchDepth: Quantity = {
  what: "depth",
  bare: { us: "in", metric: "mm" },
  units: { in: 1, inch: 1, inches: 1, mm: 0.1 / CM_AN_INCH, cm: 1 / CM_AN_INCH },
  names: "in, mm or cm",
};

/** How long a zone ran. */
export const minutes: Quantity = {
  what: "time",
  bare: { us: "min", metric: "min" },
  units: { min: 1, minutes: 1, minute: 1, h: 60, s: 1 / 60, sec: 1 / 60 },
  names: "min, h or s",
};

/** The opening of a can. */
export const opening: Quantity = {
  what: "area",
  bare: { us: "in²", metric: "cm²" },
  units: {
    "in²": 1,
    in2: 1,
    sqin: 1,
    "cm²": 1 / CM_AN_INCH ** 2,
    cm2: 1 / CM_AN_INCH ** 2,
    sqcm: 1 / CM_AN_INCH ** 2,
  },
  names: "in² or cm²",
};

/** How fast the wind blows. */
export const windSpeed: Quantity = {
  what: "wind",
  bare: { us: "mph", metric: "km/h" },
  units: {
    mph: 1,
    "km/h": 1 / KILOMETRES_A_MILE,
    kmh: 1 / KILOMETRES_A_MILE,
    "m/s": 3.6 / KILOMETRES_A_MILE,
  },
  names: "mph, km/h or m/s",
};

export const speed: Quantity = {
  what: "velocity",
  bare: { us: "ft/s", metric: "m/s" },
  units: { "ft/s": 1, fps: 1, "m/s": 1 / METRES_A_FOOT },
  names: "ft/s or m/s",
};

/** The figure in the plan's unit, or why it cannot be; limits are in the unit the plan keeps. */
export function readQuantity(
  typed: string,
  q: Quantity,
  system: System,
  least: number,
  most: number,
): Read<number> {
  const t = typed.trim();
  const cut = /^([^\p{L}]*)(\p{L}.*)?$/u.exec(t);
  const word = (cut?.[2] ?? "").replace(/ /g, "");
  const unit = word === "" ? q.bare[system] : word.toLowerCase();
  const one = q.units[unit];
  if (one === undefined) return refuse(`“${word}” is not a unit of ${q.what}. Write ${q.names}.`);
  const shown = word === "" ? unit : word;
  const v = parseNumber(cut?.[1] ?? "", shown, round(least / one), round(most / one));
  // Limits are told rounded; what is typed at one of them is the limit itself.
  return v.ok ? read(Math.min(Math.max(v.value * one, least), most)) : v;
}

/** The figure as it stands in a field, in the unit of the plan. */
export function showQuantity(v: number | undefined, q: Quantity, system: System): string {
  if (v === undefined) return "";
  return String(Number((v / (q.units[q.bare[system]] ?? 1)).toFixed(2)));
}

/** With its unit, within a sentence. */
export const quantityText = (v: number, q: Quantity, system: System): string =>
  `${showQuantity(v, q, system)} ${q.bare[system]}`;

const round = (n: number): number => Number(n.toPrecision(3));

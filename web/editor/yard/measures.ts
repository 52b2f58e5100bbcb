// Figures as they are typed in the yard: each with its unit, the limits the plan takes
// (internal/plan, ranges.go), and how it reads back.

import { CM_AN_INCH } from "../conversions";
import { type Read, read } from "../length";
import type { System } from "../model";
import {
  catchDepth,
  catchVolume,
  flow,
  minutes,
  opening,
  pressure,
  type Quantity,
  readQuantity,
  showQuantity,
  time,
  volume,
  windSpeed,
} from "../quantity";

/** A figure that can be typed: nothing typed is nothing said. */
export interface Measure {
  unit(show: System): string;
  read(typed: string, show: System): Read<number | undefined>;
  text(v: number | undefined, show: System): string;
}

function measure(q: Quantity, least: number, most: number): Measure {
  return {
    unit: (show) => q.bare[show],
    read: (typed, show) =>
      typed.trim() === "" ? read(undefined) : readQuantity(typed, q, show, least, most),
    text: (v, show) => showQuantity(v, q, show),
  };
}

const ohm: Quantity = {
  what: "resistance",
  bare: { us: "Ω", metric: "Ω" },
  units: { Ω: 1, ω: 1, ohm: 1, ohms: 1, k: 1000, kω: 1000, kohm: 1000 },
  names: "Ω or ohms",
};

const inches: Pick<Quantity, "bare" | "units" | "names"> = {
  bare: { us: "in", metric: "cm" },
  units: { in: 1, inch: 1, inches: 1, ft: 12, mm: 0.1 / CM_AN_INCH, cm: 1 / CM_AN_INCH, m: 100 / CM_AN_INCH },
  names: "in, ft or cm",
};

const underGround: Quantity = { what: "depth", ...inches };

/** The width of a round can. */
const width: Quantity = { what: "width", ...inches };

const turn: Quantity = {
  what: "angle",
  bare: { us: "°", metric: "°" },
  units: { "°": 1, deg: 1, degrees: 1 },
  names: "degrees",
};

const lean = measure(turn, 0, 90);

export const measures = {
  psi: measure(pressure, 0, 300),
  gpm: measure(flow, 0, 10_000),
  gallons: measure(volume, 0, 100_000),
  seconds: measure(time, 0, 86_400),
  heldMinutes: measure(minutes, 0, 100_000),
  runMinutes: measure(minutes, 0, 1_440),
  ohms: measure(ohm, 0, 1e8),
  ml: measure(catchVolume, 0, 100_000),
  depth: measure(catchDepth, 0, 100),
  throat: measure(opening, 0, 1_000),
  across: measure(width, 0, 36),
  wind: measure(windSpeed, 0, 25),
  under: measure(underGround, 0, 240),
  tilt: { ...lean, read: (typed: string, show: System) => lean.read(typed.replace("°", ""), show) },
} satisfies Record<string, Measure>;

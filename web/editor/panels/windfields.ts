// The wind of the windy day among the plan's settings: how strong, and where it
// comes from by true north.

import { KILOMETRES_A_MILE } from "../conversions";
import type { Choice } from "../fields";
import { parseNumber } from "../fields";
import { type Read, read } from "../length";
import type { Plan, Site } from "../model";

/** The eight winds, anticlockwise from east. */
const winds = ["east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east"];

/** The strongest wind that can be asked about, in mph; the server refuses more. */
const MOST_MPH = 25;

export const windUnit = (p: Plan): { name: string; per: number } =>
  p.show === "metric" ? { name: "km/h", per: KILOMETRES_A_MILE } : { name: "mph", per: 1 };

/** The wind as typed; "" when the plan leaves it at the usual. */
export function windText(p: Plan): string {
  const v = p.site?.wind_mph;
  return v === undefined ? "" : String(Number((v * windUnit(p).per).toFixed(1)));
}

export function withWind(p: Plan, typed: string): Read<Plan> {
  if (typed.trim() === "") return read(withSite(p, "wind_mph", undefined));
  const u = windUnit(p);
  const v = parseNumber(typed, u.name, 0, Number((MOST_MPH * u.per).toFixed(1)));
  return v.ok ? read(withSite(p, "wind_mph", Math.min(v.value / u.per, MOST_MPH))) : v;
}

const turn = (deg: number): number => ((deg % 360) + 360) % 360;

/** Where the wind comes from, as the value of a choice; "" when the plan leaves it at the usual. */
export function windFrom(p: Plan): string {
  const v = p.site?.wind_from_deg;
  if (v === undefined) return "";
  const at = turn(v - (p.site?.north_deg ?? 0)) / 45;
  const name = Math.abs(at - Math.round(at)) < 1e-6 ? winds[Math.round(at) % 8] : undefined;
  return name ?? `${v}`;
}

/** The choices: the usual, the eight winds, and the plan's own direction if it is none of them. */
export function windChoices(p: Plan): Choice[] {
  const now = windFrom(p);
  const own = now === "" || winds.includes(now) ? [] : [{ value: now, label: `${now}° on the plan` }];
  return [
    { value: "", label: "The west, the usual" },
    ...winds.map((w) => ({ value: w, label: `The ${w}` })),
    ...own,
  ];
}

export function withWindFrom(p: Plan, chosen: string): Read<Plan> {
  const at = winds.indexOf(chosen);
  if (at < 0) return read(withSite(p, "wind_from_deg", chosen === "" ? undefined : p.site?.wind_from_deg));
  return read(withSite(p, "wind_from_deg", turn(45 * at + (p.site?.north_deg ?? 0))));
}

function withSite(p: Plan, key: "wind_mph" | "wind_from_deg", value: number | undefined): Plan {
  const { [key]: _old, ...rest } = p.site ?? {};
  const site: Site = value === undefined ? rest : { ...rest, [key]: value };
  return { ...p, site };
}

// What of the local rules and of the figures to reckon with is the plan's own.

import { parseCoordinate, type Read, read, refuse } from "./length";
import type { LocalRule, Options, Plan, System } from "./model";

/** The farthest that a rule can ask for: more is no set-back. */
const MOST_FT = 100;

/** Reads what was typed of a rule; nothing is the usual one. */
export function readRule(typed: string, source: string, system: System): Read<LocalRule | null> {
  if (typed === "") {
    if (source === "") return read(null);
    return refuse("Type the distance it asks for, or leave both empty for the usual one.");
  }
  const v = parseCoordinate(typed, system);
  if (!v.ok) return v;
  if (v.value < 0 || v.value > MOST_FT) return refuse("Type a distance from 0 to 100 ft (30 m).");
  return read(source === "" ? { feet: v.value } : { feet: v.value, source });
}

/** The plan with a rule or a figure of its own; null brings the usual one back. */
export function withOwn<M extends "local_rules" | "figures">(
  p: Plan,
  member: M,
  id: string,
  own: NonNullable<Options[M]>[string] | null,
): Plan {
  const { [id]: _old, ...rest } = (p.options?.[member] ?? {}) as Record<string, unknown>;
  const all = own ? { ...rest, [id]: own } : rest;
  const { [member]: _all, ...options } = p.options ?? {};
  const next = Object.keys(all).length > 0 ? { ...options, [member]: all } : options;
  if (Object.keys(next).length > 0) return { ...p, options: next as Options };
  const { options: _options, ...bare } = p;
  return bare;
}

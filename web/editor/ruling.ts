// What of the local rules is the plan's own.

import { parseCoordinate, type Read, read, refuse } from "./length";
import type { Plan, System } from "./model";

/** A distance of the plan's own, and who asks for it. */
export interface OwnRule {
  feet: number;
  source?: string;
}

/** The farthest that a rule can ask for: more is no set-back. */
const MOST_FT = 100;

/** Reads what was typed of a rule; nothing is the usual one. */
export function readRule(typed: string, source: string, system: System): Read<OwnRule | null> {
  if (typed === "") {
    if (source === "") return read(null);
    return refuse("Type the distance it asks for, or leave both empty for the usual one.");
  }
  const v = parseCoordinate(typed, system);
  if (!v.ok) return v;
  if (v.value < 0 || v.value > MOST_FT) return refuse("Type a distance from 0 to 100 ft (30 m).");
  return read(source === "" ? { feet: v.value } : { feet: v.value, source });
}

/** The plan with a rule of its own; null brings the usual one back. */
export function withLocalRule(p: Plan, id: string, own: OwnRule | null): Plan {
  const { [id]: _old, ...rest } = p.options?.local_rules ?? {};
  const rules = own ? { ...rest, [id]: own } : rest;
  const { local_rules: _rules, ...options } = p.options ?? {};
  const next = Object.keys(rules).length > 0 ? { ...options, local_rules: rules } : options;
  if (Object.keys(next).length > 0) return { ...p, options: next };
  const { options: _options, ...bare } = p;
  return bare;
}

// The distances that custom or local code asks for: the usual ones, and the plan's
// own where it has them. testdata/vectors/localrules.json holds them to the server's.

import type { Plan } from "./model";

/** The usual distances, in feet. */
export const usualFeet = {
  setback_paving: 4 / 12,
  setback_street: 6 / 12,
  setback_wall: 1,
  setback_lot: 4 / 12,
  setback_trunk: 2,
  setback_other: 4 / 12,
  band_paving: 0,
  strip_least: 4,
  trunk_clear: 10,
} as const;

/** The name of a local rule. */
export type RuleID = keyof typeof usualFeet;

/** What a rule asks for in this plan, in feet. */
export const ruleFeet = (p: Plan, id: RuleID): number => p.options?.local_rules?.[id]?.feet ?? usualFeet[id];

/** Whether the plan has a figure of its own for a rule. */
export const hasOwnRule = (p: Plan, id: RuleID): boolean => p.options?.local_rules?.[id] !== undefined;

// The size of a trunk, across it: inches or centimetres, as trees are bought.

import { CM_AN_INCH } from "./conversions";
import { parseNumber } from "./fields";
import { type Read, read } from "./length";
import type { System } from "./model";

/** Inches as the plan's system shows them, without the unit. */
export const sizeText = (inches: number, show: System): string =>
  show === "metric" ? String(Number((inches * CM_AN_INCH).toFixed(1))) : String(Number(inches.toFixed(2)));

/** What was typed, in inches: bare numbers are inches, or centimetres in a metric plan. */
export function sizeTyped(typed: string, show: System): Read<number> {
  if (show === "us") return parseNumber(typed.replace(/\s*(in|″|")$/, ""), "inches", 0.5, 240);
  const v = parseNumber(typed.replace(/\s*cm$/, ""), "centimetres", 1, 600);
  return v.ok ? read(v.value / CM_AN_INCH) : v;
}

// Lengths, areas and angles of the pointer in words, as internal/units prints
// them: feet and inches to the half inch, or metres to the centimetre.

import { METRES_A_FOOT } from "./conversions";
import type { Point } from "./geometry";
import type { System } from "./model";

/** A length such as 15' 6 1/2", 6" or 4.72 m. */
export function lengthText(feet: number, system: System): string {
  if (system === "metric") return `${fixed(feet * METRES_A_FOOT, 2)} m`;
  const halves = Math.round(Math.abs(feet) * 24);
  const sign = feet < 0 && halves > 0 ? "-" : "";
  const whole = Math.floor(halves / 24);
  const rest = halves % 24;
  const half = rest % 2 === 1 ? "1/2" : "";
  const full = Math.floor(rest / 2);
  const inches = half && full === 0 && whole === 0 ? half : half ? `${full} ${half}` : String(full);
  return whole === 0 ? `${sign}${inches}"` : `${sign}${whole}' ${inches}"`;
}

/** A level above or below the plan's own 0, always with its sign: +1' 6", -4" or 0". */
export const levelText = (feet: number, system: System): string => {
  const text = lengthText(feet, system);
  return Number.parseFloat(text.replace(/[^\d.]/g, "")) > 0 && !text.startsWith("-") ? `+${text}` : text;
};

/** An area such as 3,552 ft², 5.5 ft² or 330 m². */
export function areaText(sqft: number, system: System): string {
  const [n, unit] = system === "metric" ? [sqft * METRES_A_FOOT * METRES_A_FOOT, "m²"] : [sqft, "ft²"];
  return `${grouped(fixed(n, Math.abs(n) < 9.95 ? 1 : 0))} ${unit}`;
}

export function angleText(deg: number): string {
  const n = Math.round(deg * 10) / 10;
  return `${Number.isInteger(n) ? n : n.toFixed(1)}°`;
}

/** A place such as 44' 0", 24' 0". */
export const placeText = (p: Point, system: System): string =>
  `${lengthText(p[0], system)}, ${lengthText(p[1], system)}`;

/** A length in one unit, for lists of lengths: 25 ft, 7.6 m. */
export function shortLength(feet: number, system: System): string {
  if (system === "metric") return `${Number(fixed(feet * METRES_A_FOOT, 1))} m`;
  return `${Number(fixed(feet, 1))} ft`;
}

function fixed(n: number, digits: number): string {
  const text = n.toFixed(digits);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

/** Thousands apart by commas. */
function grouped(n: string): string {
  const [whole = "", part] = n.split(".");
  const spaced = whole.replace(/\B(?=(\d{3})+$)/g, ",");
  return part === undefined ? spaced : `${spaced}.${part}`;
}

// Figures of the climate by month, as they are typed: reference ET, temperatures and
// rain, twelve of each, January first.

import { CM_AN_INCH } from "./conversions";
import { parseNumber } from "./fields";
import { type Read, read, refuse } from "./length";
import type { Plan, System, Watering } from "./model";
import { wateringOf, withClimate, withWatering } from "./wateringfields";

export const monthNames = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

type Listed = "et_in" | "high_f" | "low_f" | "rain_in";

/** One column of the table. */
export interface MonthColumn {
  readonly key: Listed;
  readonly title: string;
  /** Its unit by the system of the plan. */
  readonly unit: Readonly<Record<System, string>>;
  /** Every month has to have a figure; else an empty one is none. */
  readonly needed: boolean;
  /** In the unit of the plan. */
  readonly least: number;
  readonly most: number;
}

const et: MonthColumn = {
  key: "et_in",
  title: "Reference ET",
  unit: { us: "in", metric: "mm" },
  needed: true,
  least: 0,
  most: 30,
};
const rain: MonthColumn = {
  key: "rain_in",
  title: "Rain",
  unit: { us: "in", metric: "mm" },
  needed: false,
  least: 0,
  most: 400,
};
const high: MonthColumn = {
  key: "high_f",
  title: "Highest",
  unit: { us: "°F", metric: "°C" },
  needed: true,
  least: -130,
  most: 140,
};
const low: MonthColumn = { ...high, key: "low_f", title: "Lowest" };

/** What is typed by month for a way to the climate. */
export const columnsOf = {
  normals: [et, rain],
  temperatures: [high, low, rain],
  rain: [rain],
} as const satisfies Record<string, readonly MonthColumn[]>;

export type MonthsOf = keyof typeof columnsOf;

const hot = (c: MonthColumn): boolean => c.unit.us === "°F";

/** A figure of the plan as it is typed in its system. */
export function monthText(v: number | undefined, c: MonthColumn, show: System): string {
  if (v === undefined) return "";
  const shown = show === "us" ? v : hot(c) ? (v - 32) / 1.8 : v * 10 * CM_AN_INCH;
  return String(Number(shown.toFixed(show === "us" && !hot(c) ? 3 : 2)));
}

/** Reads what was typed of one month. */
export function readMonth(typed: string, c: MonthColumn, show: System): Read<number | undefined> {
  const t = typed
    .trim()
    .replace(/\s*(in|mm|"|°?\s*[FC])$/i, "")
    .replace(/^(-?\d+),(\d{1,3})$/, "$1.$2");
  if (t === "") {
    if (c.needed) return refuse("Type a figure for each month.");
    return read(undefined);
  }
  const into = (n: number): number => (show === "us" ? n : hot(c) ? n * 1.8 + 32 : n / (10 * CM_AN_INCH));
  const out = (n: number): number =>
    Math.round(show === "us" ? n : hot(c) ? (n - 32) / 1.8 : n * 10 * CM_AN_INCH);
  const v = parseNumber(
    t,
    `a figure in ${show === "us" && !hot(c) ? "inches" : c.unit[show]}`,
    out(c.least),
    out(c.most),
  );
  return v.ok ? read(Number(Math.min(Math.max(into(v.value), c.least), c.most).toPrecision(9))) : v;
}

/** What the table has when it opens, by column and month. */
export const monthsNow = (p: Plan, of: MonthsOf): string[][] =>
  columnsOf[of].map((c) => monthNames.map((_, m) => monthText(wateringOf(p)[c.key]?.[m], c, p.show)));

/** What was typed wrong, by column and month. */
export interface MonthTrouble {
  readonly column: number;
  readonly month: number;
  readonly sentence: string;
}

/**
 * The plan with the table as it was typed, and where it comes from; or all that is
 * wrong. What was not changed stays as it is, to the last digit.
 */
export function withMonths(
  p: Plan,
  of: MonthsOf,
  typed: readonly (readonly string[])[],
  from: string,
): Read<Plan> | { ok: false; sentence: string; wrong: MonthTrouble[] } {
  const columns: readonly MonthColumn[] = columnsOf[of];
  const was = monthsNow(p, of);
  const wrong: MonthTrouble[] = [];
  const part: Partial<Watering> = {};
  for (const [i, c] of columns.entries()) {
    const list = monthNames.map((_, m): number | undefined => {
      const text = typed[i]?.[m] ?? "";
      const kept = wateringOf(p)[c.key]?.[m];
      if (kept !== undefined && text === was[i]?.[m]) return kept;
      const v = readMonth(text, c, p.show);
      if (v.ok) return v.value;
      wrong.push({ column: i, month: m, sentence: v.sentence });
      return undefined;
    });
    part[c.key] = list.every((v) => v === undefined) ? undefined : list.map((v) => v ?? 0);
  }
  if (wrong.length === 0 && of === "temperatures")
    for (const m of monthNames.keys())
      if ((part.high_f?.[m] ?? 0) < (part.low_f?.[m] ?? 0))
        wrong.push({ column: 0, month: m, sentence: "The highest is below the lowest. Check the two." });
  const [first] = wrong;
  if (first) return { ok: false, sentence: `${monthNames[first.month]}: ${first.sentence}`, wrong };
  if (of === "rain") return read(withWatering(p, part));
  const words = from.trim();
  if (words.length > 200) return refuse("Shorten where they come from to 200 letters.");
  return read(withClimate(p, { ...part, et_from: words === "" ? undefined : words }));
}

/**
 * Text pasted into a cell, as figures for the cells from it on: rows by lines,
 * columns by tabs or semicolons. One line of several figures goes down a column.
 * Null: it is one figure, as typed.
 */
export function spread(text: string): string[][] | null {
  const rows = text
    .replace(/\r/g, "")
    .replace(/\n+$/, "")
    .split("\n")
    .map((l) => l.split(/[\t;]/).map((c) => c.trim()));
  const [first] = rows;
  if (!first || (rows.length === 1 && first.length === 1)) return null;
  // A line of twelve is a year.
  return rows.length === 1 && first.length >= monthNames.length ? first.map((c) => [c]) : rows;
}

// What the parts cost by the user's own prices, and what work is asked for: what the
// server tells of it, and how prices and rates that are typed come into the plan.

import type { RowError } from "./api";
import { METRES_A_FOOT } from "./conversions";
import type { PartsLine, PartsZone } from "./design";
import { parseNumber } from "./fields";
import { type Read, read, refuse } from "./length";
import type { Patch, Plan, Price, Quote } from "./model";

/** What one line comes to; the Go type is web.CostLineView. */
export interface CostLine {
  /** The price of the plan that it goes by. */
  price?: string;
  each?: string;
  sum?: string;
  /** In the total: what a price may be for, the one to ask for first. */
  per?: string[];
}

/** What the parts come to, list by list as the parts have them; the Go type is web.CostView. */
export interface Costs {
  says: string;
  /** "" where nothing has a price. */
  sum: string;
  lists: { sum: string; missing: number; lines: CostLine[] }[];
  total: CostLine[];
}

/** What taking a price list would do; the Go type is web.PricesView. */
export interface PricesView {
  rev: number;
  says: string;
  rows: { line: number; item: string; each: string; does: string; listed: boolean; note?: string }[];
  errors: RowError[];
  notes: string[];
  missing: string[];
  label: string;
  patch?: Patch;
}

/** The plan beside an earlier state; the Go type is web.CompareView. */
export interface CompareView {
  rev: number;
  says: string;
  sums: { what: string; from: string; to: string }[];
  rows: { part: string; item: string; from: string; to: string; more: string }[];
  same: string;
}

/** One list as the panel shows it. */
export interface Block {
  readonly key: string;
  readonly title: string;
  /** "" where nothing has a price. */
  readonly sum: string;
  /** Lines without a price, where others have one. */
  readonly missing: number;
  readonly lines: readonly Priced[];
}

/** A line with what it costs. */
export interface Priced {
  readonly line: PartsLine;
  readonly cost: CostLine;
  /** What a price of it may be for. */
  readonly per: readonly string[];
}

/** The lists in their order, and after them the total; unpriced: of each only what has no price. */
export function blocksOf(
  parts: { zones: readonly PartsZone[]; total: readonly PartsLine[] },
  costs: Costs | undefined,
  unpriced = false,
): Block[] {
  const per = new Map<string, readonly string[]>();
  for (const [i, l] of parts.total.entries()) per.set(keyOf(l), costs?.total[i]?.per ?? [l.unit]);
  const priced = (costs?.sum ?? "") !== "";
  const block = (
    key: string,
    title: string,
    lines: readonly PartsLine[],
    of: readonly CostLine[],
    sum: string,
  ): Block => {
    const all = lines.map((line, i) => ({
      line,
      cost: of[i] ?? {},
      per: per.get(keyOf(line)) ?? [line.unit],
    }));
    const lacking = all.filter((l) => !l.cost.price);
    return { key, title, sum, missing: priced ? lacking.length : 0, lines: unpriced ? lacking : all };
  };
  const out = parts.zones.map((z, i) => {
    const of = costs?.lists[i];
    return block(z.zone || z.list, titleOf(z), z.lines, of?.lines ?? [], of?.sum ?? "");
  });
  if (parts.total.length > 0)
    out.push(block("total", "In total", parts.total, costs?.total ?? [], costs?.sum ?? ""));
  return unpriced ? out.filter((b) => b.lines.length > 0) : out;
}

const keyOf = (l: PartsLine): string => `${l.group}\n${l.item}`;

export const titleOf = (z: PartsZone): string => (z.station ? `Station ${z.station}: ${z.name}` : z.name);

/** The most that a price or a rate may be; the plan takes no more. */
const MOST = 1e8;

/** Reads a sum of money, with or without the plan's currency before or behind it. */
export function readMoney(typed: string, what: string, currency = ""): Read<number> {
  let t = typed.trim();
  if (currency !== "") {
    if (t.startsWith(currency)) t = t.slice(currency.length);
    else if (t.endsWith(currency)) t = t.slice(0, -currency.length);
  }
  t = t.trim();
  if (/^\d+,\d{1,2}$/.test(t)) t = t.replace(",", "."); // a comma for decimals; one for thousands has three figures
  return parseNumber(t, what, 0, MOST);
}

/** The plan with a price of its own for an item; id: of the one it takes the place of; null takes that one out. */
export function withPrice(p: Plan, id: string | undefined, price: Price | null): Plan {
  const all = { ...p.prices };
  const to = id ?? freeID(Object.keys(all), "price");
  if (price) all[to] = price;
  else delete all[to];
  return withPrices(p, all);
}

/** The plan with these prices only; none takes them all out. */
export function withPrices(p: Plan, all: Record<string, Price>): Plan {
  if (Object.keys(all).length > 0) return { ...p, prices: all };
  const { prices: _prices, ...rest } = p;
  return rest;
}

function freeID(taken: readonly string[], stem: string): string {
  for (let n = 1; ; n++) if (!taken.includes(`${stem}-${n}`)) return `${stem}-${n}`;
}

export type Rental = NonNullable<Quote["rentals"]>[string];

/** What is asked by the foot, as it is typed: by the metre where the plan shows metres. */
export function rateText(perFoot: number | undefined, p: Pick<Plan, "show">): string {
  if (!perFoot) return "";
  return String(Number((p.show === "metric" ? perFoot / METRES_A_FOOT : perFoot).toFixed(4)));
}

/** A rate that was typed as the plan has it; nothing is none. */
export function readRate(typed: string, what: string, p: Plan, byLength: boolean): Read<number | undefined> {
  if (typed.trim() === "") return read(undefined);
  const v = readMoney(typed, what, p.quote?.currency);
  if (!v.ok) return v;
  if (v.value === 0) return read(undefined);
  return read(byLength && p.show === "metric" ? Number((v.value * METRES_A_FOOT).toPrecision(12)) : v.value);
}

/** A share that was typed in percent; nothing is none. */
export function readPercent(typed: string, what: string, most: number): Read<number | undefined> {
  const t = typed.trim().replace(/\s*%$/, "");
  if (t === "") return read(undefined);
  const v = parseNumber(t.replace(/^(\d+),(\d+)$/, "$1.$2"), `${what} in percent`, 0, most);
  if (!v.ok) return v;
  return read(v.value === 0 ? undefined : Number((v.value / 100).toPrecision(12)));
}

export const percentText = (share: number | undefined): string =>
  share ? String(Number((100 * share).toPrecision(12))) : "";

/** The plan with a member of its quote; undefined takes it out. */
export function withQuote<K extends keyof Quote>(p: Plan, key: K, value: Quote[K] | undefined): Plan {
  const { [key]: _old, ...rest } = p.quote ?? {};
  const quote = value === undefined ? rest : { ...rest, [key]: value };
  if (Object.keys(quote).length > 0) return { ...p, quote };
  const { quote: _quote, ...bare } = p;
  return bare;
}

/** The plan with these machines rented; ids stay where they were. */
export function withRentals(p: Plan, rows: readonly (Rental & { id?: string })[]): Plan {
  const out: Record<string, Rental> = {};
  const taken = [...Object.keys(p.quote?.rentals ?? {})];
  for (const { id, ...r } of rows) {
    const to = id ?? freeID([...taken, ...Object.keys(out)], "rental");
    out[to] = r;
  }
  return withQuote(p, "rentals", Object.keys(out).length > 0 ? out : undefined);
}

/** Words that a plan keeps, of no more than so many characters. */
export function readWords(typed: string, what: string, most: number): Read<string | undefined> {
  const t = typed.trim();
  if (t.length > most) return refuse(`${what} has ${t.length} characters. Shorten it to ${most}.`);
  return read(t === "" ? undefined : t);
}

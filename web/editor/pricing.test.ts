import assert from "node:assert/strict";
import { test } from "node:test";
import type { PartsLine, PartsZone } from "./design";
import type { Plan } from "./model";
import {
  blocksOf,
  type Costs,
  percentText,
  rateText,
  readMoney,
  readPercent,
  readRate,
  readWords,
  withPrice,
  withPrices,
  withQuote,
  withRentals,
} from "./pricing";

const bare: Plan = { format: "evenfall-plan/1", name: "t", show: "us" };
const metric: Plan = { ...bare, show: "metric" };

const line = (group: string, item: string): PartsLine => ({
  group,
  item,
  count: 1,
  unit: "each",
  from: [],
  rule: "",
});
const parts = {
  zones: [
    { list: "main", zone: "", name: "Main", station: 0, lines: [line("pipe", "a")] },
    { list: "zone", zone: "z1", name: "Front", station: 2, lines: [line("pipe", "a"), line("valve", "b")] },
  ] satisfies PartsZone[],
  total: [line("pipe", "a"), line("valve", "b")],
};
const costs: Costs = {
  says: "",
  sum: "$3.00",
  lists: [
    { sum: "$1.00", missing: 0, lines: [{ price: "p", each: "$1.50 each", sum: "$1.00" }] },
    { sum: "$2.00", missing: 1, lines: [{ price: "p", each: "$1.50 each", sum: "$2.00" }, {}] },
  ],
  total: [{ price: "p", each: "$1.50 each", sum: "$3.00", per: ["stick of 20 ft", "ft"] }, { per: ["each"] }],
};

test("lists come in their order with what they cost, the total last; a price may be for what the total says", () => {
  const blocks = blocksOf(parts, costs);
  assert.deepEqual(
    blocks.map((b) => [b.key, b.title, b.sum, b.missing, b.lines.length]),
    [
      ["main", "Main", "$1.00", 0, 1],
      ["z1", "Station 2: Front", "$2.00", 1, 2],
      ["total", "In total", "$3.00", 1, 2],
    ],
  );
  assert.deepEqual(blocks[0]?.lines[0]?.per, ["stick of 20 ft", "ft"]);
  assert.equal(blocks[2]?.lines[0]?.cost.sum, "$3.00");
});

test("only what has no price is left when that is asked for", () => {
  assert.deepEqual(
    blocksOf(parts, costs, true).map((b) => [b.key, b.lines.map((l) => l.line.item)]),
    [
      ["z1", ["b"]],
      ["total", ["b"]],
    ],
  );
  assert.deepEqual(blocksOf({ zones: [], total: [] }, undefined), []);
  assert.deepEqual(
    blocksOf(parts, undefined).map((b) => [b.sum, b.missing]),
    [
      ["", 0],
      ["", 0],
      ["", 0],
    ],
  );
});

test("money is read with the plan's currency, a point or a comma; what is not money is refused in words", () => {
  const value = (t: string, currency = ""): number | string => {
    const v = readMoney(t, "a price", currency);
    return v.ok ? v.value : v.sentence;
  };
  assert.equal(value("4.20"), 4.2);
  assert.equal(value(" 4,20 "), 4.2);
  assert.equal(value("$ 4.20", "$"), 4.2);
  assert.equal(value("4.20 EUR", "EUR"), 4.2);
  assert.match(String(value("1,234")), /not a number/);
  assert.match(String(value("two")), /“two” is not a number\. Type a price/);
  assert.match(String(value("-1")), /out of reach|not a number/);
  assert.match(String(value("1e9")), /out of reach|not a number/);
});

test("a price is given, changed and taken out; the last one leaves no trace", () => {
  const price = { item: "Body", unit: "each", each: 4 };
  const one = withPrice(bare, undefined, price);
  assert.deepEqual(one.prices, { "price-1": price });
  const two = withPrice(one, undefined, { ...price, item: "Nozzle" });
  assert.deepEqual(Object.keys(two.prices ?? {}), ["price-1", "price-2"]);
  assert.equal(withPrice(two, "price-1", { ...price, each: 5 }).prices?.["price-1"]?.each, 5);
  assert.ok(!("prices" in withPrice(one, "price-1", null)));
  assert.ok(!("prices" in withPrices(two, {})));
  assert.ok(!("prices" in bare));
});

test("rates by the foot are typed by the metre in metric plans, and come out as they were typed", () => {
  for (const p of [bare, metric])
    for (const typed of ["4", "12.5", "0.1", "39.37"]) {
      const v = readRate(typed, "a rate", p, true);
      assert.ok(v.ok);
      assert.equal(rateText(v.value, p), typed);
    }
  const v = readRate("10", "a rate", metric, true);
  assert.ok(v.ok && Math.abs((v.value ?? 0) - 3.048) < 1e-9);
  for (const none of ["", " ", "0"])
    assert.deepEqual(readRate(none, "a rate", bare, false), { ok: true, value: undefined });
});

test("shares are typed in percent", () => {
  for (const typed of ["8.25", "15", "0.1"]) {
    const v = readPercent(`${typed} %`, "Tax", 100);
    assert.ok(v.ok);
    assert.equal(percentText(v.value), typed);
  }
  assert.deepEqual(readPercent("8,25", "Tax", 100), { ok: true, value: 0.0825 });
  assert.equal(readPercent("101", "Tax", 100).ok, false);
  assert.deepEqual(readPercent("", "Tax", 100), { ok: true, value: undefined });
});

test("what is asked for work comes into the plan, and the last of it leaves no trace", () => {
  const p = withQuote(bare, "per_head", 12);
  assert.deepEqual(p.quote, { per_head: 12 });
  assert.ok(!("quote" in withQuote(p, "per_head", undefined)));
  const rented = withRentals(p, [
    { what: "Trencher", days: 2, each: 95 },
    { id: "r9", what: "Saw", days: 1, each: 40 },
  ]);
  assert.deepEqual(rented.quote?.rentals, {
    "rental-1": { what: "Trencher", days: 2, each: 95 },
    r9: { what: "Saw", days: 1, each: 40 },
  });
  assert.deepEqual(withRentals(rented, []).quote, { per_head: 12 });
});

test("words that are too long are refused with their length", () => {
  assert.deepEqual(readWords("  EUR ", "Currency", 8), { ok: true, value: "EUR" });
  const v = readWords("x".repeat(9), "Currency", 8);
  assert.ok(!v.ok && v.sentence.includes("9 characters"));
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { figureText, readFigure } from "./figures";
import type { Plan } from "./model";
import { withOwn } from "./ruling";

const inches = { unit: "in", most: 120, in: "in" };
const centimetres = { unit: "in", most: 120, in: "cm" };
const feet = { unit: "ft", most: 1000, in: "ft" };
const share = { unit: "share", most: 1, in: "%" };
const plain = { unit: "", most: 1000, in: "" };

test("a figure is read in its row's unit as the plan shows it, and kept in the row's own", () => {
  assert.deepEqual(readFigure("", "", inches, "us"), { ok: true, value: null });
  assert.deepEqual(readFigure("12 in", "City code", inches, "us"), {
    ok: true,
    value: { value: 12, source: "City code" },
  });
  assert.deepEqual(readFigure("30.48", "", centimetres, "metric"), { ok: true, value: { value: 12 } });
  assert.deepEqual(readFigure("6.096 m", "", { ...feet, in: "m" }, "metric"), {
    ok: true,
    value: { value: 20 },
  });
  assert.deepEqual(readFigure("7.5 %", "", share, "us"), { ok: true, value: { value: 0.075 } });
  assert.deepEqual(readFigure("0", "", plain, "us"), { ok: true, value: { value: 0 } });
  assert.equal(figureText(12, "in", "metric"), "30.48");
  assert.equal(figureText(0.075, "share", "us"), "7.5");
  assert.equal(figureText(20, "ft", "us"), "20");
});

test("what cannot be is refused with a sentence", () => {
  for (const [typed, row, show] of [
    ["-1", inches, "us"],
    ["121", inches, "us"],
    ["10 cm", inches, "us"],
    ["10 in", centimetres, "metric"],
    ["101", share, "us"],
    ["deep", inches, "us"],
    ["3 ft", plain, "us"],
  ] as const) {
    const v = readFigure(typed, "", row, show);
    assert.ok(!v.ok && v.sentence.length > 10, typed);
  }
  assert.ok(!readFigure("", "City code", inches, "us").ok, "a source without a figure");
});

test("a figure of the plan's own stands beside its rules and goes without a trace", () => {
  const bare: Plan = { format: "evenfall-plan/1", name: "Yard", show: "us" };
  const ruled = withOwn(bare, "local_rules", "band_paving", { feet: 2 });
  const own = withOwn(ruled, "figures", "depth_main", { value: 24 });
  assert.deepEqual(own.options, {
    local_rules: { band_paving: { feet: 2 } },
    figures: { depth_main: { value: 24 } },
  });
  assert.deepEqual(withOwn(own, "figures", "depth_main", null), ruled);
  assert.deepEqual(withOwn(withOwn(bare, "figures", "x", { value: 1 }), "figures", "x", null), bare);
});

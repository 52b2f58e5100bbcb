import assert from "node:assert/strict";
import { test } from "node:test";
import type { Plan } from "./model";
import { readRule, withOwn } from "./ruling";

const bare: Plan = { format: "evenfall-plan/1", name: "Yard", show: "us" };

test("a rule is read as a length with who asks for it; empty is the usual", () => {
  assert.deepEqual(readRule("", "", "us"), { ok: true, value: null });
  assert.deepEqual(readRule('6"', "City code 12.3", "us"), {
    ok: true,
    value: { feet: 0.5, source: "City code 12.3" },
  });
  assert.deepEqual(readRule("0", "", "us"), { ok: true, value: { feet: 0 } });
  assert.ok(!readRule("", "City code", "us").ok, "a source without a distance");
  assert.ok(!readRule("-1", "", "us").ok);
  assert.ok(!readRule("500", "", "us").ok);
  assert.ok(!readRule("near", "", "us").ok);
});

test("a rule of the plan's own is put in beside the other options and taken out without a trace", () => {
  const own = withOwn({ ...bare, options: { edge_lip_ft: 0.5 } }, "local_rules", "setback_paving", {
    feet: 1,
  });
  assert.deepEqual(own.options, { edge_lip_ft: 0.5, local_rules: { setback_paving: { feet: 1 } } });
  assert.deepEqual(withOwn(own, "local_rules", "setback_paving", null).options, { edge_lip_ft: 0.5 });
  assert.equal(
    "options" in
      withOwn(withOwn(bare, "local_rules", "band_paving", { feet: 2 }), "local_rules", "band_paving", null),
    false,
  );
});

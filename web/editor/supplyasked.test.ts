import assert from "node:assert/strict";
import { test } from "node:test";
import type { Plan } from "./model";
import { firstAsked, supplyFields } from "./supply";

const bare: Plan = { format: "evenfall-plan/1", name: "t", show: "us" };

/** A bare plan with one field of its supply typed. */
function typed(key: string, text: string): Plan {
  const got = supplyFields
    .find((f) => f.key === key)
    ?.set(bare, text, { nozzles: [], bodies: [], devices: [], pipe_classes: [] });
  assert.ok(got?.ok, key);
  return got.value;
}

test("row A20: the two regulators are told apart, and either is given its setting", () => {
  const label = (key: string) => supplyFields.find((f) => f.key === key)?.label ?? "";
  assert.match(label("tap"), /the house has/);
  assert.match(label("regulator"), /^This system gets .* of its own, besides any the house has$/);
  const shown = (p: Plan) => supplyFields.find((f) => f.key === "regulator_psi")?.shown?.(p);
  assert.equal(shown(bare), false);
  assert.equal(shown(typed("tap", "before_regulator")), false);
  assert.equal(shown(typed("tap", "after_regulator")), true);
  assert.equal(shown(typed("regulator", "yes")), true);
});

test("row A20: the page asks for the static pressure first, then for the flow", () => {
  assert.equal(firstAsked(bare), "Static pressure");
  assert.equal(firstAsked(typed("static_psi", "60")), "Flow measured");
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Patch } from "../merge";
import type { Plan } from "../model";
import { fits, madeAgain } from "./leftover";

const plan: Plan = {
  format: "evenfall-plan/1",
  name: "Yard",
  show: "us",
  zones: { z1: { name: "Front" } },
  proof: { audits: { q1: { cans: { c1: { x_ft: 0, y_ft: 0 } } } } },
};

test("what was noted of things that are there is made again", () => {
  const still: Patch[] = [
    { zones: { z1: { runs: { r1: { flow_gpm: 8 } } } } },
    { proof: { checks: { fill: { on: "2026-05-01" } } } },
    { proof: { touches: { t1: { order: 1, wire: "w1", ran: ["z1"] } } } },
    { proof: { audits: { q1: { cans: { c1: { catch_ml: 20 } } } } } },
    { proof: { audits: { q2: { cans: { c1: { x_ft: 1, y_ft: 1 } } } } } },
    { photos: { f1: { sha256: "ab" } } },
    { proof: { wires: { w9: null } } },
  ];
  for (const patch of still) assert.equal(fits(plan, patch), true, JSON.stringify(patch));
});

test("what was noted of things that are gone, or changes other things, is asked about", () => {
  const other: Patch[] = [
    { zones: { z9: { runs: { r1: { flow_gpm: 8 } } } } },
    { proof: { audits: { q1: { cans: { c9: { catch_ml: 20 } } } } } },
    { proof: { audits: { q9: { cans: { c1: { catch_ml: 20 } } } } } },
    { proof: { touches: { t1: { note: "again" } } } },
    { photos: { f1: { caption: "Leans" } } },
    { heads: { h1: { state: { set_on: "2026-05-01" } } } },
    { supply: { static_psi: 50 } },
  ];
  for (const patch of other) assert.equal(fits(plan, patch), false, JSON.stringify(patch));
});

test("steps are made in their order, each on the one before", () => {
  const step = (patch: never) => ({ label: "x", patch });
  const made = madeAgain(plan, {
    rev: 1,
    doc: plan,
    steps: [
      step({ proof: { wires: { w1: { order: 1, mark: "red" } } } } as never),
      step({ proof: { wires: { w1: { terminal: 3 } } } } as never),
    ],
  });
  assert.deepEqual(made?.at(-1)?.plan.proof?.wires, { w1: { order: 1, mark: "red", terminal: 3 } });
  assert.deepEqual(made?.at(-1)?.plan.proof?.audits, plan.proof?.audits);
});

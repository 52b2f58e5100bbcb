import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { hasOwnRule, ruleFeet, usualFeet } from "./localrules";
import type { LocalRule, Plan } from "./model";
import { setIn } from "./setback";

interface Placed {
  at: [number, number];
  want: [number, number];
}

const vectors = JSON.parse(
  readFileSync(join(process.env.EVENFALL_ROOT ?? ".", "testdata/vectors/localrules.json"), "utf8"),
) as {
  rows: { id: string; feet: number }[];
  plan: Plan;
  own: Record<string, LocalRule>;
  usual_heads: Placed[];
  own_heads: Placed[];
};

test("the usual distances are the server's", () => {
  assert.deepEqual(
    Object.entries(usualFeet),
    vectors.rows.map((r) => [r.id, r.feet]),
  );
});

test("a plan's own rule goes before the usual one", () => {
  const own: Plan = { ...vectors.plan, options: { local_rules: vectors.own } };
  assert.equal(ruleFeet(vectors.plan, "setback_paving"), 4 / 12);
  assert.equal(ruleFeet(own, "setback_paving"), 0.75);
  assert.equal(ruleFeet(own, "setback_other"), 0);
  assert.deepEqual([hasOwnRule(own, "setback_other"), hasOwnRule(own, "setback_wall")], [true, false]);
});

test("a head clicked at an edge is set where arranging may stand one", () => {
  const own: Plan = { ...vectors.plan, options: { local_rules: vectors.own } };
  for (const h of vectors.usual_heads) assert.deepEqual(setIn(vectors.plan, h.at), h.want, `from ${h.at}`);
  for (const h of vectors.own_heads) assert.deepEqual(setIn(own, h.at), h.want, `own rules, from ${h.at}`);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Design } from "./design";
import { firstSteps } from "./firststeps";
import type { Plan } from "./model";

const bare: Plan = { format: "evenfall-plan/1", name: "Yard", show: "us" };
const lawn: Plan = { ...bare, areas: { a1: { name: "Lawn", kind: "planting", outline: [] } } };
const head = (zone?: string) => ({ x_ft: 0, y_ft: 0, nozzle: "n", body: "b", ...(zone ? { zone } : {}) });
const seen = (...findings: { code: string; rank: string; accepted?: object }[]) =>
  ({ findings }) as unknown as Design;
const done = (p: Plan, d: Design | null, listed = false) =>
  firstSteps(p, d, listed)
    .map((s) => (s.done ? "x" : "-"))
    .join("");

test("an empty plan has every first step before it", () => {
  assert.equal(done(bare, null), "-----");
  assert.equal(done(bare, seen()), "-----");
});

test("each first step is done by what is on the plan", () => {
  assert.equal(done(lawn, seen()), "x----");
  const two = { ...lawn, heads: { h1: head(), h2: head() } };
  assert.equal(done(two, null), "xx---", "nothing is even before it was computed");
  assert.equal(done(two, seen({ code: "dry-patch", rank: "stop" })), "xx---");
  assert.equal(done(two, seen({ code: "dry-patch", rank: "stop", accepted: {} })), "xxx--");
  assert.equal(done(two, seen({ code: "head-without-zone", rank: "stop" })), "xxx--");
  const zoned = { ...two, zones: { z1: { name: "1" } }, heads: { h1: head("z1"), h2: head("z1") } };
  assert.equal(done(zoned, seen()), "xxxx-");
  assert.equal(done(zoned, seen(), true), "xxxxx");
  assert.equal(done({ ...zoned, heads: { h1: head("z1"), h2: head("gone") } }, seen(), true), "xxx--");
});

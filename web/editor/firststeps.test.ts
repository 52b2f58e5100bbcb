import assert from "node:assert/strict";
import { test } from "node:test";
import type { Design } from "./design";
import { firstSteps, howFar, opensWith } from "./firststeps";
import type { Plan, Supply } from "./model";

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
  assert.equal(done(bare, null), "--------");
  assert.equal(done(bare, seen()), "--------");
});

test("each first step is done by what is on the plan", () => {
  assert.equal(done(lawn, seen()), "x-------");
  const two = { ...lawn, heads: { h1: head(), h2: head() } };
  assert.equal(done(two, null), "xx------", "nothing is even before it was computed");
  assert.equal(done(two, seen({ code: "dry-patch", rank: "stop" })), "xx------");
  assert.equal(done(two, seen({ code: "dry-patch", rank: "stop", accepted: {} })), "xxx-----");
  assert.equal(done(two, seen({ code: "head-without-zone", rank: "stop" })), "xxx-----");
  const zoned = { ...two, zones: { z1: { name: "1" } }, heads: { h1: head("z1"), h2: head("z1") } };
  assert.equal(done(zoned, seen()), "xxx-x---");
  assert.equal(done(zoned, seen(), true), "xxx-x--x");
  assert.equal(done({ ...zoned, heads: { h1: head("z1"), h2: head("gone") } }, seen(), true), "xxx-----");
});

test("the water is given by a measured supply or by a flow to plan on, and what is assumed till then is told", () => {
  const water = (supply: Supply) => firstSteps({ ...bare, supply }, null, false)[3]?.done;
  assert.equal(water({ flow_gpm: 10, residual_psi: 45 }), false, "as an empty plan assumes");
  assert.equal(water({ static_psi: 60 }), false, "a gauge alone");
  assert.equal(water({ flow_gpm: 8, measured: true }), true);
  assert.equal(water({ design_flow_gpm: 8 }), true);
  const flow = {
    readings: { flow: { text: "6.57 of 10.0 gpm assumed" } },
    findings: [],
  } as unknown as Design;
  assert.match(firstSteps(bare, flow, false)[3]?.says ?? "", /^Till then 10\.0 gpm is assumed\./);
});

test("how far the first steps are is one line", () => {
  assert.equal(howFar(firstSteps(bare, null, false)), "0 of 8 done: next, draw the lawn.");
  assert.equal(howFar(firstSteps(lawn, seen(), false)), "1 of 8 done: next, set the heads.");
  const zoned = { ...lawn, supply: { measured: true }, zones: { z1: { name: "1" } } } as Plan;
  const pipes = { p1: { from: "n1", to: "n2", class: "pvc-class200", nominal_in: 0.75 } };
  const dry = { ...zoned, heads: { h1: head("z1"), h2: head("z1") } };
  assert.equal(howFar(firstSteps(dry, seen(), true)), "6 of 8 done: next, draw the pipes.");
  const all = firstSteps({ ...dry, pipes }, seen(), true);
  assert.equal(howFar(all), "All done: this plan can be bought.");
});

test("pipes are drawn when they reach every head, from the fixtures they join on, and sized when all have class and size", () => {
  const place = { x_ft: 0, y_ft: 0 };
  const valved: Plan = {
    ...bare,
    supply: { connection: place },
    zones: { z1: { name: "1", valve_at: place } },
  };
  const tool = (p: Plan) => firstSteps(p, seen(), false)[5]?.button;
  assert.equal(tool(bare), "Fixture");
  assert.equal(tool({ ...valved, zones: { z1: { name: "1" } } }), "Fixture", "a valve is missing");
  assert.equal(tool(valved), "Pipe");
  const drawn = { ...valved, pipes: { p1: { from: "n1", to: "n2" } } };
  assert.equal(done(drawn, seen({ code: "heads-without-pipe", rank: "mend" })).slice(5), "---");
  assert.equal(done(drawn, seen()).slice(5), "x--");
  const classed = { ...valved, pipes: { p1: { from: "n1", to: "n2", class: "pe-100", nominal_in: 1 } } };
  assert.equal(done(classed, seen()).slice(5), "xx-");
});

test("row A26: the steps come back while some are not done, unless put away on this plan, and never over a finished one", () => {
  assert.equal(opensWith(null, bare, null), true, "an empty plan");
  assert.equal(opensWith("away", bare, null), false);
  const two: Plan = { ...bare, heads: { h1: head("z1"), h2: head("z1") }, zones: { z1: { name: "1" } } };
  assert.equal(opensWith(null, two, seen()), false, "a plan not begun with them is left in peace");
  assert.equal(opensWith("begun", two, null), null, "not known before it is computed");
  assert.equal(opensWith("begun", two, seen()), true);
  assert.equal(opensWith("away", two, seen()), false);
  const pipes = { p1: { from: "n1", to: "n2", class: "pvc-class200", nominal_in: 0.75 } };
  const whole: Plan = { ...two, areas: lawn.areas ?? {}, supply: { measured: true }, pipes };
  assert.equal(opensWith("begun", whole, seen()), true, "the parts list is left to look at");
  assert.equal(opensWith("listed", whole, seen()), false);
});

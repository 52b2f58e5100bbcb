import assert from "node:assert/strict";
import { test } from "node:test";
import type { Design, PipeReading, PipeRun } from "./design";
import type { Head } from "./model";
import { signsOf } from "./panels/signs";
import { figureOf, PipeLook, runOf, runText, stepOf, zoneChosen } from "./pipelook";
import { pressureSigns } from "./scene/heads";
import { yard } from "./testplan";

const run = (zone: string, flow: string, most = false): PipeRun => ({
  zone,
  flow,
  velocity: "4.2 ft/s",
  loss: "0.6 psi",
  pressure: "48.1 psi",
  forward: true,
  rank: "good",
  most,
  velocity_step: 2,
  pressure_step: 3,
});
const pipe = (zone: string, ...runs: PipeRun[]): PipeReading => ({ zone, runs });

test("the main is told for the chosen zone, else for the one that takes most", () => {
  const main = pipe("", run("z1", "8 gpm"), run("z2", "12 gpm", true));
  assert.equal(runOf(main, "z1")?.flow, "8 gpm");
  assert.equal(runOf(main, "")?.flow, "12 gpm");
  assert.equal(runOf(main, "z3"), null, "nothing passes it for a zone that is not fed through it");
  assert.equal(runOf(pipe("z1", run("z1", "3 gpm", true)), "z2")?.flow, "3 gpm");
  assert.equal(runOf(undefined, ""), null);
});

test("what is written along a pipe, and its step", () => {
  const r = run("z1", "8 gpm");
  assert.deepEqual([figureOf(r, "velocity"), stepOf(r, "velocity")], ["4.2 ft/s", 2]);
  assert.deepEqual([figureOf(r, "pressure"), stepOf(r, "pressure")], ["48.1 psi", 3]);
  assert.equal(runText(r), "8 gpm at 4.2 ft/s, loses 0.6 psi, 48.1 psi left");
  assert.match(runText({ ...r, rank: "mend" }), /too fast/);
});

test("the zone of what is selected, none when it is of several", () => {
  const p = yard();
  const other = { ...p, heads: { ...p.heads, h2: { ...(p.heads?.h2 as Head), zone: "z2" } } };
  assert.equal(zoneChosen(p, ["heads/h1", "heads/h2"]), "z1");
  assert.equal(zoneChosen(other, ["heads/h2"]), "z2");
  assert.equal(zoneChosen(other, ["heads/h1", "heads/h2"]), "");
  assert.equal(zoneChosen(p, ["heads/h1", "areas/a1"]), "z1");
  assert.equal(zoneChosen(p, ["valves/z3"]), "z3");
  assert.equal(zoneChosen(p, []), "");
});

test("the way of looking changes once for each choice", () => {
  let n = 0;
  const look = new PipeLook(() => n++);
  look.show("plain");
  look.show("velocity");
  look.show("velocity");
  assert.deepEqual([look.by, n], ["velocity", 1]);
});

test("row A22: heads with too little or too much pressure have signs of their own, listed only where there are any", () => {
  const p = yard();
  const design = (state?: string) => ({ heads: { h1: { state } } }) as unknown as Design;
  const keys = (d: Design | null) =>
    signsOf(p, d)
      .map((s) => s.key)
      .filter((k) => ["starved", "low", "high"].includes(k));
  assert.deepEqual(keys(null), []);
  assert.deepEqual(keys(design("good")), []);
  assert.deepEqual(keys(design("starved")), ["starved"]);
  assert.deepEqual(keys(design("high")), ["high"]);
  assert.notEqual(pressureSigns.low, pressureSigns.high);
});

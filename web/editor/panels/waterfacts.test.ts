import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import type { PipeReading, PipeRun } from "../design";
import type { Plan } from "../model";
import { insideFacts, otherRuns, pipeFacts } from "./waterfacts";

const demo = JSON.parse(
  readFileSync(join(process.env.EVENFALL_ROOT ?? ".", "testdata/plans/demo.json"), "utf8"),
) as Plan;

test("a pipe tells its inside diameter and how its class takes it", () => {
  const [id, pipe] = Object.entries(demo.pipes ?? {}).find(([, v]) => v.class === "pvc-class200") ?? [];
  assert.ok(id && pipe);
  const wide = { ...demo, pipes: { [id]: { ...pipe, nominal_in: 0.75 } } };
  // 0.910 in: SDR 21 of 1.050 in outside, least wall 0.060 in (ASTM D2241).
  const said = "average: outside − 2 (least wall + 0.010 in)";
  assert.deepEqual(insideFacts(wide, id), [["Inside diameter", `0.910 in; ${said}`]]);
  assert.deepEqual(insideFacts({ ...wide, show: "metric" }, id), [["Inside diameter", `23.1 mm; ${said}`]]);
  const { nominal_in: _, ...unsized } = pipe;
  assert.deepEqual(insideFacts({ ...demo, pipes: { [id]: unsized } }, id), []);
  assert.deepEqual(insideFacts(demo, "none"), []);
});

test("a pipe of the main tells the zone that sends most through it first, the others apart", () => {
  const run = (zone: string, flow: string, most: boolean) =>
    ({
      zone,
      flow,
      most,
      velocity: "2.0 ft/s",
      loss: "0.2 psi",
      pressure: "58 psi",
      rank: "good",
    }) as PipeRun;
  const reading = {
    zone: "",
    runs: [run("z1", "7.83 gpm", false), run("z3", "12.2 gpm", true)],
  } as PipeReading;
  const says = (flow: string) => `${flow} at 2.0 ft/s, loses 0.2 psi, 58 psi left`;
  assert.deepEqual(pipeFacts(demo, reading, false), [["While Side lawn runs", says("12.2 gpm")]]);
  assert.deepEqual(otherRuns(demo, reading), [["While Front lawn, west runs", says("7.83 gpm")]]);
  assert.deepEqual(pipeFacts(demo, reading, true), [["Flow and pressure", "not computed"]]);
  assert.deepEqual(otherRuns(demo, undefined), []);
});

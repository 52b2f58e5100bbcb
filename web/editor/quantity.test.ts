import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import type { System } from "./model";
import { flow, pressure, readQuantity, showQuantity, speed, time, volume } from "./quantity";

interface Case {
  kind: keyof typeof kinds;
  input: string;
  system: System;
  value?: number;
  error?: boolean;
}

/** What a kind is read by, and the most of it that the server takes. */
const kinds = {
  flow: [flow, 10_000],
  pressure: [pressure, 1_000],
  volume: [volume, 100_000],
  velocity: [speed, 100],
  time: [time, 86_400],
} as const;

const cases = JSON.parse(
  readFileSync(join(process.env.EVENFALL_ROOT ?? ".", "testdata/vectors/quantity.json"), "utf8"),
) as Case[];

test("row A2: flows and pressures read as the server reads them", () => {
  assert.ok(cases.length > 20);
  for (const c of cases) {
    const [q, most] = kinds[c.kind];
    const got = readQuantity(c.input, q, c.system, 1e-6, most);
    const what = `${c.kind} ${JSON.stringify(c.input)} (${c.system})`;
    if (c.error) assert.equal(got.ok, false, `${what} should be refused`);
    else
      assert.ok(
        got.ok && Math.abs(got.value - (c.value ?? 0)) < 1e-3,
        `${what}: ${got.ok ? got.value : got.sentence}`,
      );
  }
});

test("what cannot be is said in a sentence that names the unit and its range", () => {
  const far = readQuantity("900", pressure, "us", 5, 200);
  assert.ok(!far.ok && /Type psi from 5 to 200\./.test(far.sentence));
  const bar = readQuantity("900 bar", pressure, "us", 5, 200);
  assert.ok(!bar.ok && /Type bar from 0\.345 to 13\.8\./.test(bar.sentence), bar.ok ? "" : bar.sentence);
  const unit = readQuantity("12 miles", flow, "us", 1, 200);
  assert.ok(!unit.ok && unit.sentence === "“miles” is not a unit of flow. Write gpm, l/min or m3/h.");
  for (const r of [far, bar, unit]) assert.ok(!r.ok && !/invalid|illegal|oops/i.test(r.sentence));
});

test("a figure typed at a limit as it is told is taken", () => {
  assert.deepEqual(readQuantity("13.8 bar", pressure, "us", 5, 200), { ok: true, value: 200 });
});

test("volumes and times read with their units, and all show without", () => {
  const got = readQuantity("19 litres", volume, "us", 0.1, 1000);
  assert.ok(got.ok && Math.abs(got.value - 5.0193) < 1e-3);
  for (const [typed, gal] of [
    ["2 ft3", 14.961],
    ["2 cu ft", 14.961],
    ["2 ft³", 14.961],
    ["0.1 m3", 26.4172],
  ] as const) {
    const dial = readQuantity(typed, volume, "us", 0.1, 1000);
    assert.ok(dial.ok && Math.abs(dial.value - gal) < 1e-3, typed);
  }
  const minutes = readQuantity("1.5 min", time, "metric", 1, 3600);
  assert.deepEqual(minutes, { ok: true, value: 90 });
  assert.equal(showQuantity(5.0193, volume, "metric"), "19");
  assert.equal(showQuantity(62, pressure, "us"), "62");
  assert.equal(showQuantity(undefined, pressure, "us"), "");
});

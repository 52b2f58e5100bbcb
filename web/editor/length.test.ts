import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { angleText, areaText, lengthText } from "./format";
import { parseAngle, parseCoordinate, parseLength } from "./length";
import type { System } from "./model";

const vectors = (name: string): unknown =>
  JSON.parse(readFileSync(join(process.env.EVENFALL_ROOT ?? ".", "testdata/vectors", name), "utf8"));

interface LengthCase {
  input: string;
  system: System;
  feet?: number;
  error?: boolean;
  coordinate?: boolean;
}

test("rowA2: lengths read as the server reads them", () => {
  const cases = vectors("length.json") as LengthCase[];
  assert.ok(cases.length > 40);
  for (const c of cases) {
    const got = c.coordinate ? parseCoordinate(c.input, c.system) : parseLength(c.input, c.system);
    const what = `${JSON.stringify(c.input)} (${c.system})`;
    if (c.error) {
      assert.equal(got.ok, false, `${what} should be refused`);
      continue;
    }
    assert.ok(got.ok, `${what} should be read: ${got.ok ? "" : got.sentence}`);
    assert.ok(Math.abs(got.value - (c.feet ?? Number.NaN)) <= 1e-12 * Math.max(1, Math.abs(got.value)), what);
  }
});

test("rowA28: refusals say what to write and blame nobody", () => {
  for (const typed of [
    "",
    "abc",
    "12,5",
    "0",
    "-1",
    "1e9",
    "NaN",
    "5' 14\"",
    "15'-6\"",
    "9".repeat(70),
    "1/0",
  ]) {
    const got = parseLength(typed, "us");
    assert.equal(got.ok, false, typed);
    if (got.ok) continue;
    assert.match(got.sentence, /^[A-Z“].*\.$/);
    assert.doesNotMatch(got.sentence, /invalid|illegal|oops|failed to parse/i);
  }
});

test("a coordinate may be zero or negative", () => {
  for (const [typed, want] of [
    ["0", 0],
    ["-12.5", -12.5],
    ["-3' 6\"", -3.5],
  ] as const) {
    const got = parseCoordinate(typed, "us");
    assert.ok(got.ok);
    assert.equal(got.value, want);
  }
});

test("angles", () => {
  for (const [typed, want] of [
    ["90", 90],
    ["90°", 90],
    ["-45", -45],
    ["22.5 deg", 22.5],
  ] as const) {
    const got = parseAngle(typed);
    assert.ok(got.ok, typed);
    assert.equal(got.value, want);
  }
  for (const typed of ["", "north", "12,5", "4000"]) assert.equal(parseAngle(typed).ok, false, typed);
});

test("lengths print as the server prints them", () => {
  const cases: [number, System, string][] = [
    [15.5, "us", `15' 6"`],
    [15.541666, "us", `15' 6 1/2"`],
    [0.5, "us", `6"`],
    [1 / 24, "us", `1/2"`],
    [3 + 1 / 24, "us", `3' 0 1/2"`],
    [0, "us", `0"`],
    [-3.5, "us", `-3' 6"`],
    [4.7 / 0.3048, "metric", "4.70 m"],
  ];
  for (const [feet, system, want] of cases) assert.equal(lengthText(feet, system), want);
  assert.equal(areaText(3552.2, "us"), "3,552 ft²");
  assert.equal(areaText(6, "us"), "6.0 ft²");
  assert.equal(angleText(22.5), "22.5°");
});

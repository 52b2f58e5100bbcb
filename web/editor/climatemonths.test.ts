import assert from "node:assert/strict";
import { test } from "node:test";
import { columnsOf, monthNames, monthsNow, monthText, readMonth, spread, withMonths } from "./climatemonths";
import type { Plan } from "./model";
import { yard } from "./testplan";
import { withWatering } from "./wateringfields";

const twelve = <T>(v: T): T[] => Array.from({ length: 12 }, () => v);
const metric: Plan = { ...yard(), show: "metric" };
const [et, rain] = columnsOf.normals;
const [high] = columnsOf.temperatures;

test("figures of a month are read in the units of the plan", () => {
  assert.deepEqual(readMonth("6.2", et, "us"), { ok: true, value: 6.2 });
  assert.deepEqual(readMonth("6,2 in", et, "us"), { ok: true, value: 6.2 });
  assert.deepEqual(readMonth("127 mm", et, "metric"), { ok: true, value: 5 });
  assert.deepEqual(readMonth("762", et, "metric"), { ok: true, value: 30 });
  assert.deepEqual(readMonth("30", high, "metric"), { ok: true, value: 86 });
  assert.deepEqual(readMonth("-40 °C", high, "metric"), { ok: true, value: -40 });
  assert.deepEqual(readMonth("", rain, "us"), { ok: true, value: undefined });
  for (const bad of ["", "wet", "31", "-1", "1e2", "NaN"]) assert.ok(!readMonth(bad, et, "us").ok, bad);
  assert.ok(!readMonth("150", high, "us").ok);
});

test("figures show as they were typed", () => {
  for (const [c, show, typed] of [
    [et, "us", "6.24"],
    [et, "metric", "158.5"],
    [high, "us", "91.4"],
    [high, "metric", "33.3"],
    [high, "metric", "-0.5"],
  ] as const) {
    const v = readMonth(typed, c, show);
    assert.ok(v.ok);
    assert.equal(monthText(v.value, c, show), typed);
  }
});

test("a table is taken whole; months without rain are none", () => {
  const typed = [twelve("5"), twelve("")];
  const dry = withMonths(yard(), "normals", typed, " a station ");
  assert.ok(dry.ok);
  assert.deepEqual(dry.value.watering, { et_in: twelve(5), et_from: "a station" });
  typed[1]![3] = "2.5";
  const wet = withMonths(yard(), "normals", typed, "");
  assert.ok(wet.ok);
  assert.deepEqual(wet.value.watering?.rain_in, [0, 0, 0, 2.5, 0, 0, 0, 0, 0, 0, 0, 0]);
  const only = withMonths(withWatering(yard(), { et_zone: 14 }), "rain", [twelve("1")], "");
  assert.ok(only.ok);
  assert.deepEqual(only.value.watering, { et_zone: 14, rain_in: twelve(1) });
});

test("what is not changed stays to the last digit", () => {
  const exact = twelve(1 / 3);
  const p = withWatering(metric, { et_in: exact, rain_in: twelve(0.777777) });
  const now = monthsNow(p, "normals");
  const same = withMonths(p, "normals", now, "");
  assert.ok(same.ok);
  assert.deepEqual(same.value.watering, p.watering);
  now[0]![5] = "100";
  const one = withMonths(p, "normals", now, "");
  assert.ok(one.ok);
  assert.equal(one.value.watering?.et_in?.[4], 1 / 3);
  assert.notEqual(one.value.watering?.et_in?.[5], 1 / 3);
});

test("every mistake is told with its month and nothing is taken", () => {
  const typed = [twelve("80"), twelve("60"), twelve("")];
  typed[0]![1] = "hot";
  typed[1]![7] = "";
  const v = withMonths(yard(), "temperatures", typed, "");
  assert.ok(!v.ok);
  assert.match(v.sentence, /^February: “hot” is not a number/);
  assert.deepEqual("wrong" in v && v.wrong.map((w) => [w.column, w.month]), [
    [0, 1],
    [1, 7],
  ]);
  const turned = withMonths(yard(), "temperatures", [twelve("60"), twelve("80"), twelve("")], "");
  assert.ok(!turned.ok);
  assert.match(turned.sentence, /January: The highest is below the lowest/);
  assert.ok(!withMonths(yard(), "normals", [twelve("5"), twelve("")], "x".repeat(201)).ok);
});

test("a column of a spreadsheet is spread over the months, a line of twelve too", () => {
  assert.equal(spread("6.2"), null);
  assert.equal(spread(""), null);
  assert.deepEqual(spread("1\r\n2\r\n3\r\n"), [["1"], ["2"], ["3"]]);
  assert.deepEqual(spread("1\t4\n2\t5\n"), [
    ["1", "4"],
    ["2", "5"],
  ]);
  const line = monthNames.map((_, m) => String(m)).join("\t");
  assert.deepEqual(
    spread(line),
    monthNames.map((_, m) => [String(m)]),
  );
});

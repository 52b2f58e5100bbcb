import assert from "node:assert/strict";
import { test } from "node:test";
import { apply, diff, type Plan } from "./model";
import type { SupplyField } from "./supply";
import { catalog, yard } from "./testplan";
import {
  allows,
  audited,
  climateFrom,
  every,
  hourFields,
  latitude,
  peak,
  plantFields,
  readTime,
  target,
  together,
  weekdays,
  withClimate,
  withDay,
  withoutClimate,
  withWatering,
} from "./wateringfields";

const twelve = (v: number): number[] => Array.from({ length: 12 }, () => v);

function set(f: SupplyField, p: Plan, typed: string): Plan {
  const v = f.set(p, typed, catalog);
  assert.ok(v.ok, `${f.label}: ${typed}`);
  return v.value;
}

test("times of day are read as people write them", () => {
  for (const [typed, want] of [
    ["22:00", "22:00"],
    ["22", "22:00"],
    ["2200", "22:00"],
    ["930", "09:30"],
    ["5.30", "05:30"],
    ["10 pm", "22:00"],
    ["10:30 p.m.", "22:30"],
    ["12 am", "00:00"],
    ["12pm", "12:00"],
    ["0:05", "00:05"],
    ["24:00", "00:00"],
  ] as const)
    assert.deepEqual(readTime(typed), { ok: true, value: want }, typed);
  for (const bad of ["", "late", "25", "22:60", "13 pm", "0 am", "24:01", "22:0", "-3", "1e1", "22:00:00"]) {
    const v = readTime(bad);
    assert.ok(!v.ok, bad);
    assert.match(v.sentence, /22:00/);
  }
});

test("no day named allows all; days are forbidden and allowed one by one; one has to stay", () => {
  let p = yard();
  assert.ok(weekdays.every(([d]) => allows(p, d)));
  const step = (day: string, on: boolean): void => {
    const v = withDay(p, day, on);
    assert.ok(v.ok, day);
    p = v.value;
  };
  step("tue", false);
  step("sun", false);
  assert.deepEqual(p.watering?.days, ["mon", "wed", "thu", "fri", "sat"]);
  step("sun", true);
  assert.deepEqual(p.watering?.days, ["mon", "wed", "thu", "fri", "sat", "sun"], "in the order of the week");
  for (const d of ["mon", "wed", "thu", "fri", "sat"]) step(d, false);
  const last = withDay(p, "sun", false);
  assert.ok(!last.ok);
  assert.deepEqual(p.watering?.days, ["sun"]);
});

test("days of the week and one day in so many take each other's place", () => {
  const days = withWatering(yard(), { days: ["mon"] });
  const p = set(every, days, "3");
  assert.deepEqual(p.watering, { every: 3 });
  const back = withDay(p, "mon", false);
  assert.ok(back.ok);
  assert.equal("every" in (back.value.watering ?? {}), false);
  assert.deepEqual(set(every, p, "").watering, {});
  for (const bad of ["2.5", "0", "32", "two"]) assert.ok(!every.set(p, bad, catalog).ok, bad);
});

test("what is typed is shown as typed, and empty is the usual", () => {
  const fields = [...hourFields, peak, audited, latitude];
  for (const [f, typed] of [
    [hourFields[0], "21:30"],
    [hourFields[1], "05:00"],
    [peak, "1.5"],
    [audited, "62"],
    [latitude, "-33.4"],
  ] as const) {
    assert.ok(f);
    const p = set(f, yard(), typed);
    assert.equal(f.get(p), typed, f.label);
    assert.equal(f.get(set(f, p, "")), "", f.label);
  }
  for (const f of fields)
    for (const bad of ["x", "NaN", "1e9"]) assert.ok(!f.set(yard(), bad, catalog).ok, bad);
  assert.ok(!audited.set(yard(), "0", catalog).ok);
  const metric: Plan = { ...yard(), show: "metric" };
  assert.equal(set(peak, metric, "25.4").watering?.peak_in_per_week, 1);
  assert.equal(peak.get(set(peak, metric, "25.4")), "25.4");
});

test("choices keep the plan without what goes without saying", () => {
  for (const f of [...plantFields, target]) {
    const [usual, other] = (f.choices?.(yard(), catalog) ?? []).map((c) => c.value);
    assert.equal(f.get(yard()), usual);
    const p = set(f, yard(), other ?? "");
    assert.equal(f.get(p), other);
    assert.deepEqual(set(f, p, usual ?? "").watering, {});
  }
  assert.equal(set(together, yard(), "yes").watering?.together, true);
  assert.deepEqual(set(together, set(together, yard(), "yes"), "").watering, {});
});

test("a climate takes the place of any other; rain stays with it, and leaves with the last", () => {
  const rain = withWatering(yard(), { rain_in: twelve(2) });
  const zone = withClimate(rain, { et_zone: 14 });
  assert.equal(climateFrom(zone), "zone");
  const normals = withClimate(zone, { et_in: twelve(5), et_from: "a station" });
  assert.equal(climateFrom(normals), "normals");
  assert.equal(climateFrom(withWatering(normals, { et_by: [{}] })), "weather");
  const heat = withClimate(normals, { high_f: twelve(80), low_f: twelve(60) });
  assert.equal(climateFrom(heat), "temperatures");
  assert.deepEqual(Object.keys(heat.watering ?? {}).sort(), ["high_f", "low_f", "rain_in"]);
  const none = withoutClimate(heat);
  assert.equal(climateFrom(none), "none");
  assert.deepEqual(none.watering, {});
  // As a step is made of it: members gone are gone for the server, too.
  assert.deepEqual(apply(heat, diff(heat, none)).watering, {});
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Plan, Wiring } from "./model";
import { empty } from "./testplan";
import { cables, wiringChosen, withWiring } from "./wiringchoice";

const chosen = (p: Plan, key: keyof Wiring, v: string): Plan => {
  const r = withWiring(p, key, v);
  assert.ok(r.ok, `${key} ${v}`);
  return r.value;
};

test("cable and sizes are chosen one by one, read back, and left open again", () => {
  let p = empty();
  for (const key of ["cable", "hot_awg", "common_awg"] as const) assert.equal(wiringChosen(p, key), "");
  p = chosen(p, "cable", "multi");
  p = chosen(p, "hot_awg", "14");
  p = chosen(p, "common_awg", "12");
  assert.deepEqual(p.wiring, { cable: "multi", hot_awg: 14, common_awg: 12 });
  assert.equal(wiringChosen(p, "common_awg"), "12");
  assert.ok(cables.some((c) => c.value === wiringChosen(p, "cable")));
  p = chosen(chosen(p, "cable", ""), "common_awg", "");
  assert.deepEqual(p.wiring, { hot_awg: 14 });
  p = chosen(p, "hot_awg", "");
  assert.equal("wiring" in p, false, "with nothing chosen the plan says nothing of it");
  assert.equal(wiringChosen({ ...p, wiring: { hot_awg: 0 } }, "hot_awg"), "", "0 is left to the drop");
});

test("what is no cable and no size is refused with a sentence", () => {
  for (const [key, v] of [
    ["cable", "rope"],
    ["hot_awg", "thick"],
    ["common_awg", "-4"],
    ["common_awg", "12.5"],
  ] as const) {
    const r = withWiring(empty(), key, v);
    assert.ok(!r.ok && r.sentence.endsWith("."), v);
  }
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { type Area, items, type Outline, type Plan } from "../model";
import { shapeHolds } from "../shape";
import { empty, yard } from "../testplan";
import { labelPlaces } from "./label";
import { placeNames } from "./naming";

const box = (x0: number, y0: number, x1: number, y1: number): Outline => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];
const area = (name: string, outline: Outline): Area => ({ name, kind: "planting", outline });
const head = (x_ft: number, y_ft: number) => ({ nozzle: "n", body: "o", x_ft, y_ft });

test("a name stands inside its area, in the middle when nothing is there", () => {
  const p: Plan = { ...empty(), areas: { a: area("Lawn", box(0, 0, 40, 30)) } };
  assert.deepEqual(placeNames(p, 8).get("a"), { at: [20, 15], text: "Lawn", small: false });
  for (const l of labelPlaces(p.areas?.a as Area)) assert.ok(shapeHolds(box(0, 0, 40, 30), [], l.at));
});

test("a name keeps clear of heads and of other names", () => {
  const p: Plan = {
    ...empty(),
    areas: { a: area("Lawn", box(0, 0, 40, 30)), b: area("House", box(12, 11, 28, 19)) },
    heads: { h1: head(20, 15), h2: head(20, 25) },
  };
  const names = placeNames(p, 8);
  const [lawn, house] = [names.get("a"), names.get("b")];
  assert.ok(lawn && house);
  const off = (at: readonly number[], x: number, y: number) =>
    Math.max(Math.abs((at[0] ?? 0) - x) * 8 - 20, Math.abs((at[1] ?? 0) - y) * 8 - 10);
  for (const n of [lawn, house]) {
    for (const h of Object.values(items(p, "heads"))) {
      assert.ok(off(n.at, h.x_ft, h.y_ft) > 0, `${n.text} is clear of the head at ${h.x_ft}, ${h.y_ft}`);
    }
  }
  assert.ok(off(lawn.at, house.at[0], house.at[1]) > 0);
});

test("with less room a name is small, then cut, then left out", () => {
  const p = (wide: number): Plan => ({
    ...empty(),
    areas: { a: area("North side strip", box(0, 0, wide, 4)) },
  });
  const at = (wide: number) => placeNames(p(wide), 8).get("a");
  assert.deepEqual([at(18)?.small, at(18)?.text], [false, "North side strip"]);
  assert.deepEqual([at(13)?.small, at(13)?.text], [true, "North side strip"]);
  assert.equal(at(11)?.text, "North side s…");
  assert.equal(at(8)?.text, "North s…");
  assert.equal(at(4), undefined);
});

test("where a plan is a speck there are no names", () => {
  assert.equal(placeNames(yard(), 0.3).size, 0);
});

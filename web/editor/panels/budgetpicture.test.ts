import assert from "node:assert/strict";
import { test } from "node:test";
import type { BudgetStep } from "../design";
import { placed } from "./budgetpicture";

const step = (along_ft: number, left_psi: number): BudgetStep =>
  ({ along_ft, left_psi, about: [] }) as unknown as BudgetStep;

test("the steps of a budget stand along the way from left to right, less pressure lower", () => {
  const { points, needY, floor } = placed([step(0, 62), step(0, 56), step(100, 46)], 30);
  const [a, b, c] = points as [[number, number], [number, number], [number, number]];
  assert.equal(a[0], b[0], "a device takes pressure at its place");
  assert.ok(c[0] > b[0]);
  assert.ok(a[1] < b[1] && b[1] < c[1]);
  // 30 of 62 psi: the same share of the height as the first point has whole.
  assert.ok(Math.abs((floor - (needY ?? 0)) / (floor - a[1]) - 30 / 62) < 1e-9);
});

test("a budget that falls to nothing, or of no length, stays within its picture", () => {
  const { points, needY, floor } = placed([step(0, 20), step(0, -3)], 0);
  for (const [x, y] of points) assert.ok(Number.isFinite(x) && y <= floor);
  assert.equal(needY, null);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { half } from "./scene/contours";

test("a contour line has its level written half-way along it, however its corners lie", () => {
  assert.deepEqual(
    half([
      [0, 0],
      [10, 0],
    ]),
    { place: [5, 0], long: 10 },
  );
  assert.deepEqual(
    half([
      [0, 0],
      [2, 0],
      [2, 0],
      [2, 8],
    ]),
    { place: [2, 3], long: 10 },
  );
  assert.deepEqual(half([[3, 4]]), { place: [3, 4], long: 0 });
});

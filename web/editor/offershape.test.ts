import assert from "node:assert/strict";
import { test } from "node:test";
import type { StandView } from "./arranging";
import { about, patternOfStand, pictureBounds } from "./offershape";

const stand: StandView = {
  id: "h1",
  x_ft: 10,
  y_ft: 5,
  start_deg: 90,
  sweep_deg: 180,
  throw_ft: 12,
  nozzle: "n",
  says: "",
};

test("a head of an offer wets a sector, a strip nozzle the rectangle along its direction", () => {
  assert.deepEqual(patternOfStand(stand), { shape: "sector", startDeg: 90, sweepDeg: 180, throwFt: 12 });
  const strip = { ahead: true, back: false, left_ft: 2, right_ft: 1 };
  const p = patternOfStand({ ...stand, sweep_deg: 0, strip });
  assert.equal(p.shape, "strip");
  // Looking north, what is left lies west.
  const corners = p.shape === "strip" ? p.corners.map(([x, y]) => [Math.round(x), Math.round(y)]) : [];
  assert.deepEqual(corners, [
    [11, 5],
    [11, 17],
    [8, 17],
    [8, 5],
  ]);
});

test("a picture holds its areas and heads with a margin; of nothing it is still one", () => {
  const b = pictureBounds(
    [
      [
        [0, 0],
        [50, 0],
        [50, 20],
      ],
    ],
    [stand],
  );
  assert.deepEqual(b, { minX: -2, minY: -2, maxX: 52, maxY: 22 });
  const none = pictureBounds([], []);
  assert.ok(none.maxX > none.minX && none.maxY > none.minY);
  assert.deepEqual(about([5, 5], 4), { minX: 3, maxX: 7, minY: 3, maxY: 7 });
});

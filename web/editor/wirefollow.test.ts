import assert from "node:assert/strict";
import { test } from "node:test";
import { moveThings, placeThing } from "./edit";
import { find, type Plan, put, type Ref } from "./model";
import { empty } from "./testplan";
import { withWiresFollowing } from "./wirefollow";

const at = (x_ft: number, y_ft: number) => ({ x_ft, y_ft });

/** A run from the controller by a corner to a splice box, and one from there to a sensor. */
function wired(): Plan {
  let p = put(empty(), "wires", "w1", {
    line: [
      [40, 0, 0.25],
      [50, 0],
      [50, 10.04],
    ],
  });
  p = put(p, "wires", "w2", {
    line: [
      [50, 10],
      [60, 10],
    ],
  });
  p = put(put(p, "boxes", "x1", at(50, 10)), "sensors", "s1", { kind: "rain", ...at(60, 10) });
  return { ...p, controller: { at: at(40, 0), outlet_at: at(50, 0) } };
}

const moved = (p: Plan, r: Ref, by: [number, number]): Plan => withWiresFollowing(p, moveThings(p, [r], by));

const lines = (p: Plan) => [find(p, "wires", "w1")?.line, find(p, "wires", "w2")?.line];

test("the end of a run goes with the controller, the box and the sensor, and keeps its bow; the rest stays", () => {
  const p = wired();
  const [w1, w2] = lines(p);
  assert.deepEqual(lines(moved(p, "controller/at", [1, 2])), [[[41, 2, 0.25], ...w1!.slice(1)], w2]);
  const box = lines(moved(p, "boxes/x1", [0, 5]));
  assert.ok(Math.abs(box[0]![2]![1] - 15.04) < 1e-9);
  assert.deepEqual(box[0]!.slice(0, 2), w1!.slice(0, 2));
  assert.deepEqual(box[1], [
    [50, 15],
    [60, 10],
  ]);
  const sensor = withWiresFollowing(p, placeThing(p, "sensors/s1", [61, 9]));
  assert.deepEqual(lines(sensor), [
    w1,
    [
      [50, 10],
      [61, 9],
    ],
  ]);
  assert.deepEqual(lines(moved(p, "controller/outlet_at", [3, 3])), [w1, w2], "a corner at the outlet stays");
});

test("a run stays that is locked, that ends apart, or that was moved itself", () => {
  const p = wired();
  const locked = put(p, "wires", "w1", { ...p.wires!.w1!, locked: true });
  assert.equal(find(moved(locked, "controller/at", [1, 0]), "wires", "w1"), locked.wires?.w1);
  const apart = put(p, "boxes", "x1", at(50, 10.2));
  assert.equal(moved(apart, "boxes/x1", [1, 0]).wires, apart.wires);
  const both = moveThings(p, ["controller/at", "wires/w1"], [5, 5]);
  assert.equal(withWiresFollowing(p, both), both);
  const other = put(p, "notes", "m", { ...at(0, 0), text: "x" });
  assert.equal(withWiresFollowing(p, other), other);
  const gone = { ...p, controller: {}, boxes: {} };
  assert.equal(withWiresFollowing(p, gone), gone, "what is deleted takes no wire along");
});

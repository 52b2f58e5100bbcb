import assert from "node:assert/strict";
import { test } from "node:test";
import { moveCorner, moveThings } from "./edit";
import { type Plan, put } from "./model";
import { yard } from "./testplan";
import { withTiesFollowing } from "./tiefollow";

/** The yard with a tie from the house's corner to the lawn's north-east corner, and one to the oak. */
function tied(): Plan {
  const from = { x_ft: 30, y_ft: 28 };
  const p = put(yard(), "ties", "i1", { from, to: { x_ft: 60, y_ft: 40 }, distance_ft: 32 });
  return put(p, "ties", "i2", { from, to: { x_ft: 50, y_ft: 30 }, distance_ft: 20 });
}

test("trade A3: a tie goes with the corner it stands on, and goes on saying what was measured", () => {
  const p = tied();
  const next = withTiesFollowing(p, moveCorner(p, "areas/a1", 0, 2, [61, 42]));
  assert.deepEqual(next.ties?.i1, {
    from: { x_ft: 30, y_ft: 28 },
    to: { x_ft: 61, y_ft: 42 },
    distance_ft: 32,
  });
  assert.equal(next.ties?.i2, p.ties?.i2);
  const house = withTiesFollowing(p, moveThings(p, ["areas/a2"], [1, 0]));
  assert.deepEqual(
    [house.ties?.i1?.from, house.ties?.i2?.from],
    [
      { x_ft: 31, y_ft: 28 },
      { x_ft: 31, y_ft: 28 },
    ],
  );
  const tree = withTiesFollowing(p, moveThings(p, ["trees/t1"], [0, 2]));
  assert.deepEqual(tree.ties?.i2?.to, { x_ft: 50, y_ft: 32 });
});

test("trade A3: a tie moved with its things is not moved twice; one at a corner that others keep stays", () => {
  const p = tied();
  const both = moveThings(p, ["areas/a1", "ties/i1"], [5, 5]);
  assert.equal(withTiesFollowing(p, both), both);
  const shared = put(p, "trees", "t2", { name: "Post", x_ft: 60, y_ft: 40, trunk_in: 1 });
  const moved = moveCorner(shared, "areas/a1", 0, 2, [61, 42]);
  assert.equal(withTiesFollowing(shared, moved), moved);
  assert.equal(withTiesFollowing(yard(), yard()).ties, undefined);
  const added = put(p, "areas", "a9", {
    name: "Bed",
    kind: "planting",
    outline: [
      [1, 1],
      [2, 1],
      [2, 2],
    ],
  });
  assert.equal(withTiesFollowing(p, added), added);
});

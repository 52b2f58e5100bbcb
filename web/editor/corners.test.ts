import assert from "node:assert/strict";
import { test } from "node:test";
import { parseCorners, unbowed } from "./corners";

test("corners of a pipe are not bowed, but for one that was", () => {
  const typed = parseCorners("1, 2\n3, 4, 0.5\n5, 6", "us", 2);
  assert.ok(typed.ok);
  const why = unbowed(typed.value, []);
  assert.ok(!why.ok && /Corner 2 has a third number/.test(why.sentence));
  assert.deepEqual(unbowed(typed.value, typed.value), typed);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { movedMark, zoneShape } from "./marks";

test("row A22: a round mark stays about its middle, small or large", () => {
  const round = zoneShape(0);
  assert.equal(round.name, "circle");
  for (let k = 0.45; k <= 1; k += 0.0137) {
    const d = movedMark(round.d, 335.817, 453.337, k);
    const numbers = [...d.matchAll(/[\d.]+/g)].map(Number);
    const [x0 = 0, , radius = 0, , , , , x1 = 0] = numbers;
    const half = Math.abs(x1 - x0) / 2;
    assert.ok(half > 4, `at ${k} times its size it is ${2 * half} pixels across`);
    // A half circle is drawn about the middle only as far as its radius is half of what it spans.
    const off = Math.sqrt(Math.max(0, radius ** 2 - half ** 2));
    assert.ok(off < 0.05, `at ${k} times its size each half stands ${off} pixels off`);
  }
});

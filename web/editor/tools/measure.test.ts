import assert from "node:assert/strict";
import { test } from "node:test";
import { empty, Hand, yard } from "../testplan";
import { measuredText } from "./measure";

const texts = (h: Hand): string[] => (h.sketch.labels ?? []).map((l) => l.text);

test("row A6: a 3-4-5 triangle measures 3, 4, 5, area 6, perimeter 12 and leaves nothing on the plan", () => {
  const plan = yard();
  const h = new Hand("measure", plan);
  h.click([100, 100]).click([103, 100]);
  assert.match(h.sketch.news ?? "", /^Length 3' 0"\.$/);
  h.click([103, 104]);
  assert.match(h.sketch.news ?? "", /^Side 4' 0", total 7' 0"; closed: perimeter 12' 0", area 6\.0 ft²\.$/);
  assert.ok(
    texts(h).some((t) => t.startsWith(`5' 0"`)),
    "the side back to the start is shown too",
  );
  h.click([100, 100]); // the first corner closes it
  assert.match(h.said.at(-1) ?? "", /^Measured\. Closed: perimeter 12' 0", area 6\.0 ft²\.$/);
  assert.deepEqual(texts(h), [`3' 0"`, `4' 0"`, `5' 0"`, "Area 6.0 ft²"]);
  assert.equal(
    h.tool.text(h.around),
    `Sides: 3' 0"; 4' 0"; 5' 0"\nTotal: 12' 0"\nPerimeter, closed: 12' 0"\nArea: 6.0 ft²`,
  );
  assert.equal(h.steps.length, 0);
  assert.equal(h.plan, plan);
});

test("row A6: by keyboard alone: crosshair, typed lengths, Enter; Backspace takes a corner, Enter again clears", () => {
  const h = new Hand("measure", empty());
  h.place([0, 0]);
  assert.equal(h.write("3<0"), null);
  assert.equal(h.write("4<90"), null);
  h.place([3, 4]); // Enter at the last corner: done
  assert.match(
    h.said.at(-1) ?? "",
    /^Measured\. Side 4' 0", total 7' 0"; closed: perimeter 12' 0", area 6\.0 ft²/,
  );
  h.do("back");
  h.do("back");
  assert.match(h.sketch.news ?? "", /^Length 3' 0"/);
  h.do("finish");
  h.do("finish");
  assert.equal(h.tool.busy, false);
  assert.equal(h.steps.length, 0);
  h.do("finish");
  assert.equal(h.left, true);
});

test("row A6: the next click after an end measures anew; a double click ends", () => {
  const h = new Hand("measure", empty());
  h.click([0, 0]).click([10, 0]).click([10, 0], 2);
  assert.match(h.said.at(-1) ?? "", /^Measured\. Length 10' 0"/);
  h.click([50, 50]);
  assert.deepEqual(h.tool.own(), [[50, 50]]);
});

test("row A6: it snaps to corners, and what crosses itself has no area", () => {
  const h = new Hand("measure", yard());
  h.click([0.3, 0.2]).click([59.8, 0.1]);
  assert.deepEqual(h.tool.own(), [
    [0, 0],
    [60, 0],
  ]);
  const x = new Hand("measure", empty());
  x.click([0, 0]).click([10, 10]).click([10, 0]).click([0, 10]);
  assert.match(x.sketch.news ?? "", /it crosses itself/);
  assert.doesNotMatch(x.tool.text(x.around) ?? "", /Area/);
});

test("row A6: metric plans measure in metres, one corner is no text", () => {
  const s = { corners: [], pointer: null, done: false, closed: false, typedPlace: false };
  assert.equal(measuredText(s, "us"), null);
  const m = 1 / 0.3048;
  const corners = [
    [0, 0],
    [3 * m, 0],
    [3 * m, 4 * m],
  ] as const;
  assert.match(
    measuredText({ ...s, corners }, "metric") ?? "",
    /Sides: 3\.00 m; 4\.00 m\nTotal: 7\.00 m\n.*12\.00 m\nArea: 6\.0 m²/,
  );
});

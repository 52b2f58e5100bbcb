import assert from "node:assert/strict";
import { test } from "node:test";
import { directionDeg, distance, type Point } from "../geometry";
import type { Area, Plan } from "../model";
import { areaOf, faultOf } from "../shape";
import { empty, Hand, yard } from "../testplan";

const areas = (p: Plan): Area[] => Object.values(p.areas ?? {});
const newest = (h: Hand): Area => areas(h.steps.at(-1)?.plan ?? h.plan).at(-1) as Area;

const square: Point[] = [
  [100, 0],
  [120, 0],
  [120, 15],
  [100, 15],
];

test("rowA1: clicking corners and then the first one closes an outline in one step", () => {
  const h = new Hand("outline", empty());
  for (const p of square) h.click(p);
  assert.equal(h.steps.length, 0, "nothing is stored while drawing");
  h.click([100.3, 0.2]);
  assert.equal(h.steps.length, 1);
  assert.deepEqual(newest(h).outline, square);
  assert.equal(newest(h).kind, "planting");
  assert.equal(h.steps[0]?.label, "Draw Planting 1");
});

test("rowA1: Enter and a double click close too", () => {
  const enter = new Hand("outline", empty());
  for (const p of square) enter.click(p);
  assert.equal(enter.do("finish"), true);
  assert.deepEqual(newest(enter).outline, square);

  const twice = new Hand("outline", empty());
  for (const p of square) twice.click(p);
  twice.click([100, 15], 2);
  assert.deepEqual(newest(twice).outline, square, "the second click adds no corner");
});

test("rowA1: two corners are not yet an outline, and it says how many more", () => {
  const h = new Hand("outline", empty());
  h.click([0, 0]).click([10, 0]);
  h.do("finish");
  assert.equal(h.steps.length, 0);
  assert.match(h.said.at(-1) ?? "", /needs 3 corners\. Add one more/);
});

test("rowA2: a typed length goes exactly that far the way the pointer aims", () => {
  const h = new Hand("outline", empty());
  h.click([0, 0]).hover([8, 6]);
  h.type({ length: 12.5 });
  const [a, b] = h.tool.own() as [Point, Point];
  assert.ok(Math.abs(distance(a, b) - 12.5) < 1e-12);
  assert.ok(Math.abs(directionDeg(a, b) - directionDeg([0, 0], [8, 6])) < 1e-9);
});

test("rowA2: length and angle, an angle alone, a place", () => {
  const h = new Hand("outline", empty());
  h.type({}, [10, 10]);
  h.type({ length: 30, angle: 90 });
  h.hover([30, 40]).type({ angle: 0 });
  h.type({}, [30, 10]);
  assert.deepEqual(h.tool.own(), [
    [10, 10],
    [10, 40],
    [30, 40],
    [30, 10],
  ]);
  h.do("finish");
  assert.equal(areaOf(newest(h).outline), 600);
});

test("rowA8: while drawing, undo takes one corner at a time, then leaves the tool, and touches no step", () => {
  const h = new Hand("outline", yard());
  for (const p of square.slice(0, 3)) h.click(p);
  h.do("back");
  assert.deepEqual(h.tool.own(), square.slice(0, 2));
  h.do("back");
  h.do("back");
  assert.deepEqual(h.tool.own(), []);
  assert.equal(h.tool.busy, true);
  h.do("back");
  assert.equal(h.left, true);
  assert.equal(h.steps.length, 0);
});

test("rowA1: Escape leaves the plan as it was, and undo takes the draft up again", () => {
  const before = JSON.stringify(yard());
  const h = new Hand("outline", yard());
  for (const p of square) h.click(p);
  h.do("escape");
  assert.equal(JSON.stringify(h.plan), before);
  assert.deepEqual(h.tool.own(), []);
  h.do("back");
  assert.deepEqual(h.tool.own(), square);
});

test("rowA29: an outline that crosses itself is red as it crosses, is kept, and can be mended", () => {
  const h = new Hand("outline", empty());
  h.click([0, 0]).click([10, 10]).click([10, 0]);
  h.hover([0, 10]);
  assert.equal(h.sketch.faulty, true);
  assert.match(h.sketch.problem ?? "", /crosses itself at 5' 0", 5' 0"/);
  assert.ok(
    h.sketch.labels?.some((l) => l.text === "Area –"),
    "no area is claimed for it",
  );
  h.click([0, 10]);
  h.do("finish");
  assert.equal(h.steps.length, 0, "it is not stored");
  assert.equal(h.tool.own().length, 4, "but it is kept");
  h.fix("Uncross the edges");
  assert.equal(h.steps.length, 1);
  assert.equal(faultOf(newest(h).outline), null);
});

test("rowA29: taking out the last corner is offered too", () => {
  const h = new Hand("outline", empty());
  for (const p of [
    [0, 0],
    [20, 0],
    [20, 10],
    [0, 10],
    [10, -5],
  ] as Point[])
    h.click(p);
  h.do("finish");
  h.fix("Take out the last corner");
  assert.deepEqual(newest(h).outline, [
    [0, 0],
    [20, 0],
    [20, 10],
    [0, 10],
  ]);
});

test("live numbers stand on each edge and on the area", () => {
  const h = new Hand("outline", empty());
  h.click([0, 0]).click([30, 0]).click([30, 20]).hover([0, 20]);
  const texts = (h.sketch.labels ?? []).map((l) => l.text);
  assert.deepEqual(texts, [`30' 0"`, `20' 0"`, `30' 0" < 180°`, "Area 600 ft²"]);
});

test("a hole is cut out of the area around it, and refused outside of any", () => {
  const h = new Hand("outline", yard());
  h.kit = { ...h.kit, asHole: true };
  for (const p of [
    [5, 25],
    [10, 25],
    [10, 30],
    [5, 30],
  ] as Point[])
    h.click(p);
  h.do("finish");
  assert.equal(h.steps[0]?.label, "Cut a hole in Lawn");
  assert.deepEqual(h.plan.areas?.a1?.holes, [
    [
      [5, 25],
      [10, 25],
      [10, 30],
      [5, 30],
    ],
  ]);

  const out = new Hand("rectangle", yard());
  out.kit = { ...out.kit, asHole: true };
  out.click([200, 200]).click([210, 210]);
  assert.equal(out.steps.length, 0);
  assert.match(out.said.at(-1) ?? "", /wholly inside one area/);
});

test("a rectangle by two clicks, by a drag, by typed width and depth", () => {
  const clicks = new Hand("rectangle", empty());
  clicks.click([10, 20]).hover([30, 25]).click([40, 45]);
  assert.deepEqual(newest(clicks).outline, [
    [10, 20],
    [40, 20],
    [40, 45],
    [10, 45],
  ]);

  const drag = new Hand("rectangle", empty());
  drag.pull([40, 45], [10, 20]);
  assert.deepEqual(newest(drag).outline, [
    [10, 20],
    [40, 20],
    [40, 45],
    [10, 45],
  ]);

  const typed = new Hand("rectangle", empty());
  typed.click([0, 0]).hover([-5, -5]).type({ width: 30, depth: 20 });
  assert.deepEqual(newest(typed).outline, [
    [-30, -20],
    [0, -20],
    [0, 0],
    [-30, 0],
  ]);
});

test("a rectangle without width is refused and the first corner kept", () => {
  const h = new Hand("rectangle", empty());
  h.click([10, 20]).click([10, 40]);
  assert.equal(h.steps.length, 0);
  assert.match(h.said.at(-1) ?? "", /width and depth/);
  h.click([12, 40]);
  assert.equal(h.steps.length, 1);
});

test("a circle by its radius and an oval by two", () => {
  const h = new Hand("round", empty());
  h.click([26, 24]).hover([30, 24]).click([34, 24]);
  assert.ok(Math.abs(areaOf(newest(h).outline) - Math.PI * 64) < 1e-9);
  h.click([70, 70]).type({ radius: 8, second: 5.5 });
  assert.ok(Math.abs(areaOf(newest(h).outline) - Math.PI * 44) < 0.02);
  assert.equal(faultOf(newest(h).outline), null);
});

test("walls, trees, keep-dry points and notes", () => {
  const wall = new Hand("barrier", empty());
  wall.click([0, 44]).click([60, 44]).click([60, 0]);
  wall.do("finish");
  const b = Object.values(wall.plan.barriers ?? {})[0];
  assert.deepEqual(b?.line, [
    [0, 44],
    [60, 44],
    [60, 0],
  ]);
  assert.equal(b?.height_ft, 6);

  const tree = new Hand("tree", empty()).click([32, 36]);
  assert.equal(Object.values(tree.plan.trees ?? {})[0]?.x_ft, 32);
  const dry = new Hand("keepdry", empty());
  dry.type({}, [113, 61]);
  assert.equal(Object.values(dry.plan.keep_dry ?? {})[0]?.y_ft, 61);

  const note = new Hand("note", empty()).click([3, 4]);
  assert.equal(note.steps.length, 0, "no note without words");
  note.words("Gas meter here");
  assert.equal(Object.values(note.plan.notes ?? {})[0]?.text, "Gas meter here");
});

test("rowA20: corners set by the crosshair, and Enter on the last one closes", () => {
  const h = new Hand("outline", empty());
  for (const p of square) h.place(p);
  h.place([100, 15]);
  assert.deepEqual(newest(h).outline, square);
  assert.match(h.said[0] ?? "", /^Corner 1 at 100' 0", 0"/);
});

test("rowA13: a stroke taken away leaves no ghost and no step", () => {
  const h = new Hand("rectangle", yard());
  h.press([80, 80]).drag([90, 90]);
  h.do("abort");
  assert.deepEqual(h.sketch, {});
  const s = new Hand("select", yard());
  s.press([40, 12]).drag([45, 15]);
  assert.ok(s.preview);
  s.do("abort");
  assert.equal(s.preview, null);
  assert.equal(s.steps.length, 0);
});

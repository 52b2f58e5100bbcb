import assert from "node:assert/strict";
import { test } from "node:test";
import { edgeMiddle } from "../arcs";
import type { Point } from "../geometry";
import type { Plan } from "../model";
import { Hand, yard } from "../testplan";
import { boxed, thingAt } from "../things";

const head = (p: Plan, id = "h2") => p.heads?.[id];

test("rowA9: a click selects, Shift adds and takes away, empty ground clears", () => {
  const h = new Hand("select", yard());
  h.click([40, 12]);
  assert.deepEqual([...h.selection], ["heads/h2"]);
  h.keys = { shift: true, alt: false, ctrl: false };
  h.click([50, 30]);
  assert.deepEqual([...h.selection], ["heads/h2", "trees/t1"]);
  h.click([40, 12]);
  assert.deepEqual([...h.selection], ["trees/t1"]);
  h.keys = { shift: false, alt: false, ctrl: false };
  h.click([200, 200]);
  assert.equal(h.selection.size, 0);
});

test("rowA9: a box from the left takes what is inside, from the right what it crosses", () => {
  const p = yard();
  assert.deepEqual(boxed(p, [15, 10], [42, 30]), ["areas/a2", "heads/h2"]);
  assert.deepEqual(boxed(p, [42, 30], [15, 10]), ["areas/a2", "heads/h2"], "no edge of the lawn is crossed");
  assert.deepEqual(boxed(p, [25, 5], [70, 22]), ["heads/h2"]);
  assert.deepEqual(boxed(p, [70, 22], [25, 5]), ["areas/a1", "areas/a2", "heads/h2"]);
  assert.deepEqual(boxed(p, [10, 46], [5, 42]), ["barriers/b1"]);
});

test("rowA9: a box leaves locked things alone", () => {
  const p = yard();
  const locked: Plan = { ...p, heads: { ...p.heads, h2: { ...p.heads?.h2, locked: true } as never } };
  assert.deepEqual(boxed(locked, [35, 5], [45, 15]), []);
});

test("rowA9: a drag that begins on ground not selected draws a box and moves nothing", () => {
  const h = new Hand("select", yard());
  h.press([35, 5]).drag([45, 20]);
  assert.deepEqual(h.sketch.box, { from: [35, 5], to: [45, 20] });
  h.release([45, 20]);
  assert.equal(h.steps.length, 0);
  assert.deepEqual([...h.selection], ["heads/h2"]);
});

test("heads are found before lines, lines before areas, small areas before large", () => {
  const p = yard();
  assert.equal(thingAt(p, [40.3, 12.2], 0.8), "heads/h2");
  assert.equal(thingAt(p, [30, 44.3], 0.8), "barriers/b1");
  assert.equal(thingAt(p, [25, 24], 0.8), "areas/a2");
  assert.equal(thingAt(p, [5, 30], 0.8), "areas/a1");
  assert.equal(thingAt(p, [5, 60], 0.8), null);
});

test("a dragged head is one step, with previews on the way", () => {
  const h = new Hand("select", yard());
  h.press([40.2, 12.1]).drag([44, 15]);
  assert.ok(h.preview, "the map follows the hand");
  assert.equal(h.steps.length, 0);
  h.drag([50.2, 20.1]).release([50.2, 20.1]);
  assert.equal(h.steps.length, 1);
  assert.equal(h.steps[0]?.label, "Move head 1-2");
  const at = head(h.plan);
  assert.ok(
    Math.abs((at?.x_ft ?? 0) - 50) < 1e-3 && Math.abs((at?.y_ft ?? 0) - 20) < 1e-3,
    "the grasp is kept",
  );
});

test("a dragged head snaps to a corner exactly", () => {
  const h = new Hand("select", yard());
  h.pull([40.2, 12.1], [60.4, 0.3]);
  assert.deepEqual([head(h.plan)?.x_ft, head(h.plan)?.y_ft], [60, 0]);
});

test("Escape in the middle of a drag puts everything back", () => {
  const h = new Hand("select", yard());
  h.press([40, 12]).drag([50, 20]);
  h.do("escape");
  assert.equal(h.preview, null);
  h.release([50, 20]);
  assert.equal(h.steps.length, 0);
});

test("rowA9: several things move as one step and locked ones stay", () => {
  const p = yard();
  const h = new Hand("select", {
    ...p,
    heads: { ...p.heads, h1: { ...p.heads?.h1, locked: true } as never },
  });
  h.selection = new Set(["heads/h1", "heads/h2", "trees/t1"]);
  h.pull([40, 12], [43, 16]);
  assert.equal(h.steps.length, 1);
  assert.deepEqual([head(h.plan)?.x_ft, head(h.plan)?.y_ft], [43, 16]);
  assert.equal(h.plan.trees?.t1?.x_ft, 53);
  assert.equal(head(h.plan, "h1")?.x_ft, 1);
});

test("rowA2: a typed length and angle move the selection exactly", () => {
  const h = new Hand("select", yard());
  h.selection = new Set(["heads/h2"]);
  h.type({ length: 12, angle: 180 });
  assert.deepEqual([head(h.plan)?.x_ft, head(h.plan)?.y_ft], [28, 12]);
});

test("a corner is moved by its handle, an edge by its line, square to itself", () => {
  const h = new Hand("select", yard());
  h.selection = new Set(["areas/a2"]);
  h.pull([30, 28], [33, 31]);
  assert.deepEqual(h.plan.areas?.a2?.outline, [
    [20, 20],
    [30, 20],
    [33, 31],
    [20, 28],
  ]);
  h.pull([27.5, 20], [29, 17]);
  assert.deepEqual(h.plan.areas?.a2?.outline[0], [20, 17]);
  assert.deepEqual(h.plan.areas?.a2?.outline[1], [30, 17]);
  assert.equal(h.steps.length, 2);
});

test("rowA1: the middle handle makes a corner; with Alt it bows the edge, and an arc is pulled as an arc", () => {
  const h = new Hand("select", yard());
  h.selection = new Set(["areas/a2"]);
  h.pull([25, 20], [25, 18]);
  assert.deepEqual(h.plan.areas?.a2?.outline.slice(0, 3), [
    [20, 20],
    [25, 18],
    [30, 20],
  ]);

  const bow = new Hand("select", yard());
  bow.selection = new Set(["areas/a2"]);
  bow.press([25, 20]);
  bow.keys = { shift: false, alt: true, ctrl: false };
  bow.drag([25, 18]).release([25, 18]);
  const [a, b] = bow.plan.areas?.a2?.outline ?? [];
  assert.equal(bow.plan.areas?.a2?.outline.length, 4);
  assert.equal(a?.[2], 0.4, "2 ft of rise over half of 10 ft");
  assert.deepEqual(b, [30, 20]);

  bow.keys = { shift: false, alt: false, ctrl: false };
  const mid = edgeMiddle([20, 20], [30, 20], 0.4);
  bow.pull(mid as Point, [25, 17]);
  assert.ok(Math.abs((bow.plan.areas?.a2?.outline[0]?.[2] ?? 0) - 0.6) < 1e-9);
});

test("rowA29: a corner dragged across its own outline is not kept until it is mended", () => {
  const h = new Hand("select", yard());
  h.selection = new Set(["areas/a2"]);
  h.press([20, 20]).drag([35, 24]);
  assert.equal(h.sketch.faulty, true);
  h.release([35, 24]);
  assert.equal(h.steps.length, 0);
  assert.match(h.said.at(-1) ?? "", /Not kept yet\. The outline crosses itself/);
  assert.ok(h.sketch.plan, "the draft is still shown");
  h.do("escape");
  assert.equal(h.sketch.plan, undefined);

  h.pull([20, 20], [35, 24]);
  h.fix("Take out corner 1");
  assert.equal(h.steps.length, 1);
  assert.deepEqual(h.plan.areas?.a2?.outline, [
    [30, 20],
    [30, 28],
    [20, 28],
  ]);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Plan } from "../model";
import { Hand, yard } from "../testplan";

test("an area is split by two clicks, by a drag, or by what is typed", () => {
  const plain = (): Plan => ({ ...yard(), areas: { a1: yard().areas?.a1 as never } });
  const begin = () => {
    const hand = new Hand("split", plain());
    hand.selection = new Set(["areas/a1"]);
    return hand;
  };
  const clicked = begin().click([20, 0]).click([20, 40]);
  assert.equal(clicked.steps[0]?.label, "Split Lawn");
  assert.equal(clicked.selection.size, 2);
  assert.ok(clicked.left, "back to Select");
  const dragged = begin().pull([20, -2], [20, 45]);
  const typed = begin().type({}, [20, -2]).type({ length: 50, angle: 90 });
  for (const hand of [clicked, dragged, typed]) {
    const outlines = Object.values(hand.plan.areas ?? {}).map((a) => a.outline.length);
    assert.deepEqual(outlines, [4, 4]);
  }
});

test("a line that does not cross is told and can be begun again", () => {
  const hand = new Hand("split", yard());
  hand.selection = new Set(["areas/a1"]);
  hand.click([20, 10]).click([25, 12]);
  assert.match(hand.said.at(-1) ?? "", /must run right across/);
  assert.equal(hand.steps.length, 0);
  assert.ok(!hand.tool.busy);
  hand.selection = new Set(["heads/h1"]);
  hand.click([20, 10]);
  assert.match(hand.said.at(-1) ?? "", /Select one area or wall/);
});

test("a wall is split at the corner nearest the click", () => {
  const p = yard();
  const line: [number, number][] = [
    [0, 44],
    [30, 44],
    [60, 50],
  ];
  const hand = new Hand("split", { ...p, barriers: { b1: { ...p.barriers?.b1, line } as never } });
  hand.selection = new Set(["barriers/b1"]);
  hand.click([31, 44.5]);
  assert.deepEqual(hand.plan.barriers?.b1?.line, line.slice(1));
  assert.equal(Object.keys(hand.plan.barriers ?? {}).length, 2);
});

test("a line begun at the end of a wall like it goes on from it, in one step", () => {
  const hand = new Hand("barrier", yard());
  hand.click([60, 44]);
  assert.match(hand.said.at(-1) ?? "", /Goes on from Fence 1/);
  hand.click([70, 44]).click([70, 60]).do("finish");
  assert.deepEqual(hand.plan.barriers?.b1?.line, [
    [0, 44],
    [60, 44],
    [70, 44],
    [70, 60],
  ]);
  assert.equal(Object.keys(hand.plan.barriers ?? {}).length, 1);
  assert.deepEqual(
    hand.steps.map((s) => s.label),
    ["Continue Fence 1"],
  );
  hand.click([0, 44]).click([0, 60]).do("finish");
  assert.deepEqual(hand.plan.barriers?.b1?.line[0], [0, 60], "from its beginning too");
});

test("a line of another kind or height, or one that would cross the wall, does not", () => {
  const hand = new Hand("barrier", yard());
  hand.kit = { ...hand.kit, barrierKind: "wall" };
  hand.click([60, 44]).click([60, 60]).do("finish");
  assert.equal(Object.keys(hand.plan.barriers ?? {}).length, 2);
  const back = new Hand("barrier", yard());
  back.click([60, 44]).click([60, 60]).click([30, 60]).click([30, 30]).do("finish");
  assert.match(back.said.at(-1) ?? "", /crosses itself/);
  back.do("back");
  back.do("back");
  back.do("back");
  back.do("back");
  assert.ok(back.tool.busy, "begun");
  back.click([5, 60]).click([9, 60]).do("finish");
  assert.equal(Object.keys(back.plan.barriers ?? {}).length, 2, "begun elsewhere, it is a new one");
});

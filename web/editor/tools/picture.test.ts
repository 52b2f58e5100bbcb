// The tool that points at two places on the picture under the plan.

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Point } from "../geometry";
import type { Plan, Underlay } from "../model";
import { isSized, onPlan } from "../picture";
import { catalog, empty, kit as usual } from "../testplan";
import { pictureTool } from "./picture";
import { type Aim, type Kit, run, type ToolEvent } from "./tool";

const underlay: Underlay = {
  sha256: "a".repeat(64),
  width_px: 2000,
  height_px: 1500,
  ft_per_px: 0.1,
  x_ft: -10,
  y_ft: 5,
  rotate_deg: 30,
};

function place(x_px: number, y_px: number): Point {
  assert.ok(isSized(underlay));
  return onPlan(underlay, { x_px, y_px });
}

const aimAt = (at: Point): Aim => ({
  at,
  raw: at,
  snap: null,
  held: null,
  shift: false,
  alt: false,
  ctrl: false,
  reach: 0.8,
});

/** A tool in hand on a plan with the picture, and what it made. */
function inHand(kit: Partial<Kit> = {}, u: Underlay | null = underlay) {
  let plan: Plan = u ? { ...empty(), underlay: u } : empty();
  const tool = run(pictureTool);
  const a = () => ({ plan, selection: new Set<never>(), kit: { ...usual, ...kit }, catalog, design: null });
  const tell = (e: ToolEvent) => {
    const told = tool.step(e, a());
    if (told.commit) plan = told.commit.plan;
    return told;
  };
  const click = (at: Point, clicks = 1) => {
    tell({ type: "press", aim: aimAt(at) });
    return tell({ type: "release", aim: aimAt(at), moved: false, clicks });
  };
  const type = (ft: number) =>
    tell({ type: "typed", entry: { values: { measured: ft } }, aim: aimAt([0, 0]) });
  return { tool, tell, click, type, around: a, plan: () => plan };
}

test("row A7: two places and a distance scale the picture, and the check is asked for next", () => {
  const t = inHand();
  t.click(place(300, 700));
  assert.equal(t.tool.busy, true);
  assert.match(t.tool.hint(t.around()), /other end/);
  assert.deepEqual(t.tool.fields(t.around()), ["place"]);
  t.click(place(700, 700));
  assert.deepEqual(t.tool.fields(t.around()), ["measured"], "the distance is awaited");
  const done = t.type(32);
  assert.match(done.commit?.label ?? "", /^Scale the picture by 32' 0"$/);
  assert.deepEqual(done.commit?.kit, { pictureDo: "check" });
  const u = t.plan().underlay as Underlay;
  assert.ok(Math.abs(u.ft_per_px - 0.08) < 1e-12 && u.locked);
  assert.deepEqual(u.scaled_by, {
    from: { x_px: 300, y_px: 700 },
    to: { x_px: 700, y_px: 700 },
    distance_ft: 32,
  });
});

test("row A7: a double-click and the same place give no second end; nor does a place beside the picture", () => {
  const t = inHand();
  assert.match(t.click([-500, 0]).say ?? "", /beside the picture/);
  assert.equal(t.tool.busy, false);
  t.click(place(300, 700));
  const again = t.click(place(300, 700), 2);
  assert.match(again.say ?? "", /same place/);
  assert.deepEqual(t.tool.fields(t.around()), ["place"], "the second end is still wanted");
  assert.match(t.click([900, 900]).say ?? "", /beside the picture/);
  t.click(place(700, 700));
  assert.deepEqual(t.tool.fields(t.around()), ["measured"]);
});

test("row A7: a distance no property has is refused in the box, and both places stay", () => {
  const t = inHand();
  t.click(place(300, 700));
  t.click(place(700, 700));
  for (const ft of [0.01, 32_000]) {
    const told = t.type(ft);
    assert.match(told.refused ?? "", /Check the number and its unit/);
    assert.equal(told.commit, undefined);
    assert.deepEqual(t.tool.fields(t.around()), ["measured"]);
  }
  assert.ok(t.type(20).commit);
});

test("row A7: a line drawn in one stroke is both places", () => {
  const t = inHand();
  t.tell({ type: "press", aim: aimAt(place(300, 700)) });
  t.tell({ type: "drag", aim: aimAt(place(500, 700)) });
  t.tell({ type: "release", aim: aimAt(place(700, 700)), moved: true, clicks: 1 });
  assert.deepEqual(t.tool.fields(t.around()), ["measured"]);
  assert.ok(t.type(40).commit);
});

test("row A7: places are taken back one by one, then the tool is put down", () => {
  const t = inHand();
  t.click(place(300, 700));
  t.click(place(700, 700));
  t.tell({ type: "back" });
  assert.deepEqual(t.tool.fields(t.around()), ["place"]);
  t.tell({ type: "escape" });
  assert.equal(t.tool.busy, false);
  assert.equal(t.tell({ type: "escape" }).leave, true);
  // A second finger drops the stroke, not the places.
  t.click(place(300, 700));
  t.tell({ type: "press", aim: aimAt(place(700, 700)) });
  t.tell({ type: "abort" });
  assert.equal(t.tool.busy, true);
});

test("row A7: checking moves nothing and says what is off; levelling takes no number", () => {
  const scaled: Underlay = {
    ...underlay,
    scaled_by: { from: { x_px: 0, y_px: 0 }, to: { x_px: 400, y_px: 0 }, distance_ft: 40 },
  };
  const c = inHand({ pictureDo: "check" }, scaled);
  c.click(place(300, 200));
  c.click(place(300, 1200));
  const done = c.type(97);
  assert.match(done.say ?? "", /3\.1 % too long/);
  assert.equal(done.leave, true);
  assert.deepEqual({ ...c.plan().underlay, checked_by: undefined }, { ...scaled, checked_by: undefined });

  const l = inHand({ pictureDo: "level" });
  l.click(place(300, 700));
  const levelled = l.click(place(700, 700));
  assert.equal(levelled.commit?.label, "Level the picture");
  assert.equal(l.plan().underlay?.rotate_deg, undefined, "turned back by its 30 degrees");
});

test("row A7: the keyboard's crosshair and typed places do the same", () => {
  const t = inHand();
  t.tell({ type: "place", aim: aimAt(place(300, 700)) });
  t.tell({ type: "typed", entry: { values: {}, place: place(700, 700) }, aim: aimAt([0, 0]) });
  assert.ok(t.type(40).commit);
});

test("row A7: nothing of the drawing pulls at a place on the picture, and without a picture it is said where to get one", () => {
  const t = inHand();
  assert.equal(t.tool.aims(), false);
  const none = inHand({}, null);
  assert.match(none.click([0, 0]).say ?? "", /Choose one under Layers/);
  assert.match(none.tool.hint(none.around()), /Choose one under Layers/);
});

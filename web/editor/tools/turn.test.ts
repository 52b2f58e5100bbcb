import assert from "node:assert/strict";
import { test } from "node:test";
import { find } from "../model";
import { catalog, kit, yard } from "../testplan";
import type { Aim, Around } from "./tool";
import { turnTool } from "./turn";

const around: Around = {
  plan: yard(),
  selection: new Set(["heads/h1"]),
  kit: { ...kit, keep: false },
  catalog,
  design: null,
};
const aim = (at: [number, number]): Aim => ({
  at,
  raw: at,
  snap: null,
  held: null,
  reach: 0.5,
  shift: false,
  alt: false,
  ctrl: false,
});

test("row A10: a turn that is typed and shown is a draft: undone, pressed over or turned about another centre", () => {
  const typed = turnTool.step(turnTool.start(), { type: "turn", deg: 90 }, around);
  assert.ok(typed.preview);
  assert.ok(turnTool.busy(typed.state), "Undo speaks to it, not to the last step");
  const back = turnTool.step(typed.state, { type: "back" }, around);
  assert.equal(back.preview, null);
  assert.equal(back.leave, undefined);
  assert.equal(turnTool.step(typed.state, { type: "press", aim: aim([5, 5]) }, around).preview, null);
  const about = turnTool.step(typed.state, { type: "begin", at: [0, 0] }, around);
  const done = turnTool.step(about.state, { type: "finish" }, around);
  for (const plan of [about.preview, done.commit?.plan]) {
    const { x_ft = 0, y_ft = 0 } = (plan && find(plan, "heads", "h1")) ?? {};
    assert.ok(Math.hypot(x_ft + 1, y_ft - 1) < 1e-9, "h1 at 1, 1 is turned about 0, 0 to -1, 1");
  }
});

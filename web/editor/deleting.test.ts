import assert from "node:assert/strict";
import { test } from "node:test";
import { deletion } from "./deleting";
import { setLocked } from "./edit";
import { Layers } from "./layers";
import type { Ref } from "./model";
import { pipesAt } from "./pipenet";
import { nodeOfKind, piped } from "./testpipes";
import { Hand } from "./testplan";

/** With a branch of one pipe begun on the pipe between the heads. */
function branched() {
  const hand = new Hand("pipe", piped());
  hand.click([25, 9]).click([25, 14]);
  hand.do("finish");
  return hand.plan;
}

test("what stays of a deletion is said: the locked, and joints that pipes need", () => {
  const p = setLocked(branched(), ["heads/h1"], true);
  const tee: Ref = `nodes/${nodeOfKind(p, "joint", { y_ft: 9 })}`;
  const made = deletion(p, ["heads/h1", "heads/h2"], new Layers());
  assert.ok("plan" in made);
  assert.equal(made.plan.heads?.h2, undefined);
  assert.match(made.says, /^Head 1-2 deleted. Undo brings it back. 1 locked thing left alone.$/);
  const [area] = Object.keys(p.areas ?? {});
  const some = deletion(p, [tee, `areas/${area}`], new Layers());
  assert.ok("plan" in some && /Undo brings it back. 1 joint left where more pipes meet.$/.test(some.says));
  const locked = deletion(p, ["heads/h1"], new Layers());
  assert.ok("why" in locked && /locked/.test(locked.why), "nothing goes: why is said");
  const needed = deletion(p, [tee], new Layers());
  assert.ok("why" in needed && /3 pipes meet/.test(needed.why));
  const pipe: Ref = `pipes/${pipesAt(p, nodeOfKind(p, "joint", { y_ft: 14 }))[0]}`;
  const branch = deletion(p, [pipe, tee], new Layers());
  assert.ok("plan" in branch && !/left/.test(branch.says), "with its branch the joint goes");
});

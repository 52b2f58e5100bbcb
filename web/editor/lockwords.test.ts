import assert from "node:assert/strict";
import { test } from "node:test";
import { grownLocked, Layers } from "./layers";
import { canLock, whyLocked } from "./lockwords";
import type { Area } from "./model";
import { Hand, yard } from "./testplan";

test("row A15: what cannot be moved says whether it or its layer is locked", () => {
  const p = yard();
  const locked = { ...p, areas: { ...p.areas, a1: { ...(p.areas?.a1 as Area), locked: true } } };
  const layers = new Layers();
  assert.equal(whyLocked(locked, ["areas/a1"], layers), "Lawn is locked. Unlock it first.");
  assert.equal(canLock(p, ["areas/a1"], layers), true);
  layers.lock("ground", true);
  const why = "Lawn lies on the layer Ground, which is locked. Unlock it under Layers.";
  assert.equal(whyLocked(p, ["areas/a1"], layers), why);
  assert.equal(canLock(p, ["areas/a1"], layers), why);
  assert.equal(canLock(locked, ["areas/a1"], layers), true, "its own lock can be taken off");
  assert.match(
    whyLocked(locked, ["areas/a1", "heads/h1"], layers),
    /^2 things are locked, or on a locked layer/,
  );
});

test("row A15: what is drawn onto a locked layer is told", () => {
  const p = yard();
  const layers = new Layers();
  const more = { ...p, areas: { ...p.areas, a9: p.areas?.a1 as Area } };
  assert.deepEqual(grownLocked(p, more, layers), []);
  layers.lock("ground", true);
  assert.deepEqual(grownLocked(p, more, layers), ["ground"]);
  assert.deepEqual(grownLocked(more, p, layers), []);
});

test("an area is drawn as what it usually is: a house stands already, a lawn is new", () => {
  for (const [kind, status] of [
    ["building", "existing"],
    ["paving", "existing"],
    ["right_of_way", "existing"],
    ["no_dig", "existing"],
    ["water", "existing"],
    ["planting", "new"],
  ] as const) {
    const hand = new Hand("rectangle", yard());
    hand.kit = { ...hand.kit, areaKind: kind };
    hand.click([70, 0]).click([80, 10]);
    const drawn = Object.values(hand.plan.areas ?? {}).at(-1);
    assert.deepEqual([drawn?.kind, drawn?.status], [kind, status]);
  }
});

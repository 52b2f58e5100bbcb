import assert from "node:assert/strict";
import { test } from "node:test";
import type { Shelf } from "./aids";
import { allHeads } from "./choosing";
import type { Design } from "./design";
import { FAINTEST, grown, isFree, isTaken, Layers, layerOf, layers } from "./layers";
import type { Plan, Ref } from "./model";
import { sayings } from "./printing";
import { boxed, drawn, thingAt } from "./things";

const plan: Plan = {
  format: "evenfall-plan/1",
  name: "Small",
  show: "us",
  areas: {
    lawn: {
      name: "Lawn",
      kind: "planting",
      outline: [
        [0, 0],
        [40, 0],
        [40, 30],
        [0, 30],
      ],
    },
  },
  heads: {
    one: { nozzle: "n", body: "b", x_ft: 0, y_ft: 0, sweep_deg: 90 },
    two: { nozzle: "n", body: "b", x_ft: 40, y_ft: 0, sweep_deg: 90, locked: true },
  },
  trees: { oak: { name: "Oak", x_ft: 20, y_ft: 15, trunk_in: 10 } },
};

const shelf = (): Shelf & { kept: Map<string, string> } => {
  const kept = new Map<string, string>();
  return { kept, getItem: (k) => kept.get(k) ?? null, setItem: (k, v) => void kept.set(k, v) };
};

test("row A15: every drawn collection lies on one layer that has a name and an eye", () => {
  const names = new Set(layers.map((l) => l.name));
  for (const c of drawn) {
    const layer = layerOf(`${c}/x` as Ref);
    assert.ok(layer && names.has(layer), c);
  }
  assert.equal(layerOf("zones/z1"), null);
});

test("row A15: what is hidden is not pointed at, boxed or swept up", () => {
  const l = new Layers();
  const sees = (r: Ref) => !l.hides(r);
  assert.equal(thingAt(plan, [0, 0], 1, sees), "heads/one");
  l.show("heads", false);
  assert.equal(thingAt(plan, [0.2, 0.2], 1, sees), "areas/lawn");
  const box = boxed(plan, [-5, -5], [50, 50], (r) => isTaken(plan, r, l));
  assert.deepEqual(box, ["areas/lawn", "trees/oak"]);
  assert.deepEqual(allHeads(plan, l), []);
  l.show("heads", true);
  assert.deepEqual(allHeads(plan, l), ["heads/one"]);
});

test("row A15: a locked layer holds its things and says its name", () => {
  const l = new Layers();
  l.lock("walls", true);
  assert.equal(isFree(plan, "trees/oak", l), false);
  assert.equal(l.lockedIn("trees/oak"), "Walls and trees");
  assert.equal(isFree(plan, "heads/one", l), true);
  assert.equal(isFree(plan, "heads/two", l), false); // by itself
  l.lock("names", true); // nothing on it can be moved
  assert.equal(l.isLocked("names"), false);
});

test("row A15: hiding, locking and fading are kept for each plan and come back", () => {
  const s = shelf();
  const l = new Layers();
  l.keepOn(s, "p1");
  l.show("notes", false);
  l.lock("ground", true);
  l.fade("water", 0.4);
  l.fade("heads", 0.4); // does not fade
  const again = new Layers();
  again.keepOn(s, "p1");
  assert.deepEqual(again.hidden, ["notes"]);
  assert.equal(again.isLocked("ground"), true);
  assert.equal(again.strength("water"), 0.4);
  assert.equal(again.strength("heads"), 1);
  const other = new Layers();
  other.keepOn(s, "p2");
  assert.deepEqual(other.hidden, []);
  l.fade("water", 0);
  assert.equal(l.strength("water"), FAINTEST);
});

test("row A15: what was kept and cannot be read counts as not kept", () => {
  for (const text of ["{", "null", "7", '{"hidden":7,"locked":["picture","none"],"strength":{"water":9}}']) {
    const s = shelf();
    s.kept.set("evenfall-layers-p", text);
    const l = new Layers();
    l.keepOn(s, "p");
    assert.deepEqual(l.hidden, [], text);
    assert.equal(l.isLocked("picture"), false);
    assert.equal(l.strength("water"), 1);
  }
});

test("row A15: a hidden layer that got something new is found, others are not", () => {
  const l = new Layers();
  l.show("walls", false);
  l.show("notes", false);
  const more: Plan = {
    ...plan,
    trees: { ...plan.trees, elm: { name: "Elm", x_ft: 1, y_ft: 1, trunk_in: 8 } },
  };
  assert.deepEqual(grown(plan, more, l), ["walls"]);
  assert.deepEqual(grown(more, plan, l), []);
});

test("row A24: the head of a print says when, that it is not to scale, and what is hidden", () => {
  const l = new Layers();
  const when = new Date(2026, 4, 3);
  assert.deepEqual(sayings({ layers: l }, when), [
    "Printed 3 May 2026 from Evenfall.",
    "Not to scale: measure from the table of heads, not from the paper.",
  ]);
  l.show("heads", false);
  l.show("notes", false);
  assert.equal(sayings({ layers: l }, when)[2], "Hidden in the picture: Heads, Notes.");
  const design = { supply: { print: "The water supply is ASSUMED, not measured." } } as unknown as Design;
  assert.equal(sayings({ layers: l, design }, when)[1], "The water supply is ASSUMED, not measured.");
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { beside } from "./beside";
import { allHeads, sameKind } from "./choosing";
import { copyThings, deleteThings, moveCorner, moveThings, removeCorner, setLocked } from "./edit";
import { gripsOf } from "./grips";
import { apply, diff, drop, find, has, items, type Plan, parts, put, touched } from "./model";
import { nameOf } from "./names";
import { refsInOrder } from "./panels/objects";
import { speechOf } from "./scene/speech";
import { empty, Hand, yard } from "./testplan";
import { allThings, boxed, isLocked, planBounds, thingAt } from "./things";

const lot: [number, number][] = [
  [-5, -5],
  [70, -5],
  [70, 60],
  [-5, 60],
];

const lotted = (): Plan => ({ ...yard(), site: { north_deg: 3, lot } });

/** A plan with one or more of everything that stands on it. */
const full = (): Plan => ({
  ...lotted(),
  keep_dry: { k1: { name: "Meter", x_ft: 3, y_ft: 3 } },
  notes: { m1: { text: "Slope", x_ft: 9, y_ft: 3 } },
  elevations: { e1: { x_ft: 1, y_ft: 2, z_ft: 0.5 } },
  ties: { i1: { from: { x_ft: 0, y_ft: 0 }, to: { x_ft: 3, y_ft: 4 }, distance_ft: 5 } },
  sensors: { s1: { kind: "rain", x_ft: 8, y_ft: 8 } },
  supply: { connection: { x_ft: 5, y_ft: 1 }, backflow_at: { x_ft: 6, y_ft: 1 }, static_psi: 60 },
  controller: { at: { x_ft: 20, y_ft: 21 }, stations: 8 },
  zones: { z1: { name: "Lawn", station: 1, valve_at: { x_ft: 7, y_ft: 1 } } },
});

test("the property line is read, replaced and taken out like any thing, and the site keeps the rest", () => {
  const p = lotted();
  assert.deepEqual(find(p, "site", "lot")?.outline, lot);
  assert.equal(find(p, "site", "lot"), find(p, "site", "lot"), "one thing, not a new one a look");
  assert.ok(has(p, "site/lot") && !has(yard(), "site/lot"));
  const gone = drop(p, "site", "lot");
  assert.deepEqual(gone.site, { north_deg: 3 });
  assert.deepEqual(put(gone, "site", "lot", { outline: lot }).site, p.site);
  const patch = diff(p, gone);
  assert.deepEqual(patch, { site: { lot: null } });
  assert.deepEqual(touched(patch), ["site/lot"]);
  assert.deepEqual(apply(p, patch), gone);
});

test("the property line is drawn with the tools of outlines, once: another takes its place", () => {
  const hand = new Hand("rectangle", empty());
  hand.kit = { ...hand.kit, areaKind: "lot" };
  hand.click([0, 0]).click([100, 80]);
  assert.equal(hand.steps[0]?.label, "Draw the property line");
  assert.deepEqual(hand.plan.site?.lot, [
    [0, 0],
    [100, 0],
    [100, 80],
    [0, 80],
  ]);
  assert.ok(hand.selection.has("site/lot"));
  assert.deepEqual(hand.steps[0]?.kit, { areaKind: "planting" }, "the next outline is ground");
  hand.kit = { ...hand.kit, areaKind: "lot" };
  hand.click([0, 0]).click([50, 40]);
  assert.equal(hand.steps[1]?.label, "Replace the property line");
  assert.equal(hand.plan.areas, undefined);
  assert.deepEqual(planBounds(hand.plan), { minX: 0, minY: 0, maxX: 50, maxY: 40 });
});

test("the property line is chosen by its line, moved, given and rid of corners, and named", () => {
  const p = lotted();
  assert.equal(thingAt(p, [70.2, 30], 0.8), "site/lot");
  assert.equal(thingAt(p, [65, 55], 0.8), null, "inside it is not it");
  assert.equal(thingAt({ ...p, site: { lot: p.areas?.a1?.outline } }, [30, 0.1], 0.8), "areas/a1");
  assert.deepEqual(moveThings(p, ["site/lot"], [5, 5]).site?.lot?.[0], [0, 0]);
  assert.deepEqual(moveCorner(p, "site/lot", 0, 0, [-9, -9]).site?.lot?.[0], [-9, -9]);
  const three = removeCorner(p, "site/lot", 0, 0) as Plan;
  assert.equal(three.site?.lot?.length, 3);
  assert.equal(removeCorner(three, "site/lot", 0, 0), null, "three corners stay");
  assert.equal(gripsOf(p, "site/lot", null).length, 8);
  assert.equal(nameOf(p, "site/lot"), "the property line");
  assert.equal(speechOf(p, "site/lot", null), `Property line, 4,875 ft², 280' 0" around`);
  assert.deepEqual(copyThings(p, ["site/lot"]).things, [], "there is one");
  assert.deepEqual(deleteThings(p, ["site/lot"]).site, { north_deg: 3 });
  assert.deepEqual(
    boxed(p, [-9, -9], [80, 80]).filter((r) => r === "site/lot"),
    ["site/lot"],
  );
});

/** The places and shapes of a document, found without knowing its collections. */
function counted(v: unknown, key = ""): number {
  if (typeof v !== "object" || v === null) return 0;
  if (["outline", "line", "lot"].includes(key)) return 1;
  const o = v as Record<string, unknown>;
  if ("distance_ft" in o || "x_ft" in o) return 1;
  return Object.entries(o).reduce((n, [k, w]) => n + counted(w, k), 0);
}

test("the table has a row for everything that stands on the plan, and the board draws as many", () => {
  const p = full();
  const rows = refsInOrder(p);
  assert.equal(rows.length, counted(p));
  assert.equal(rows.length, 16);
  assert.deepEqual([...rows].sort(), allThings(p).sort());
  for (const r of rows) assert.ok(speechOf(p, r, null).length > 3 && nameOf(p, r), r);
});

test("everything that stands on the plan moves and goes, and leaves what it belongs to", () => {
  const p = full();
  const moved = moveThings(p, allThings(p), [1, 2]);
  assert.deepEqual(moved.supply, {
    ...p.supply,
    connection: { x_ft: 6, y_ft: 3 },
    backflow_at: { x_ft: 7, y_ft: 3 },
  });
  assert.deepEqual(moved.zones?.z1, { ...p.zones?.z1, valve_at: { x_ft: 8, y_ft: 3 } });
  assert.deepEqual(moved.ties?.i1?.to, { x_ft: 4, y_ft: 6 });
  const bare = deleteThings(p, allThings(p));
  assert.deepEqual(allThings(bare), []);
  assert.deepEqual(bare.supply, { static_psi: 60 });
  assert.deepEqual(bare.controller, { stations: 8 });
  assert.deepEqual(bare.zones?.z1, { name: "Lawn", station: 1 });
});

test("walls, trees and dry places can be locked, and then stay", () => {
  const p = full();
  const refs = allThings(p).filter((r) => ["barriers", "trees", "keep_dry"].includes(parts(r)[0]));
  const locked = setLocked(p, refs, true);
  assert.ok(refs.length === 3 && refs.every((r) => isLocked(locked, r)));
  assert.deepEqual(moveThings(locked, refs, [1, 1]), locked);
  assert.deepEqual(deleteThings(locked, refs), locked);
  assert.match(speechOf(locked, "barriers/b1", null), /, locked$/);
  assert.match(speechOf(locked, "trees/t1", null), /, locked$/);
  assert.deepEqual(setLocked(locked, refs, false), p);
});

test("things are selected by kind: heads by nozzle, areas by kind; the locked are left alone", () => {
  const p = full();
  const heads = { ...p.heads, h3: { ...items(p, "heads").h1, nozzle: "other" } } as Plan["heads"];
  const q = setLocked({ ...p, heads }, ["heads/h1"], true);
  assert.deepEqual(allHeads(q), ["heads/h2", "heads/h3"]);
  assert.deepEqual(sameKind(q, ["heads/h2"]), ["heads/h2"]);
  assert.deepEqual(sameKind(p, ["heads/h2"]), ["heads/h1", "heads/h2"]);
  assert.deepEqual(sameKind(p, ["areas/a1"]), ["areas/a1"]);
  assert.deepEqual(sameKind(p, ["areas/a1", "trees/t1"]), ["areas/a1", "trees/t1"]);
});

test("a copy goes right and down by a step, or another way when it would leave the lot", () => {
  const p = lotted();
  assert.deepEqual(beside(p, ["heads/h2"], 5), [5, -5]);
  assert.deepEqual(beside(p, ["heads/h1"], 7), [7, 7], "down would be off the lot");
  assert.deepEqual(beside(yard(), ["heads/h1"], 5), [5, 5], "without a lot the bounds of the plan");
  assert.deepEqual(beside(yard(), ["barriers/b1"], 5), [0, -5], "as wide as the plan: straight down");
  assert.deepEqual(beside(p, ["site/lot"], 5), [5, -5], "nowhere: the first way");
});

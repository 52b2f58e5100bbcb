import assert from "node:assert/strict";
import { test } from "node:test";
import { distance, type Point } from "../geometry";
import { items, type Plan, put } from "../model";
import { empty, Hand, yard } from "../testplan";
import type { FixtureKind } from "./tool";

test("row A1: a spot height is placed, then its level typed; it is one step", () => {
  const h = new Hand("height", empty());
  h.click([12, 8]);
  assert.deepEqual(h.tool.fields(h.around), ["level"]);
  assert.equal(h.write("-0' 6\""), null);
  assert.equal(h.steps.length, 1);
  assert.deepEqual(Object.values(h.plan.elevations ?? {}), [
    { x_ft: 12, y_ft: 8, z_ft: -0.5, status: "existing" },
  ]);
  assert.equal(h.steps[0]?.label, 'Set a spot height of -6"');
  assert.equal(h.write("3, 4"), null);
  assert.match(h.write("a lot") ?? "", /“a lot”/);
  assert.equal(h.write("1.5"), null);
  assert.equal(Object.values(h.plan.elevations ?? {}).length, 2);
  h.click([1, 1]);
  h.do("escape");
  assert.equal(h.tool.busy, false);
  assert.equal(h.steps.length, 2, "a place without a level is none");
});

const fixtureHand = (fixture: FixtureKind, plan = yard()): Hand => {
  const h = new Hand("fixture", plan);
  h.kit = { ...h.kit, fixture };
  return h;
};

test("row A1: each fixture of the document can be set by a click or a typed place, and moved by another", () => {
  const read: [FixtureKind, (p: Plan) => unknown, RegExp][] = [
    ["valve", (p) => p.zones?.z1?.valve_at, /valve of zone 1/],
    ["controller", (p) => (p.controller as { at?: unknown } | undefined)?.at, /the controller/],
    ["connection", (p) => p.supply?.connection, /the point of connection/],
    ["backflow", (p) => p.supply?.backflow_at, /the backflow device/],
  ];
  for (const [fixture, of, says] of read) {
    const h = fixtureHand(fixture);
    h.click([70, 10]);
    assert.deepEqual(of(h.plan), { x_ft: 70, y_ft: 10 });
    assert.match(h.steps[0]?.label ?? "", new RegExp(`^Set ${says.source}`));
    assert.equal(h.write("72, 11"), null);
    assert.deepEqual(of(h.plan), { x_ft: 72, y_ft: 11 });
    assert.match(h.steps[1]?.label ?? "", new RegExp(`^Move ${says.source}`));
  }
  const s = fixtureHand("sensor");
  s.kit = { ...s.kit, sensorKind: "soil" };
  s.click([70, 10]).click([80, 10]);
  assert.deepEqual(
    Object.values(s.plan.sensors ?? {}).map((t) => t.kind),
    ["soil", "soil"],
  );
});

test("row A1: a valve needs a zone, and goes to the one without a valve first", () => {
  const none = fixtureHand("valve", empty());
  none.click([1, 1]);
  assert.match(none.said.at(-1) ?? "", /no zone yet/);
  assert.match(none.write("1, 1") ?? "", /no zone yet/);
  const two = put(
    put(yard(), "zones", "z1", { name: "A", station: 1, valve_at: { x_ft: 0, y_ft: 0 } }),
    "zones",
    "z2",
    {
      name: "B",
      station: 2,
    },
  );
  const h = fixtureHand("valve", two);
  h.click([70, 10]);
  assert.deepEqual(h.plan.zones?.z2?.valve_at, { x_ft: 70, y_ft: 10 });
  assert.deepEqual(h.plan.zones?.z1?.valve_at, { x_ft: 0, y_ft: 0 });
});

/** The yard with ties from three corners of the house to the lawn's north-east corner, which is drawn off its place. */
function tiedYard(): { plan: Plan; truth: Point } {
  const truth: Point = [61, 41];
  let plan = yard();
  const from: Point[] = [
    [20, 20],
    [30, 20],
    [30, 28],
  ];
  from.forEach(([x_ft, y_ft], i) => {
    plan = put(plan, "ties", `i${i}`, {
      from: { x_ft, y_ft },
      to: { x_ft: 60, y_ft: 40 },
      distance_ft: distance([x_ft, y_ft], truth),
    });
  });
  return { plan, truth };
}

test("trade A3: sharing out moves the selected corner to where the ties agree, in one step, and the ties with it", () => {
  const { plan, truth } = tiedYard();
  const h = new Hand("shareout", plan);
  h.selection = new Set(["areas/a1"]);
  assert.match(
    h.sketch.news ?? "",
    /^3 ties: the worst differs by 1' [45].* now and by 0" afterwards; no corner goes farther than 1' 5"/,
  );
  assert.ok(h.sketch.plan, "it is shown before it is taken");
  assert.equal(h.steps.length, 0);
  h.fix("Share out");
  assert.equal(h.steps.length, 1);
  const corner = items(h.plan, "areas").a1?.outline[2] as Point;
  assert.ok(distance([corner[0], corner[1]], truth) < 1 / 96, `${corner}`);
  for (const t of Object.values(h.plan.ties ?? {})) {
    assert.ok(
      Math.abs(distance([t.from.x_ft, t.from.y_ft], [t.to.x_ft, t.to.y_ft]) - t.distance_ft) < 1 / 96,
    );
  }
  assert.deepEqual(items(h.plan, "areas").a1?.outline.slice(0, 2), plan.areas?.a1?.outline.slice(0, 2));
  assert.deepEqual(h.plan.areas?.a2, plan.areas?.a2, "the house was not chosen");
});

test("trade A3: what is locked or not selected does not give way, and it is said why", () => {
  const { plan } = tiedYard();
  const why = (p: Plan, ...refs: string[]): string => {
    const h = new Hand("shareout", p);
    h.selection = new Set(refs as never[]);
    return h.sketch.problem ?? "";
  };
  assert.match(why(plan), /select what may give way/);
  assert.match(why(plan, "trees/t1"), /nothing to share out/);
  const locked = put(plan, "areas", "a1", { ...items(plan, "areas").a1!, locked: true });
  assert.match(why(locked, "areas/a1"), /nothing to share out/);
  assert.equal(why(plan, "ties/i0", "ties/i1", "ties/i2"), "", "ties alone move their far ends");
  const h = new Hand("shareout", plan);
  h.selection = new Set(["areas/a1"]);
  h.do("escape");
  assert.equal(h.left, true);
  assert.equal(h.steps.length, 0);
});

test("trade A3: a sharing that would cross an outline is not offered", () => {
  let plan = yard();
  for (const [i, x] of [0, 60].entries()) {
    plan = put(plan, "ties", `i${i}`, {
      from: { x_ft: x, y_ft: -60 },
      to: { x_ft: 60, y_ft: 40 },
      distance_ft: 50,
    });
  }
  const h = new Hand("shareout", plan);
  h.selection = new Set(["areas/a1"]);
  assert.match(h.sketch.problem ?? "", /crosses itself/);
  assert.equal(h.tool.fixes(h.around).length, 0);
});

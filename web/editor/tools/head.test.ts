import assert from "node:assert/strict";
import { test } from "node:test";
import type { Point } from "../geometry";
import { gripsOf } from "../grips";
import type { Head, Plan } from "../model";
import { nozzleFor } from "../nozzlefit";
import { dragEnd, dragStart, facing, fitArc, setThrow, widenHead } from "../pattern";
import { empty, Hand, quarter, stream, yard } from "../testplan";

const newest = (p: Plan): Head => {
  const known = new Set(["h1", "h2"]);
  const id = Object.keys(p.heads ?? {}).find((k) => !known.has(k));
  return p.heads?.[id ?? ""] as Head;
};

test("one click sets a head of the nozzle in hand and brings its rows into the plan", () => {
  const h = new Hand("head", { ...yard(), heads: {}, nozzles: {}, bodies: {} });
  h.click([30, 10]);
  assert.equal(h.steps.length, 1);
  const head = newest(h.plan);
  assert.deepEqual([head.x_ft, head.y_ft, head.nozzle, head.body], [30, 10, "stream-25", "body-4"]);
  assert.equal(h.plan.nozzles?.["stream-25"]?.name, "Stream 25");
  assert.equal(h.plan.bodies?.["body-4"]?.height_in, 4);
  assert.equal(h.selection.size, 1, "its handles are shown");
});

test("Alt sets it where the pointer is", () => {
  const h = new Hand("head", yard());
  h.aids = { snap: true, gridSnap: true, ortho: false };
  h.keys = { shift: false, alt: true, ctrl: false };
  h.click([30.27, 10.61]);
  assert.deepEqual([newest(h.plan).x_ft, newest(h.plan).y_ft], [30.27, 10.61]);
});

test("a new head faces the planting: all round inside, half along an edge, the corner's angle in a corner", () => {
  const p = { ...yard(), areas: { a1: yard().areas?.a1 as never } };
  const cases: [string, Point, { startDeg: number; sweepDeg: number }][] = [
    ["inside", [30, 20], { startDeg: 0, sweepDeg: 360 }],
    ["south edge", [30, 0], { startDeg: 0, sweepDeg: 180 }],
    ["north edge, set back", [30, 39.6], { startDeg: 180, sweepDeg: 180 }],
    ["east edge", [60, 20], { startDeg: 90, sweepDeg: 180 }],
    ["south-west corner, set back", [0.4, 0.4], { startDeg: 0, sweepDeg: 90 }],
    ["north-east corner", [60, 40], { startDeg: 180, sweepDeg: 90 }],
  ];
  for (const [name, at, want] of cases) assert.deepEqual(facing(p, at), want, name);
  assert.equal(facing(p, [200, 200]), null);
});

test("in the inner corner of an L a head gets three quarters", () => {
  const outline: Point[] = [
    [0, 0],
    [60, 0],
    [60, 20],
    [30, 20],
    [30, 45],
    [0, 45],
  ];
  const p: Plan = { ...empty(), areas: { a: { name: "L", kind: "planting", outline: outline as never } } };
  assert.deepEqual(facing(p, [30, 20]), { startDeg: 90, sweepDeg: 270 });
});

test("the arc is fitted to what the nozzle can be set to, about its middle", () => {
  assert.deepEqual(fitArc(quarter, { startDeg: 0, sweepDeg: 180 }), { startDeg: 45, sweepDeg: 90 });
  assert.deepEqual(fitArc(stream, { startDeg: 10, sweepDeg: 60 }), { startDeg: 355, sweepDeg: 90 });
});

test("an arc end goes in steps of 5 degrees, with Shift 15, with Alt 1", () => {
  const to: Point = [40 + 25 * Math.cos((127 * Math.PI) / 180), 12 + 25 * Math.sin((127 * Math.PI) / 180)];
  const end: Point = [40 + 20, 12]; // the full circle's second end sits further in
  for (const [keys, want] of [
    [{ shift: false, alt: false, ctrl: false }, 125],
    [{ shift: true, alt: false, ctrl: false }, 120],
    [{ shift: false, alt: true, ctrl: false }, 127],
  ] as const) {
    const h = new Hand("select", yard());
    h.selection = new Set(["heads/h2"]);
    h.press(end);
    h.keys = keys;
    // Over the half circle first, as a hand goes.
    for (const deg of [300, 200, 140]) {
      h.drag([40 + 25 * Math.cos((deg * Math.PI) / 180), 12 + 25 * Math.sin((deg * Math.PI) / 180)]);
    }
    h.drag(to).release(to);
    assert.equal(h.plan.heads?.h2?.sweep_deg, want);
    assert.equal(h.plan.heads?.h2?.start_deg, 0);
  }
});

test("turning the first arc end leaves the second where it is", () => {
  const h: Head = { nozzle: "n", body: "b", x_ft: 0, y_ft: 0, start_deg: 0, sweep_deg: 180 };
  assert.deepEqual(pick(dragStart(h, stream, 45)), [45, 135]);
  assert.deepEqual(pick(dragStart(h, stream, 330)), [330, 210]);
  assert.deepEqual(pick(dragStart(h, stream, 170)), [90, 90], "not under the least the nozzle takes");
});

test("past the other end an arc stops instead of flipping", () => {
  const wide: Head = { nozzle: "n", body: "b", x_ft: 0, y_ft: 0, start_deg: 0, sweep_deg: 350 };
  assert.deepEqual(pick(dragEnd(wide, stream, 10)), [0, 360]);
  const narrow = { ...wide, sweep_deg: 60 };
  assert.deepEqual(pick(dragEnd(narrow, { ...stream, arc_least_deg: 40 }, 355)), [0, 40]);
  assert.deepEqual(
    pick(dragEnd({ ...wide, sweep_deg: 90 }, quarter, 200)),
    [110, 90],
    "a fixed arc turns as a whole",
  );
});

const pick = (h: Head) => [h.start_deg, h.sweep_deg];

test("the throw goes by the foot, between the stop and the nozzle's own", () => {
  const h = new Hand("select", yard());
  h.selection = new Set(["heads/h2"]);
  h.pull([15, 12], [20.3, 12.2]); // the throw handle of a full circle is opposite its start
  assert.equal(h.plan.heads?.h2?.throw_ft, 20);
  const row: Head = { nozzle: "n", body: "b", x_ft: 0, y_ft: 0, throw_ft: 20 };
  assert.equal(setThrow(row, stream, 25, 3).throw_ft, 15, "60 % is the mechanical stop");
  assert.equal("throw_ft" in setThrow(row, stream, 25, 30), false, "its own throw is stored as none");
});

test("typed throw and arc are taken exactly", () => {
  const h = new Hand("select", yard());
  h.selection = new Set(["heads/h2"]);
  h.press([15, 12]).drag([17, 12]);
  h.type({ throw: 18.25 });
  assert.equal(h.plan.heads?.h2?.throw_ft, 18.25);
});

test("numbers stand beside what is pulled", () => {
  const h = new Hand("select", yard());
  h.selection = new Set(["heads/h2"]);
  h.press([15, 12]).drag([20.3, 12.2]);
  assert.equal(h.sketch.labels?.[0]?.text, `Throw 20' 0"`);
});

test("with the head tool in hand a head that stands already is moved, not doubled", () => {
  const h = new Hand("head", yard());
  h.pull([40, 12], [44, 15]);
  assert.equal(Object.keys(h.plan.heads ?? {}).length, 2);
  assert.deepEqual([h.plan.heads?.h2?.x_ft, h.plan.heads?.h2?.y_ft], [44, 15]);
});

test("fixed nozzles have no second arc handle, strips a direction only", () => {
  const p = yard();
  const fixed: Plan = {
    ...p,
    nozzles: {
      ...p.nozzles,
      q: quarter,
      s: { ...quarter, strip: { ahead: true, back: false, left_ft: 2, right_ft: 2 } },
    },
    heads: {
      h1: { ...p.heads?.h1, nozzle: "q" } as Head,
      h2: { ...p.heads?.h2, nozzle: "s", sweep_deg: 0 } as Head,
    },
  };
  assert.deepEqual(
    gripsOf(fixed, "heads/h1", null).map((g) => g.kind),
    ["body", "start", "throw"],
  );
  assert.deepEqual(
    gripsOf(fixed, "heads/h2", null).map((g) => g.kind),
    ["body", "start"],
  );
});

test("widening stops at what the nozzle takes", () => {
  const h: Head = { nozzle: "n", body: "b", x_ft: 0, y_ft: 0, sweep_deg: 350 };
  assert.equal(widenHead(h, stream, 15).sweep_deg, 360);
  assert.equal(widenHead({ ...h, sweep_deg: 95 }, stream, -15).sweep_deg, 90);
});

test("a head takes the sibling of its nozzle that has the arc its place calls for", () => {
  const h = new Hand("head", yard());
  h.kit = { ...h.kit, nozzle: "spray-q" };
  h.click([0, 40]);
  assert.equal(newest(h.plan).nozzle, "spray-q", "a quarter in a corner");
  const all = [quarter, { ...quarter, id: "spray-h", arc_least_deg: 180, arc_most_deg: 180 }, stream];
  assert.equal(nozzleFor(all, quarter, 180).id, "spray-h");
  assert.equal(nozzleFor(all, quarter, 93).id, "spray-q", "a fixed arc a few degrees off will do");
  assert.equal(nozzleFor(all, quarter, 270).id, "spray-q", "where no sibling fits, the one chosen");
});

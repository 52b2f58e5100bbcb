import assert from "node:assert/strict";
import { test } from "node:test";
import { clipFor, clipRead, clipText } from "./clipboard";
import { copyThings, deleteThings, moveThings, pasteThings, setLocked, setRing } from "./edit";
import { fieldsOf, type placed } from "./fields_others";
import { dragGrip, gripsOf } from "./grips";
import { Layers, layerOf, layers } from "./layers";
import { find, type Plan, put, type Ref } from "./model";
import { laid, mirrorIn } from "./motions";
import { OUTLET } from "./places";
import { shapesOf } from "./snapindex";
import { catalog, empty } from "./testplan";
import { isLocked, thingAt } from "./things";

const at = (x_ft: number, y_ft: number) => ({ x_ft, y_ft });

/** A walk from y 0 to 5 with a pipe through a sleeve under it, and wire from the controller to a box. */
function yard(): Plan {
  let p = put(empty(), "nodes", "j1", { kind: "joint", ...at(10, -20) });
  p = put(p, "nodes", "j2", { kind: "joint", ...at(10, 20) });
  p = put(p, "pipes", "p1", { from: "j1", to: "j2" });
  p = put(p, "sleeves", "u1", { from: at(10, -1), to: at(10, 6), nominal_in: 2, status: "new" });
  p = put(p, "wires", "w1", {
    line: [
      [40, 0],
      [50, 0],
      [50, 10],
    ],
  });
  p = put(p, "boxes", "x1", { name: "By the gate", ...at(50, 10) });
  return put(put(p, "controller", "at", at(40, 0)), "controller", "outlet_at", at(41, 0));
}

test("a sleeve is meant before the pipe in it, and the pipe where it comes out", () => {
  const p = yard();
  assert.equal(thingAt(p, [10.2, 3], 0.5), "sleeves/u1");
  assert.equal(thingAt(p, [10.2, 10], 0.5), "pipes/p1");
  assert.equal(thingAt(p, [45, 0.2], 0.5), "wires/w1");
  assert.equal(thingAt(p, [50, 10], 0.5), "boxes/x1");
});

test("their ends and corners are snapped to and dragged; a sleeve stays one straight stretch", () => {
  const p = yard();
  const ends = (r: Ref) => shapesOf(p).points.filter((s) => s.ref === r && s.kind === "end").length;
  assert.equal(ends("sleeves/u1"), 2);
  assert.equal(ends("wires/w1"), 3);
  const grips = gripsOf(p, "sleeves/u1", null);
  assert.deepEqual(
    grips.map((g) => g.kind),
    ["corner", "corner"],
  );
  const how = { exact: true, coarse: false, free: false };
  const longer = dragGrip(p, grips[1]!, { to: [10, 8], ...how }, null);
  assert.deepEqual(find(longer, "sleeves", "u1")?.to, at(10, 8));
  const middle = gripsOf(p, "wires/w1", null).find((g) => g.kind === "middle")!;
  const bent = dragGrip(p, middle, { to: [45, 3], ...how, free: true }, null);
  assert.deepEqual(find(bent, "wires", "w1")?.line.slice(0, 3), [
    [40, 0],
    [45, 3],
    [50, 0],
  ]);
  const three: [number, number][] = [
    [0, 0],
    [1, 0],
    [2, 0],
  ];
  assert.equal(setRing(p, "sleeves/u1", 0, three), p, "a third corner is no sleeve");
});

test("moved, mirrored, copied to another plan, locked and deleted like any other thing", () => {
  const p = yard();
  const all: Ref[] = ["sleeves/u1", "wires/w1", "boxes/x1"];
  const moved = moveThings(p, all, [1, 2]);
  assert.deepEqual(find(moved, "sleeves", "u1")?.from, at(11, 1));
  assert.deepEqual(find(moved, "wires", "w1")?.line[0], [41, 2]);
  assert.deepEqual(find(moved, "boxes", "x1"), { name: "By the gate", ...at(51, 12) });
  const flipped = laid("sleeves", find(p, "sleeves", "u1")!, mirrorIn([0, 0], 90));
  assert.deepEqual(flipped.to, at(-10, 6));
  const held = clipRead(clipText({ from: "a", clip: copyThings(p, all) }));
  assert.ok(held);
  const [pasted, made] = pasteThings(empty(), clipFor(empty(), held.clip), [0, 0]);
  assert.deepEqual(made.map((r) => r.split("/")[0]).sort(), ["boxes", "sleeves", "wires"]);
  assert.deepEqual(Object.values(pasted.sleeves ?? {}), [p.sleeves?.u1]);
  assert.deepEqual(Object.values(pasted.wires ?? {}), [p.wires?.w1]);
  const locked = setLocked(p, [...all, "controller/at"], true);
  for (const r of [...all, "controller/at", OUTLET] as Ref[]) assert.ok(isLocked(locked, r), r);
  assert.equal(moveThings(locked, [...all, "controller/at"], [1, 1]).sleeves, locked.sleeves);
  assert.deepEqual(deleteThings(locked, all), locked);
  assert.deepEqual(setLocked(locked, [...all, "controller/at"], false), p);
  const gone = deleteThings(p, [...all, OUTLET]);
  assert.deepEqual([gone.sleeves, gone.wires, gone.boxes], [{}, {}, {}]);
  assert.deepEqual(gone.controller, { at: at(40, 0) });
});

test("what is typed about them is set, and refused with a sentence", () => {
  const p = yard();
  const set = (c: (typeof placed)[number], id: string, key: string, typed: string) => {
    const f = fieldsOf[c].find((x) => x.key === key);
    assert.ok(f, `${c} ${key}`);
    assert.ok(f.has?.({ plan: p, catalog }, id) ?? true, `${c} ${key}`);
    return f.set({ plan: p, catalog }, [id], typed);
  };
  const done = (...of: Parameters<typeof set>): Plan => {
    const v = set(...of);
    assert.ok(v.ok, of.join(" "));
    return v.value;
  };
  assert.equal(find(done("sleeves", "u1", "nominal_in", "4"), "sleeves", "u1")?.nominal_in, 4);
  assert.equal("nominal_in" in find(done("sleeves", "u1", "nominal_in", ""), "sleeves", "u1")!, false);
  assert.equal(find(done("sleeves", "u1", "carries", "spare"), "sleeves", "u1")?.carries, "spare");
  assert.equal(find(done("sleeves", "u1", "method", "saw_cut"), "sleeves", "u1")?.method, "saw_cut");
  assert.deepEqual(find(done("sleeves", "u1", "to_y_ft", "7'"), "sleeves", "u1")?.to, at(10, 7));
  assert.equal(find(done("wires", "w1", "lay", "building"), "wires", "w1")?.lay, "building");
  assert.deepEqual(find(done("wires", "w1", "line", "0, 0\n5, 0"), "wires", "w1")?.line, [
    [0, 0],
    [5, 0],
  ]);
  assert.equal(set("wires", "w1", "line", "0, 0, 0.5\n5, 0").ok, false);
  const clock = (key: string, typed: string) => done("controller", "at", key, typed).controller;
  assert.equal(clock("stations", "8")?.stations, 8);
  assert.equal(clock("stations", "")?.stations, undefined);
  assert.equal(set("controller", "at", "stations", "7.5").ok, false);
  assert.equal(set("controller", "at", "stations", "many").ok, false);
  assert.equal(clock("programs", "4")?.programs, 4);
  assert.equal(clock("starts", "8")?.starts, 8);
  assert.equal(clock("soaks", "yes")?.soaks, true);
  assert.equal(clock("adjusts", "none")?.adjusts, "none");
  assert.equal("adjusts" in (clock("adjusts", "") ?? {}), false);
  assert.equal(set("controller", "at", "starts", "41").ok, false);
  assert.equal(clock("place", " garage wall ")?.place, "garage wall");
  assert.equal(clock("outdoors", "yes")?.outdoors, true);
  const withSensor = put(p, "sensors", "s1", { kind: "rain", ...at(1, 1) });
  const height = fieldsOf.sensors.find((f) => f.key === "height_ft")!;
  const high = height.set({ plan: withSensor, catalog }, ["s1"], "9' 6\"");
  assert.ok(high.ok);
  assert.equal(find(high.value, "sensors", "s1")?.height_ft, 9.5);
  const none = height.set({ plan: high.value, catalog }, ["s1"], "");
  assert.ok(none.ok);
  assert.equal("height_ft" in find(none.value, "sensors", "s1")!, false);
});

test("the evenness an audit found is typed in percent at the valve of its zone", () => {
  const p = put(yard(), "zones", "z1", { name: "Front", valve_at: at(1, 1) });
  const f = fieldsOf.valves.find((x) => x.key === "audited_du");
  const v = f?.set({ plan: p, catalog }, ["z1"], "62.5 %");
  assert.ok(v?.ok);
  assert.equal(find(v.value, "zones", "z1")?.audited_du, 0.625);
  assert.equal(f?.get({ plan: v.value, catalog }, "z1"), "62.5");
  assert.equal(f?.set({ plan: p, catalog }, ["z1"], "0").ok, false);
  assert.equal(f?.set({ plan: p, catalog }, ["z1"], "101").ok, false);
  const none = f?.set({ plan: v.value, catalog }, ["z1"], "");
  assert.ok(none?.ok);
  assert.equal("audited_du" in (find(none.value, "zones", "z1") ?? {}), false);
});

test("trenches are hidden until asked for, and stay as they were left", () => {
  const kept = new Map<string, string>();
  const shelf = {
    getItem: (k: string) => kept.get(k) ?? null,
    setItem: (k: string, v: string) => void kept.set(k, v),
  };
  const first = new Layers();
  first.keepOn(shelf, "p");
  assert.equal(first.shows("trenches"), false);
  assert.deepEqual(first.hidden, [], "what is usually hidden is not told as hidden");
  first.show("trenches", true);
  first.show("wiring", false);
  const again = new Layers();
  again.keepOn(shelf, "p");
  assert.equal(again.shows("trenches"), true);
  assert.deepEqual(again.hidden, ["wiring"]);
  again.showAll();
  assert.deepEqual(again.hidden, []);
  again.show("trenches", false);
  const third = new Layers();
  third.keepOn(shelf, "p");
  assert.equal(third.shows("trenches"), false);
  assert.equal(layerOf("sleeves/u1"), "wiring");
  assert.ok(layers.some((l) => l.name === "wiring" && l.lockable));
});

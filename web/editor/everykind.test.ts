import assert from "node:assert/strict";
import { test } from "node:test";
import { sharedStatus } from "./fields";
import { fieldsOf, type placed } from "./fields_others";
import {
  type Area,
  find,
  ids,
  type Kind,
  type Plan,
  put,
  type Ref,
  ref,
  type Status,
  type WateringKind,
} from "./model";
import { kindNames, wateringWords } from "./names";
import { signsOf } from "./panels/signs";
import { OUTLET } from "./places";
import { hatchID, hatchOf } from "./scene/hatches";
import { areaLabel, placeNames } from "./scene/naming";
import { speechOf } from "./scene/speech";
import { setStatus, statusOf, statusWords, unstated } from "./statuses";
import { catalog, empty, yard } from "./testplan";
import { allThings, drawn } from "./things";

const kinds = Object.keys(kindNames) as Kind[];
const statuses: readonly Status[] = ["new", "existing", "remove"];
const waterings: readonly WateringKind[] = ["overhead", "point", "by_hand", "none"];

const said: Readonly<Record<Status, string>> = { new: "", existing: "existing", remove: "to be removed" };

const one = (kind: Kind, status: Status, watering: WateringKind): Plan => {
  const area: Area = {
    name: "Here",
    kind,
    status,
    outline: [
      [0, 0],
      [90, 0],
      [90, 60],
      [0, 60],
    ],
  };
  if (kind === "planting") area.watering = watering;
  return { ...empty(), areas: { a: area } };
};

test("trade A1, A2, A4: every kind, status and watering of an area is said in its name, written on the board and listed among the signs", () => {
  const looks = new Map<string, string>();
  for (const kind of kinds) {
    for (const status of statuses) {
      for (const watering of kind === "planting" ? waterings : (["overhead"] as const)) {
        const p = one(kind, status, watering);
        const what = `${kind} ${status} ${watering}`;
        const name = speechOf(p, "areas/a", null);
        const label = areaLabel(p.areas?.a as Area);
        for (const words of [wateringWords[watering], said[status]]) {
          assert.ok(name.includes(words), `${what}: the name is ${name}`);
          if (words !== said.existing) assert.ok(label.includes(words), `${what}: the label is ${label}`);
        }
        assert.ok(name.includes(kindNames[kind].toLowerCase()), `${what}: the name is ${name}`);
        if (status === "new") assert.doesNotMatch(name, /existing|removed/);
        assert.equal(placeNames(p, 8).get("a")?.text, label, `${what}: all of the label finds room`);
        const hatch = hatchOf(p.areas?.a as Area);
        const look = hatch ? hatchID(hatch) : "the map";
        const key = `${kind} ${watering}`;
        for (const [other, its] of looks)
          assert.ok(other === key || its !== look, `${key} looks like ${other}`);
        looks.set(key, look);
        const signs = signsOf(p).map((s) => s.text.toLowerCase());
        const wanted = [kindNames[kind].toLowerCase(), wateringWords[watering], said[status]];
        for (const w of wanted)
          assert.ok(
            signs.some((s) => s.includes(w)),
            `${what}: no sign for ${w}`,
          );
      }
    }
  }
  assert.equal(looks.size, kinds.length - 1 + waterings.length);
});

/** A plan with one of everything that stands on a board. */
function everything(): Plan {
  const spot = { x_ft: 5, y_ft: 6 };
  let p: Plan = {
    ...yard(),
    site: {
      lot: [
        [-5, -5],
        [70, -5],
        [70, 60],
      ],
    },
  };
  p = put(p, "keep_dry", "k1", { name: "Meter", ...spot, radius_ft: 2 });
  p = put(p, "elevations", "e1", { ...spot, z_ft: 1.5 });
  p = put(p, "ties", "i1", { from: { x_ft: 0, y_ft: 0 }, to: { x_ft: 60, y_ft: 0 }, distance_ft: 60.25 });
  p = put(p, "sensors", "s1", { kind: "rain", ...spot });
  p = put(p, "notes", "m1", { ...spot, text: "Look here" });
  p = put(p, "valves", "z1", spot);
  p = put(p, "controller", "at", spot);
  p = put(p, "controller", "outlet_at", spot);
  p = put(p, "boxes", "x1", { name: "By the gate", ...spot });
  p = put(p, "sleeves", "u1", { from: { x_ft: 0, y_ft: 0 }, to: { x_ft: 6, y_ft: 0 }, nominal_in: 2 });
  p = put(p, "wires", "w1", {
    line: [
      [5, 6],
      [9, 6],
    ],
  });
  p = put(p, "supply", "connection", spot);
  p = put(p, "supply", "backflow_at", spot);
  p = { ...p, proof: { audits: { q1: {} } } };
  p = put(p, "cans", "q1.c1", { ...spot, catch_ml: 31 });
  p = put(p, "nodes", "j1", { kind: "connection", ...spot });
  p = put(p, "nodes", "j2", { kind: "joint", x_ft: 9, y_ft: 6 });
  return put(p, "pipes", "p1", { from: "j1", to: "j2", nominal_in: 1 });
}

test("trade A1: every thing on the board has its status: read, set by its field, set for several at once, and said", () => {
  const p = everything();
  assert.deepEqual(
    [...new Set(allThings(p).map((r) => r.split("/")[0]))].sort(),
    drawn.filter((c) => c !== "underlay").sort(),
  );
  for (const r of allThings(p)) {
    const [c, id] = r.split("/") as [(typeof placed)[number], string];
    const field = fieldsOf[c].find((f) => f.key === "status");
    if (unstated.has(c) || r === OUTLET) {
      assert.equal(statusOf(p, r), null);
      assert.ok(!field?.has?.({ plan: p, catalog }, id), r);
      assert.equal(setStatus(p, [r], "remove"), p);
      continue;
    }
    assert.ok(field, `${c} has no field for its status`);
    for (const status of statuses) {
      const set = field.set({ plan: p, catalog }, [id], status);
      assert.ok(set.ok);
      assert.equal(statusOf(set.value, r), status, r);
      assert.equal(field.get({ plan: set.value, catalog }, id), status, r);
      assert.deepEqual(setStatus(p, [r], status), set.value, r);
      const words = statusWords(c, status);
      const name = speechOf(set.value, r, null);
      assert.ok(name.includes(words), `${r} ${status}: ${name}`);
      if (status === "remove") assert.match(name, /to be removed/);
      if (status === "existing" && c !== "ties") assert.match(name, /existing|as it lies/);
    }
  }
});

test("trade A1: status is set in one go on things of many kinds, and only the status changes", () => {
  const p = everything();
  const refs = allThings(p).filter((r) => statusOf(p, r) !== null);
  assert.ok(refs.length >= 11);
  const set = sharedStatus.set({ plan: p, catalog }, refs, "existing");
  assert.ok(set.ok);
  for (const r of refs) assert.equal(sharedStatus.get({ plan: set.value, catalog }, r), "existing", r);
  const back = sharedStatus.set({ plan: set.value, catalog }, refs, "new");
  assert.ok(back.ok);
  const plain = (q: Plan): string => JSON.stringify(q, (k, v) => (k === "status" ? undefined : v));
  assert.equal(plain(set.value), plain(p));
  assert.equal(plain(back.value), plain(p));
  assert.equal(setStatus(p, ["heads/gone" as Ref], "remove"), p);
});

test("trade A4: walls say kind and height, trees trunk and root zone, keep-dry points their radius, heights their level", () => {
  for (const kind of ["fence", "wall", "hedge"]) {
    const p = put(empty(), "barriers", "b", {
      name: "North",
      kind,
      height_ft: 3.5,
      line: [
        [0, 0],
        [30, 0],
      ],
    });
    assert.equal(speechOf(p, "barriers/b", null), `North, ${kind}, 30' 0" long, 3' 6" high`);
    assert.ok(signsOf(p).some((s) => s.text.toLowerCase() === kind));
  }
  const p = everything();
  assert.match(speechOf(p, "trees/t1", null), /^Oak, tree, trunk 12 in, root zone 8' 0", at 50' 0", 30' 0"$/);
  assert.match(speechOf(p, "keep_dry/k1", null), /^Meter, keep dry, 2' 0" around/);
  assert.match(speechOf(p, "elevations/e1", null), /^Spot height 1' 6", at 5' 0", 6' 0", finished grade$/);
  assert.match(speechOf(p, "ties/i1", null), /^Tie of 60' 3", drawn 60' 0", 3" shorter than measured$/);
  assert.match(speechOf({ ...p, show: "metric" }, "trees/t1", null), /trunk 30\.5 cm, root zone 2\.44 m/);
});

test("trade B7, B8: sleeves, wire runs, boxes, controller and sensors say what they are, and are listed among the signs", () => {
  let p = everything();
  assert.equal(speechOf(p, "sleeves/u1", null), "2 in sleeve, 6' 0\" long");
  assert.equal(speechOf(p, "wires/w1", null), "Wire run of 4' 0\", in a trench");
  assert.match(speechOf(p, "boxes/x1", null), /^By the gate, at 5' 0", 6' 0"$/);
  assert.match(speechOf(p, "controller/outlet_at", null), /^The controller’s outlet, at/);
  p = put(p, "sleeves", "u1", {
    from: { x_ft: 0, y_ft: 0 },
    to: { x_ft: 6, y_ft: 0 },
    carries: "spare",
    method: "water_bore",
    status: "existing",
    locked: true,
  });
  assert.equal(
    speechOf(p, "sleeves/u1", null),
    "Spare sleeve, 6' 0\" long, size by what is in it, bored with water, existing, locked",
  );
  p = put(p, "sensors", "s1", { kind: "rain", x_ft: 5, y_ft: 6, height_ft: 9, wireless: true });
  assert.match(speechOf(p, "sensors/s1", null), /^Rain sensor, 9' 0" above the ground, wireless, at/);
  const metric = speechOf({ ...everything(), show: "metric" }, "sleeves/u1", null);
  assert.equal(metric, "DN 50 sleeve, 1.83 m long");
  const signs = signsOf(p).map((s) => s.text);
  for (const w of [
    "Sleeve under paving",
    "Control wire, where no pipe goes",
    "Splice box",
    "Outlet of the controller",
  ])
    assert.ok(signs.includes(w), w);
});

test("trade A2: watering, kind, height, trunk and root zone can be set for several at once", () => {
  const p = {
    ...everything(),
    areas: { a: one("planting", "new", "overhead").areas!.a!, b: one("planting", "new", "none").areas!.a! },
  };
  const set = (c: (typeof placed)[number], key: string, to: string, which: readonly string[]): Plan => {
    const f = fieldsOf[c].find((x) => x.key === key);
    assert.ok(f, `${c} ${key}`);
    assert.ok(which.every((id) => f.has?.({ plan: p, catalog }, id) ?? true));
    const v = f.set({ plan: p, catalog }, which, to);
    assert.ok(v.ok, `${c} ${key} ${to}`);
    return v.value;
  };
  for (const w of waterings) {
    const q = set("areas", "watering", w, ["a", "b"]);
    for (const id of ["a", "b"]) assert.equal(find(q, "areas", id)?.watering, w);
  }
  for (const k of kinds) assert.equal(find(set("areas", "kind", k, ["a", "b"]), "areas", "b")?.kind, k);
  assert.equal(find(set("barriers", "kind", "hedge", ["b1"]), "barriers", "b1")?.kind, "hedge");
  assert.equal(find(set("barriers", "height_ft", "4' 6\"", ["b1"]), "barriers", "b1")?.height_ft, 4.5);
  assert.equal(find(set("trees", "trunk_in", "14", ["t1"]), "trees", "t1")?.trunk_in, 14);
  assert.equal(find(set("trees", "root_zone_ft", "11'", ["t1"]), "trees", "t1")?.root_zone_ft, 11);
  assert.equal(ids(p, "areas").map((id) => ref("areas", id)).length, 2);
});

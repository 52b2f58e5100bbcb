import assert from "node:assert/strict";
import { test } from "node:test";
import { cornersText, parseCorners } from "./corners";
import type { Context } from "./fields";
import { fieldsOf, type Placed } from "./fields_others";
import type { Nozzle, Plan, Vertex } from "./model";

const spray: Nozzle = {
  name: "10 ft spray",
  family: "spray",
  generic: true,
  source: "",
  arc_least_deg: 40,
  arc_most_deg: 360,
  flow_follows_arc: true,
  trajectory_deg: 25,
  profile: { kind: "linear" },
  turn_down: { usual_share: 0.75, least_share: 0.5, flow_power: 1 },
  best_psi: 30,
  rows: [{ pressure_psi: 30, throw_ft: 10, flow_gpm: 1.6 }],
  thread: "female",
};
const quarter: Nozzle = {
  ...spray,
  name: "Quarter",
  arc_least_deg: 90,
  arc_most_deg: 90,
  flow_follows_arc: false,
};
const strip: Nozzle = {
  ...spray,
  name: "Side strip",
  family: "strip",
  arc_least_deg: 0,
  arc_most_deg: 0,
  thread: "odd",
};
const body = {
  name: "4 in",
  generic: true,
  source: "",
  height_in: 4,
  check_valve: false,
  takes: "female",
  inlet_in: 0.5,
};

const plan: Plan = {
  format: "evenfall-plan/1",
  name: "Lot",
  show: "us",
  areas: {
    a1: {
      name: "Lawn",
      kind: "planting",
      soil: "clay",
      outline: [
        [0, 0],
        [10, 0],
        [10, 10, 0.5],
      ],
    },
    a2: {
      name: "House",
      kind: "building",
      height_ft: 12,
      outline: [
        [0, 0],
        [10, 0],
        [10, 10],
      ],
    },
  },
  heads: { h1: { nozzle: "s", body: "b", x_ft: 1, y_ft: 2, sweep_deg: 180, throw_ft: 8 } },
  nozzles: { s: spray },
  bodies: { b: body },
};
const cx: Context = {
  plan,
  catalog: {
    nozzles: [
      { id: "q", ...quarter },
      { id: "p", ...strip },
    ],
    bodies: [{ id: "o", ...body, name: "6 in", takes: "odd" }],
  },
};

function set(c: Placed, id: string, key: string, typed: string): Plan | string {
  const field = fieldsOf[c].find((f) => f.key === key);
  assert.ok(field, `${c} has ${key}`);
  const v = field.set(cx, [id], typed);
  return v.ok ? v.value : v.sentence;
}

const refused: readonly [Placed, string, string, string, RegExp][] = [
  ["heads", "h1", "x_ft", "abc", /not a length/],
  ["heads", "h1", "sweep_deg", "20", /turns from 40° to 360°, not 20°/],
  ["heads", "h1", "throw_ft", "30", /throws 10' 0". Type that or less/],
  ["heads", "h1", "throw_ft", "0.2", /waters nothing/],
  ["areas", "a1", "name", " ", /Name is empty/],
  ["areas", "a1", "outline", "0, 0\n5, 5", /There are 2 corners/],
  ["areas", "a1", "outline", "0, 0\nnorth\n5, 5", /Line 2: “north” is not a corner/],
  ["areas", "a1", "slope", "300", /out of reach/],
  ["areas", "a2", "height_ft", "0.1", /Type a length from 6"/],
];

test("rowA28: what cannot be is refused with what, where and what to type", () => {
  for (const [c, id, key, typed, want] of refused) {
    const got = set(c, id, key, typed);
    assert.equal(typeof got, "string", `${key} ${typed}`);
    assert.match(got as string, want);
    assert.doesNotMatch(got as string, /invalid|illegal|oops|failed to parse|went wrong/i);
  }
});

test("what is typed lands in the plan and shows as typed back", () => {
  const moved = set("heads", "h1", "x_ft", "12' 6") as Plan;
  assert.equal(moved.heads?.h1?.x_ft, 12.5);
  const own = set("heads", "h1", "throw_ft", "") as Plan;
  assert.equal(own.heads?.h1?.throw_ft, undefined);
  const turned = set("heads", "h1", "start_deg", "-45") as Plan;
  assert.equal(turned.heads?.h1?.start_deg, 315);
});

test("another nozzle brings its row, its arc and a body it screws into", () => {
  const q = set("heads", "h1", "nozzle", "q") as Plan;
  assert.equal(q.heads?.h1?.sweep_deg, 90);
  assert.equal(q.nozzles?.q?.name, "Quarter");
  const p = set("heads", "h1", "nozzle", "p") as Plan;
  assert.equal(p.heads?.h1?.sweep_deg, undefined);
  assert.equal(p.heads?.h1?.body, "o");
  assert.equal(p.bodies?.o?.name, "6 in");
});

test("an area of another kind drops what only the old kind has", () => {
  const paved = set("areas", "a1", "kind", "paving") as Plan;
  assert.equal(paved.areas?.a1?.soil, undefined);
  const lawn = set("areas", "a2", "kind", "planting") as Plan;
  assert.equal(lawn.areas?.a2?.height_ft, undefined);
});

test("what the watering program asks of an area is set in its units, and empty is the usual", () => {
  const metric = { ...cx, plan: { ...plan, show: "metric" as const } };
  for (const [key, typed, want, mm] of [
    ["plant_factor", "0.65", 0.65, false],
    ["density_factor", "0.8", 0.8, false],
    ["microclimate", "1.4", 1.4, false],
    ["roots_in", "9", 9, false],
    ["roots_in", "25.4", 10, true],
    ["plant_height_in", "30", 30, false],
    ["plant_height_in", "60.96", 24, true],
    ["depletion", "40 %", 0.4, false],
    ["own_zones_only", "yes", true, false],
  ] as const) {
    const on = mm ? metric : cx;
    const field = fieldsOf.areas.find((f) => f.key === key);
    assert.ok(field?.under, `${key} is folded away`);
    assert.equal(field.has?.(on, "a2"), false, `a house has no ${key}`);
    const v = field.set(on, ["a1"], typed);
    assert.ok(v.ok, `${key} ${typed}`);
    assert.equal(v.value.areas?.a1?.[key], want);
    assert.equal(field.get({ ...on, plan: v.value }, "a1"), typed.replace(" %", ""));
    const none = field.set({ ...on, plan: v.value }, ["a1"], "");
    assert.ok(none.ok);
    assert.equal(key in (none.value.areas?.a1 ?? {}), false, `${key} without`);
  }
  for (const [key, typed] of [
    ["plant_factor", "2"],
    ["plant_factor", "0"],
    ["roots_in", "300"],
    ["depletion", "100"],
    ["microclimate", "hot"],
  ] as const)
    assert.equal(typeof set("areas", "a1", key, typed), "string", `${key} ${typed}`);
});

test("every field shows text for every thing it belongs to", () => {
  for (const [c, id] of [
    ["heads", "h1"],
    ["areas", "a1"],
    ["areas", "a2"],
  ] as const) {
    for (const f of fieldsOf[c]) assert.equal(typeof f.get(cx, id), "string", `${c} ${f.key}`);
  }
});

test("corners typed back unchanged keep their exact values", () => {
  const exact: Vertex[] = [
    [0.123456, 1 / 3],
    [10, 0, 0.41421356],
    [5, 7.005],
  ];
  const v = parseCorners(cornersText(exact, "us"), "us", 3, exact);
  assert.deepEqual(v, { ok: true, value: exact });
  const m = parseCorners("0, 0\n3.048, 0\n3.048, 6.096, 1", "metric", 3);
  assert.ok(m.ok);
  assert.ok(Math.abs((m.value[2]?.[1] ?? 0) - 20) < 1e-9);
  assert.equal(m.value[2]?.[2], 1);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Catalog, DeviceEntry } from "./api";
import type { Finding } from "./design";
import { fixtureFields } from "./fields_fixtures";
import { settingOf } from "./findings";
import type { Plan } from "./model";
import { supplyFields } from "./supply";
import { devicesInUse, newReading, withDevice, withLoss, withPump, withStatic } from "./supplyrows";

const bare = (show: "us" | "metric" = "us"): Plan => ({ format: "evenfall-plan/1", name: "t", show });

const breaker: DeviceEntry = {
  id: "backflow-pvb-1",
  name: "Breaker 1 in",
  kind: "backflow",
  backflow: "pressure_breaker",
  generic: true,
  source: "made up",
  replace: true,
  nominal_in: 1,
  loss: [
    { flow_gpm: 5, loss_psi: 2 },
    { flow_gpm: 12, loss_psi: 3.5 },
  ],
};
const from: Catalog = { nozzles: [], bodies: [], devices: [breaker], pipe_classes: [] };

function typed(p: Plan, label: string, text: string): Plan {
  const f = supplyFields.find((f) => f.label === label);
  assert.ok(f, label);
  const got = f.set(p, text, from);
  assert.ok(got.ok, got.ok ? "" : got.sentence);
  return got.value;
}

test("every field shows what was typed, and empty takes it back", () => {
  const samples: Readonly<Record<string, string>> = {
    "Flow measured": "13.3",
    "Service length": "45' 6\"",
    "Velocity at most": "7.5",
    Reason: "as the city says",
    "Made of, in words": "copper type L",
    Meter: "0.75",
    "Kept from freezing by": "blow_out",
  };
  for (const [label, text] of Object.entries(samples)) {
    const p = typed(bare(), label, text);
    const f = supplyFields.find((f) => f.label === label);
    assert.equal(f?.get(p), text, label);
    assert.deepEqual(typed(p, label, "").supply, {}, label);
  }
});

test("row A28: what is out of reach is refused with its range, in the plan's units", () => {
  for (const [show, text, want] of [
    ["us", "700", /out of reach. Type gpm from 0.5 to 500/],
    ["metric", "7000", /out of reach. Type l\/min from 1.89 to 1890/],
    ["us", "12 psi", /“psi” is not a unit of flow. Write gpm, l\/min or m3\/h/],
  ] as const) {
    const got = supplyFields.find((f) => f.label === "Flow measured")?.set(bare(show), text, from);
    assert.ok(got && !got.ok);
    assert.match(got.sentence, want);
  }
});

test("a metric plan reads and shows bar, and keeps psi", () => {
  const p = typed(bare("metric"), "Static pressure", "4.3");
  assert.ok(Math.abs(Number(p.supply?.static_psi) - 62.366) < 1e-3);
  assert.equal(supplyFields.find((f) => f.label === "Static pressure")?.get(p), "4.3");
});

test("labels are told apart, so that a finding leads to one field", () => {
  const labels = supplyFields.map((f) => f.label);
  assert.equal(new Set(labels).size, labels.length);
});

test("a device brings its row along, once, and keeps the plan's own", () => {
  const p = withDevice(bare(), "backflow_device", breaker.id, from);
  assert.equal(p.devices?.[breaker.id]?.name, "Breaker 1 in");
  assert.equal("id" in (p.devices?.[breaker.id] ?? {}), false);
  const own = withLoss(p, breaker.id, breaker, [{ flow_gpm: 12, loss_psi: 4 }]);
  assert.ok(own.ok);
  const again = withDevice(own.value, "backflow_device", breaker.id, from);
  assert.equal(again.devices?.[breaker.id]?.loss.length, 1);
  assert.equal(again.devices?.[breaker.id]?.replace, undefined);
  assert.equal(again.devices?.[breaker.id]?.generic, false);
  assert.deepEqual(
    devicesInUse(again, from).map((d) => d.role),
    ["backflow_device"],
  );
});

test("the usual devices and the zones' valves are shown as the server tells them, and become the plan's own", () => {
  const all: typeof from = {
    ...from,
    devices: [...(from.devices ?? []), { ...breaker, id: "v", kind: "zone_valve" }],
  };
  const told = [
    { role: "zone_valve", id: "v" },
    { role: "backflow_device", id: "other" },
    { role: "meter", id: "gone" },
  ];
  const p = withDevice(bare(), "backflow_device", breaker.id, all);
  const used = devicesInUse(p, all, told);
  assert.deepEqual(
    used.map((d) => `${d.role} ${d.id}`),
    [`backflow_device ${breaker.id}`, "zone_valve v"],
  );
  const row = used[1]?.row;
  assert.ok(row?.replace);
  const own = withLoss(p, "v", row, [{ flow_gpm: 12, loss_psi: 4 }]);
  assert.ok(own.ok);
  assert.deepEqual(own.value.devices?.v?.loss, [{ flow_gpm: 12, loss_psi: 4 }]);
  assert.equal(devicesInUse(own.value, all, told)[1]?.row.replace, undefined);
});

test("a valve is made as a row says, which comes along", () => {
  const all: typeof from = { ...from, devices: [{ ...breaker, id: "v", kind: "zone_valve" }] };
  const p = { ...bare(), zones: { z1: { name: "Lawn" } } };
  const field = fixtureFields.valves.find((f) => f.key === "valve");
  assert.ok(field);
  const c = { plan: p, catalog: all };
  assert.deepEqual(
    field.choices?.(c, ["z1"]).map((o) => o.value),
    ["", "v"],
  );
  const made = field.set(c, ["z1"], "v");
  assert.ok(made.ok);
  assert.equal(made.value.zones?.z1?.valve, "v");
  assert.equal(made.value.devices?.v?.kind, "zone_valve");
  const usual = field.set({ ...c, plan: made.value }, ["z1"], "");
  assert.ok(usual.ok);
  assert.equal("valve" in (usual.value.zones?.z1 ?? {}), false);
});

test("row A28: a curve of losses never falls, and a pump's never rises", () => {
  const p = withDevice(bare(), "backflow_device", breaker.id, from);
  const falls = withLoss(p, breaker.id, breaker, [
    { flow_gpm: 12, loss_psi: 2 },
    { flow_gpm: 5, loss_psi: 3 },
  ]);
  assert.ok(
    !falls.ok &&
      falls.sentence.startsWith("At 12 gpm the device would take 2 psi, less than the 3 psi at 5 gpm."),
  );
  const twice = withLoss(p, breaker.id, breaker, [
    { flow_gpm: 5, loss_psi: 2 },
    { flow_gpm: 5, loss_psi: 3 },
  ]);
  assert.ok(!twice.ok && twice.sentence.startsWith("There are two points at 5 gpm."));
  assert.ok(!withLoss(p, breaker.id, breaker, []).ok);
  const rises = withPump(bare(), [
    { flow_gpm: 0, psi: 40 },
    { flow_gpm: 10, psi: 50 },
  ]);
  assert.ok(!rises.ok && /A pump gives less pressure the more it pumps/.test(rises.sentence));
  const pump = withPump(bare(), [
    { flow_gpm: 10, psi: 40 },
    { flow_gpm: 0, psi: 50 },
  ]);
  assert.ok(pump.ok);
  assert.deepEqual(
    (pump.value.supply?.pump ?? []).map((q) => q.flow_gpm),
    [0, 10],
  );
});

test("a finding about the supply leads to a field of the Supply page", () => {
  const labels = new Set(supplyFields.map((f) => f.label));
  const codes =
    "supply-rough meter-overdrawn pressure-high no-backflow backflow-doubtful backflow-unfit taps-after-device breaker-low no-isolation freeze-unready any-other";
  for (const code of codes.split(" ")) {
    const f = { code, about: ["supply"] } as unknown as Finding;
    assert.ok(labels.has(settingOf(f)), `${code} leads to ${settingOf(f)}`);
  }
});

test("row 24: what stands after the backflow device is said, and nothing is left when it goes", () => {
  const said = [
    ["Fertilizer or other chemicals are put into the water", "yes"],
    ["Water for drinking or hoses is taken off after it", "yes"],
    ["After it, water is pushed back by", "second_source"],
  ] as const;
  let p = said.reduce((q, [label, text]) => typed(q, label, text), bare());
  assert.deepEqual(p.supply, { injection: true, taps_after: true, push_back: "second_source" });
  p = said.reduce((q, [label]) => typed(q, label, ""), p);
  assert.deepEqual(p.supply, {});
});

test("readings come and go, and none leaves nothing behind", () => {
  const one = withStatic(bare(), "r1", { psi: 70, hour: 5 });
  assert.deepEqual(one.supply?.statics, { r1: { psi: 70, hour: 5 } });
  assert.deepEqual(withStatic(one, "r1", null).supply, {});
  const many = withStatic(one, "r10abcd", { psi: 60 });
  assert.match(newReading(many), /^r11[a-z]{4}$/);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { auditName } from "../audits";
import { same } from "../merge";
import type { Plan } from "../model";
import {
  auditAgain,
  builtOf,
  dropBuilt,
  dropWire,
  nextOrder,
  recordID,
  recordsOf,
  runsOf,
  setAudit,
  setBuilt,
  setCan,
  setMinutes,
  setPhoto,
  setRecord,
  setRun,
  setState,
  stateOf,
  toggleFault,
} from "./records";

const plan = (): Plan => ({
  format: "evenfall-plan/1",
  name: "Yard",
  show: "us",
  heads: { h1: { nozzle: "n", body: "b", x_ft: 10, y_ft: 20 } },
  zones: { z1: { name: "Front", station: 1, valve_at: { x_ft: 1, y_ft: 2 } } },
  sleeves: { u1: { from: { x_ft: 0, y_ft: 0 }, to: { x_ft: 8, y_ft: 0 } } },
  proof: { audits: { q1: { cans: { c1: { x_ft: 0, y_ft: 5 }, c2: { x_ft: 4, y_ft: 5 } } } } },
});

test("a record is put in, changed and emptied member by member, and says nothing it need not", () => {
  let p = setRecord(plan(), "wires", "w1", { order: 1, mark: "red", terminal: 2, common: false });
  assert.deepEqual(p.proof?.wires, { w1: { order: 1, mark: "red", terminal: 2 } });
  p = setRecord(p, "wires", "w1", { mark: "blue", terminal: undefined });
  assert.deepEqual(p.proof?.wires?.w1, { order: 1, mark: "blue" });
  p = setRecord(p, "resistances", "o1", { order: 1, from: "w1", to: "w2", ohms: 0 });
  assert.equal(p.proof?.resistances?.o1?.ohms, 0, "0 Ω is a reading");
});

test("records come in the order they were noted, however many", () => {
  let p = plan();
  for (const n of [10, 2, 1]) p = setRecord(p, "touches", `t${n}`, { order: n, wire: "w1" });
  assert.deepEqual(
    recordsOf(p, "touches").map(([, t]) => t.order),
    [1, 2, 10],
  );
  assert.equal(nextOrder(p, "touches"), 11);
  assert.equal(nextOrder(p, "wires"), 1);
});

test("a wire that is taken away takes what was found of it along, and nothing else", () => {
  let p = setRecord(plan(), "wires", "w1", { order: 1 });
  p = setRecord(p, "wires", "w2", { order: 2 });
  p = setRecord(p, "touches", "t1", { order: 1, wire: "w1", ran: ["z1"] });
  p = setRecord(p, "touches", "t2", { order: 2, wire: "w2" });
  p = setRecord(p, "resistances", "o1", { order: 1, from: "w2", to: "w1", ohms: 30 });
  p = dropWire(p, "w1");
  assert.deepEqual(Object.keys(p.proof?.wires ?? {}), ["w2"]);
  assert.deepEqual(Object.keys(p.proof?.touches ?? {}), ["t2"]);
  assert.deepEqual(Object.keys(p.proof?.resistances ?? {}), []);
});

test("runs are told apart by what they were for, the newest last; a zone that is gone takes none", () => {
  let p = setRun(plan(), "z1", "r1", { on: "2026-05-02", flow_gpm: 8 });
  p = setRun(p, "z1", "r2", { on: "2026-05-01" });
  p = setRun(p, "z1", "r3", { on: "2026-05-03", when: "before" });
  assert.deepEqual(
    runsOf(p, "z1", "start_up").map(([id]) => id),
    ["r2", "r1"],
  );
  assert.deepEqual(
    runsOf(p, "z1", "before").map(([id]) => id),
    ["r3"],
  );
  assert.equal(setRun(p, "z9", "r1", {}), p);
});

test("a fault is noted with its date, and taken back with all that was told of it", () => {
  let p = toggleFault(plan(), "h1", "tilted", "2026-05-01");
  p = setState(p, "h1", { tilt_deg: 12, tilt_toward_deg: 0 });
  assert.deepEqual(stateOf(p, "h1"), {
    faults: ["tilted"],
    seen_on: "2026-05-01",
    tilt_deg: 12,
    tilt_toward_deg: 0,
  });
  p = toggleFault(p, "h1", "blocked", "2026-05-02");
  p = toggleFault(p, "h1", "tilted", "2026-05-02");
  assert.deepEqual(stateOf(p, "h1"), { faults: ["blocked"], seen_on: "2026-05-02" });
  p = toggleFault(p, "h1", "blocked", "2026-05-03");
  assert.ok(same(p, plan()), "a head without faults is as it was");
});

test("a can is read, emptied and left out, and keeps its place", () => {
  let p = setCan(plan(), "q1", "c1", { catch_ml: 0 });
  assert.deepEqual(p.proof?.audits?.q1?.cans?.c1, { x_ft: 0, y_ft: 5, catch_ml: 0 });
  p = setCan(p, "q1", "c1", { catch_ml: undefined, left_out: true, note: "Tipped over" });
  assert.deepEqual(p.proof?.audits?.q1?.cans?.c1, { x_ft: 0, y_ft: 5, left_out: true, note: "Tipped over" });
  assert.equal(setCan(p, "q1", "c9", { catch_ml: 4 }), p);
  p = setMinutes(p, "q1", "z1", 15);
  assert.deepEqual(p.proof?.audits?.q1?.runs, { z1: 15 });
  assert.deepEqual(setMinutes(p, "q1", "z1", undefined).proof?.audits?.q1?.runs, {});
});

test("audits of one name and day are told apart by their number", () => {
  const audits = { a1: { name: "Lawn", on: "2026-05-01" }, a2: { name: "Lawn", on: "2026-05-01" }, a3: {} };
  const p: Plan = { ...plan(), proof: { audits } };
  const names = ["a1", "a2", "a3"].map((id) => auditName(p, id));
  assert.deepEqual(names, ["Lawn, 2026-05-01", "Lawn, 2026-05-01 (2)", "Audit"]);
});

test("water is caught again in the same places, with nothing read yet", () => {
  let p: Plan = { ...plan(), proof: {} };
  const cans = { c1: { x_ft: 1, y_ft: 2, catch_ml: 20 }, c2: { x_ft: 3, y_ft: 4, left_out: true } };
  p = setAudit(p, "a2", {
    name: "Lawn",
    on: "2026-05-01",
    runs: { z1: 12 },
    throat_in2: 16,
    wind_mph: 2,
    cans,
  });
  const made = auditAgain(p, "a2", "2026-05-03");
  assert.equal(made.id, "a3");
  assert.deepEqual(made.plan.proof?.audits?.a3, {
    name: "Lawn, again",
    on: "2026-05-03",
    runs: { z1: 12 },
    throat_in2: 16,
    cans: { c1: { x_ft: 1, y_ft: 2 }, c2: { x_ft: 3, y_ft: 4 } },
  });
  assert.deepEqual(made.plan.proof?.audits?.a2, p.proof?.audits?.a2);
});

test("what is measured twice keeps where it was drawn first, and goes back there", () => {
  let p = setBuilt(plan(), "heads", "h1", { on: "2026-05-01" });
  assert.deepEqual(builtOf(p, "heads", "h1"), { on: "2026-05-01" });
  p = setBuilt(p, "heads", "h1", { on: "2026-05-02" }, { x_ft: 11, y_ft: 20 });
  p = setBuilt(p, "heads", "h1", { on: "2026-05-03", depth_in: 1 }, { x_ft: 12, y_ft: 20 });
  assert.equal(p.heads?.h1?.x_ft, 12);
  assert.deepEqual(builtOf(p, "heads", "h1"), {
    on: "2026-05-03",
    depth_in: 1,
    was: { x_ft: 10, y_ft: 20 },
  });
  assert.ok(same(dropBuilt(p, "heads", "h1"), plan()));
});

test("of a zone it is the valve that was moved, of a sleeve either end", () => {
  let p = setBuilt(plan(), "zones", "z1", { on: "2026-05-01" }, { x_ft: 3, y_ft: 2 });
  assert.deepEqual(p.zones?.z1?.valve_at, { x_ft: 3, y_ft: 2 });
  p = setBuilt(p, "sleeves", "u1", { on: "2026-05-01" }, { x_ft: 0, y_ft: 0 }, { x_ft: 9, y_ft: 0 });
  assert.deepEqual(p.sleeves?.u1?.to, { x_ft: 9, y_ft: 0 });
  assert.deepEqual(builtOf(p, "sleeves", "u1"), { on: "2026-05-01", was_to: { x_ft: 8, y_ft: 0 } });
  assert.ok(same(dropBuilt(dropBuilt(p, "sleeves", "u1"), "zones", "z1"), plan()));
});

test("a photograph is kept, told of and taken away", () => {
  let p = setPhoto(plan(), "f1", { sha256: "ab", about: "heads/h1", caption: "" });
  assert.deepEqual(p.photos, { f1: { sha256: "ab", about: "heads/h1" } });
  p = setPhoto(p, "f1", { caption: "Leans" });
  assert.equal(p.photos?.f1?.caption, "Leans");
  assert.deepEqual(setPhoto(p, "f1", null).photos, {});
});

test("ids of records are ids of the plan, and do not come twice", () => {
  const all = new Set(Array.from({ length: 500 }, () => recordID("r")));
  assert.equal(all.size, 500);
  for (const id of all) assert.match(id, /^[A-Za-z][A-Za-z0-9_-]{0,39}$/);
});

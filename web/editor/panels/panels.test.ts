import assert from "node:assert/strict";
import { test } from "node:test";
import type { Plan } from "../model";
import { refsInOrder } from "./objects";
import { planOf, withShapes } from "./outlines";
import { savedText } from "./saved";

test("rowA16: the saved state says what is true, with the time or the count", () => {
  assert.equal(savedText({ state: "yes", at: null }), "Saved");
  assert.equal(savedText({ state: "yes", at: new Date(2026, 0, 2, 14, 32) }), "Saved 14:32");
  assert.equal(savedText({ state: "saving", count: 1 }), "Saving…");
  assert.equal(savedText({ state: "no", count: 1, why: "" }), "Not saved – retrying (1 change kept here)");
  assert.equal(savedText({ state: "no", count: 3, why: "" }), "Not saved – retrying (3 changes kept here)");
  assert.equal(
    savedText({ state: "no", count: 3, why: "", full: true }),
    "Disk full – your last 3 changes are kept in this browser",
  );
  assert.equal(
    savedText({ state: "no", count: 1, why: "", full: true }),
    "Disk full – your last change is kept in this browser",
  );
  assert.equal(
    savedText({ state: "no", count: 2, why: "", full: true, keeping: true }),
    "Disk full – keeping 2 changes in this browser…",
  );
  assert.equal(
    savedText({ state: "no", count: 1, why: "", keeping: true }),
    "Not saved – retrying (keeping 1 change here…)",
  );
  assert.equal(savedText({ state: "conflict", count: 2 }), "Someone else changed this plan");
});

test("imported shapes become what the user said each is", () => {
  const square = (s: number): [number, number][] => [
    [0, 0],
    [s, 0],
    [s, s],
    [0, s],
  ];
  const shape = (name: string, s: number, holes?: [number, number][][]) => ({
    name,
    kind_guess: "",
    outline: square(s),
    holes,
    area: "",
    size: "",
  });
  const found = {
    shapes: [shape("Parcel", 90), shape("", 40, [square(5)]), shape("Shed", 10)],
    origin: { lat: 40, lon: -105 },
  };
  const p = planOf("Lot", "us", found, ["lot", "building", "skip"]);
  assert.deepEqual(p.site, { latitude_deg: 40, longitude_deg: -105, lot: square(90) });
  assert.deepEqual(Object.values(p.areas ?? {}), [
    { name: "Building", kind: "building", outline: square(40), status: "existing", holes: [square(5)] },
  ]);
});

test("outlines join a plan that is there: what it has stays, and so does its place on the earth", () => {
  const outline: [number, number][] = [
    [0, 0],
    [9, 0],
    [9, 9],
  ];
  const found = {
    shapes: [{ name: "Shed", kind_guess: "building", outline, area: "", size: "" }],
    origin: { lat: 40, lon: -105 },
  };
  const bare: Plan = { format: "evenfall-plan/1", name: "Lot", show: "us" };
  assert.deepEqual(withShapes(bare, found, ["building"]).site, { latitude_deg: 40, longitude_deg: -105 });
  const placed: Plan = {
    ...bare,
    site: { latitude_deg: 39, longitude_deg: -100, north_deg: 10 },
    notes: { m1: { text: "Gate", x_ft: 0, y_ft: 0 } },
  };
  const p = withShapes(placed, found, ["building"]);
  assert.deepEqual(p.site, placed.site);
  assert.deepEqual(p.notes, placed.notes);
  assert.deepEqual(Object.values(p.areas ?? {}), [
    { name: "Shed", kind: "building", outline, status: "existing" },
  ]);
});

test("rowA20: the table of objects has a row for everything that stands on the board", () => {
  const spot = { x_ft: 0, y_ft: 0 };
  const head = { ...spot, nozzle: "n", body: "b" };
  const p: Plan = {
    format: "evenfall-plan/1",
    name: "Lot",
    show: "us",
    heads: { h1: { ...head, tag: "2-10" }, h2: { ...head, tag: "2-9" } },
    areas: { a1: { name: "Lawn", kind: "planting", outline: [] } },
    barriers: { b1: { name: "Fence", line: [], height_ft: 6 } },
    trees: { t1: { name: "Oak", trunk_in: 8, ...spot } },
    keep_dry: { k1: { name: "Meter", ...spot } },
    notes: { m1: { text: "Gate", ...spot } },
    zones: { z1: { name: "Front" } },
  };
  assert.deepEqual(refsInOrder(p), [
    "areas/a1",
    "barriers/b1",
    "trees/t1",
    "keep_dry/k1",
    "heads/h2",
    "heads/h1",
    "notes/m1",
  ]);
});

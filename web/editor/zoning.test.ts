import assert from "node:assert/strict";
import { test } from "node:test";
import type { Plan } from "./model";
import {
  addZone,
  freeStation,
  headsOf,
  nextTag,
  putInZone,
  removeZone,
  renumber,
  setStation,
  walkingOrder,
  zonesInOrder,
} from "./zoning";

const head = (x: number, more: object = {}) => ({ nozzle: "n", body: "b", x_ft: x, y_ft: 0, ...more });
const lot = (): Plan => ({
  format: "evenfall-plan/1",
  name: "Lot",
  show: "us",
  zones: { z1: { name: "Front", station: 2 }, z2: { name: "Back", station: 1 } },
  heads: {
    h1: head(30),
    h2: head(10),
    h3: head(0, { zone: "z1", tag: "2-10" }),
    h4: head(5, { zone: "z1", tag: "2-9" }),
  },
});

test("zones stand in the order of their stations, heads in that of their tags", () => {
  assert.deepEqual(zonesInOrder(lot()), ["z2", "z1"]);
  assert.deepEqual(headsOf(lot(), "z1"), ["h4", "h3"]);
  assert.deepEqual(headsOf(lot(), ""), ["h2", "h1"]);
});

test("heads put into a zone get the next tags behind its station, in walking order", () => {
  const p = putInZone(lot(), ["h1", "h2"], "z1");
  assert.equal(p.heads?.h2?.tag, "2-11");
  assert.equal(p.heads?.h1?.tag, "2-12");
  assert.equal(p.heads?.h1?.zone, "z1");
  assert.equal(nextTag(p, "z2"), "1-1");
});

test("a head already in the zone keeps its tag; one taken out loses it", () => {
  const p = putInZone(lot(), ["h3"], "z1");
  assert.equal(p.heads?.h3?.tag, "2-10");
  const out = putInZone(lot(), ["h3"], "");
  assert.equal(out.heads?.h3?.tag, undefined);
  assert.equal(out.heads?.h3?.zone, undefined);
});

test("a new zone takes the lowest free station", () => {
  assert.equal(freeStation(lot()), 3);
  const [p, id] = addZone(lot());
  assert.deepEqual(p.zones?.[id], { name: "Zone 3", station: 3, status: "new" });
});

test("renumbering counts from one in walking order", () => {
  const p = renumber(lot(), "z1");
  assert.deepEqual([p.heads?.h3?.tag, p.heads?.h4?.tag], ["2-1", "2-2"]);
});

test("walking order begins in the south-west and goes on to the nearest", () => {
  const at = (x: number, y: number) => ({ nozzle: "n", body: "b", x_ft: x, y_ft: y });
  const p: Plan = { ...lot(), heads: { a: at(20, 0), b: at(0, 0), c: at(20, 9), d: at(0, 9), e: at(10, 0) } };
  assert.deepEqual(walkingOrder(p, ["a", "b", "c", "d", "e"]), ["b", "d", "e", "a", "c"]);
});

test("tags follow the station", () => {
  const p = setStation(lot(), "z1", 7);
  assert.deepEqual([p.heads?.h4?.tag, p.heads?.h3?.tag], ["7-9", "7-10"]);
  assert.equal(setStation(lot(), "z1", 0).zones?.z1?.station, undefined);
});

test("a zone deleted leaves its heads", () => {
  const p = removeZone(lot(), "z1");
  assert.deepEqual(Object.keys(p.zones ?? {}), ["z2"]);
  assert.equal(Object.keys(p.heads ?? {}).length, 4);
  assert.equal(p.heads?.h3?.zone, undefined);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import { type ImproveView, Improving, type MendView, placesOf, standsOn } from "./improving";
import { board } from "./testboard";

const mend = (head: string, x: number, says = `Move ${head}`): MendView => ({
  kind: "move",
  heads: [head],
  area: "a1",
  area_name: "Lawn",
  says,
  why: "",
  x_ft: x,
  y_ft: 0,
  readings: [],
  from: [],
  to: [],
  patch: { heads: { [head]: { x_ft: x } } },
  label: says,
});

const view = (rev: number, ...mends: MendView[]): ImproveView => ({
  rev,
  offered: mends.length > 0,
  says: "Mends.",
  mends,
  left: [],
  caution: "",
  evaluations: "",
});

async function panel(...mends: MendView[]) {
  const b = board();
  const asked: string[] = [];
  const s = new Improving(
    b,
    () => {},
    async (url): Promise<Outcome<ImproveView>> => {
      asked.push(url);
      return { ok: true, value: view(b.rev, ...mends) };
    },
  );
  await s.seek(["a1"]);
  return { s, b, asked };
}

test("what a patch changes is told by its places; rows that several use are no matter of dispute", () => {
  assert.deepEqual(
    [...placesOf({ heads: { h1: { x_ft: 1 }, h2: null }, nozzles: { n: {} }, supply: { x: 1 } })],
    ["heads/h1", "heads/h2", "supply/x"],
  );
});

test("a mend goes on from those before it that change the same and are not taken", () => {
  const all = [mend("h1", 1), mend("h2", 2), mend("h1", 3)];
  assert.deepEqual(standsOn(all, ["open", "open", "open"], 2), [0]);
  assert.deepEqual(standsOn(all, ["taken", "open", "open"], 2), []);
  assert.deepEqual(standsOn(all, ["skipped", "open", "open"], 2), [0]);
});

test("mends are taken one by one, each a step, and the rest go on from the revision that made", async () => {
  const { s, b, asked } = await panel(mend("h1", 1), mend("h2", 2), mend("h1", 3));
  assert.deepEqual(asked, ["/api/plans/x/improve?rev=4&areas=a1"]);
  assert.equal(await s.take(0), true);
  assert.equal(s.stale, false);
  assert.equal(await s.take(1), true);
  assert.equal(await s.take(2), true);
  assert.deepEqual(
    b.steps.map((x) => x.label),
    ["Move h1", "Move h2", "Move h1"],
  );
  assert.equal(b.committed.heads?.h1?.x_ft, 3);
  assert.equal(s.rough, false);
});

test("one that goes on from another waits for it; one of its own does not, but its figures are rough", async () => {
  const { s, b } = await panel(mend("h1", 1), mend("h2", 2), mend("h1", 3));
  assert.match(s.why(2), /goes on from mend 1/);
  assert.equal(await s.take(2), false);
  s.skip(0);
  assert.deepEqual(s.takable, [1]);
  assert.equal(await s.take(1), true);
  assert.equal(s.rough, true);
  assert.equal(b.steps.length, 1);
});

test("all that are open are taken by one step, in their order, and not what goes on from a skipped one", async () => {
  const { s, b } = await panel(mend("h1", 1), mend("h2", 2), mend("h1", 3), mend("h3", 4));
  s.skip(1);
  assert.deepEqual(s.takable, [0, 2, 3]);
  assert.equal(await s.takeAll(), true);
  assert.equal(b.steps.length, 1);
  assert.equal(b.steps[0]?.label, "Improve the layout: 3 changes");
  assert.equal(b.committed.heads?.h1?.x_ft, 3);
  assert.deepEqual(s.fates, ["taken", "skipped", "taken", "taken"]);
});

test("a mend is shown with those it goes on from, and shown again is hidden; nothing is changed", async () => {
  const { s, b } = await panel(mend("h1", 1), mend("h1", 3));
  s.show(1);
  assert.equal(b.plan.heads?.h1?.x_ft, 3);
  s.show(1);
  assert.equal(b.drafting, false);
  assert.equal(b.steps.length, 0);
});

test("what was skipped is skipped when the same is found again", async () => {
  const { s } = await panel(mend("h1", 1), mend("h2", 2));
  s.skip(0);
  await s.seek();
  assert.deepEqual(s.fates, ["skipped", "open"]);
  s.skip(0);
  assert.deepEqual(s.fates, ["open", "open"]);
});

test("changed otherwise meanwhile, nothing is taken", async () => {
  const { s, b } = await panel(mend("h1", 1));
  s.show(0);
  b.rev = 9;
  s.look();
  assert.equal(b.drafting, false);
  assert.match(s.why(0), /has changed since/);
  assert.equal(await s.take(0), false);
  assert.equal(b.steps.length, 0);
});

test("a failure is told, and stopping changes nothing", async () => {
  const b = board();
  const s = new Improving(
    b,
    () => {},
    async () => ({ ok: false, status: 409, error: "No heads.", problems: [] }),
  );
  await s.seek([]);
  assert.deepEqual([s.phase, s.trouble], ["failed", "No heads."]);
  const stopped = new Improving(
    b,
    () => {},
    async () => {
      b.longWork.stop();
      return null;
    },
  );
  await stopped.seek([]);
  assert.match(stopped.trouble, /stopped. Nothing is changed/);
});

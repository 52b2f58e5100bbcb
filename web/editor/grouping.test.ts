import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import { Grouping, type GroupView, question, readDays, readHours, readLimit, readNeed } from "./grouping";
import { board } from "./testboard";

const view = (rev: number): GroupView => ({
  rev,
  offered: true,
  says: "2 zones.",
  patch: { zones: { z9: { name: "Lawn", station: 1 } }, heads: { h1: { zone: "z9" } } },
  label: "Group 2 heads into 1 zone",
  zones: [],
  bound: "",
  proved: true,
  limit: "",
  minutes: "",
  fits: true,
  window: "",
  notes: [],
  caution: "",
  evaluations: "",
});

async function panel(
  answer: (rev: number) => Outcome<GroupView> = (rev) => ({ ok: true, value: view(rev) }),
) {
  const b = board();
  const asked: string[] = [];
  const g = new Grouping(
    b,
    () => {},
    async (url) => {
      asked.push(url);
      return answer(b.rev);
    },
  );
  return { g, b, asked };
}

test("limits are read with their units; empty is the usual", () => {
  assert.deepEqual(readLimit("", "us"), { ok: true, value: undefined });
  assert.deepEqual(readLimit("12.5", "us"), { ok: true, value: 12.5 });
  assert.ok(!readLimit("many", "us").ok);
  assert.deepEqual(readNeed("1.4", "us"), { ok: true, value: 1.4 });
  assert.deepEqual(readNeed("25.4 mm", "us"), { ok: true, value: 1 });
  assert.deepEqual(readNeed("25.4", "metric"), { ok: true, value: 1 });
  assert.deepEqual(readNeed("1 in", "metric"), { ok: true, value: 1 });
  assert.ok(!readDays("2.5").ok);
  assert.ok(!readDays("8").ok);
  assert.deepEqual(readHours("6.5"), { ok: true, value: 6.5 });
  for (const bad of ["NaN", "-1", "1e9"]) {
    assert.ok(!readHours(bad).ok, bad);
    assert.ok(!readNeed(bad, "us").ok, bad);
  }
});

test("only what is not the usual is asked", () => {
  assert.equal(question({ areas: [] }), "");
  assert.equal(question({ areas: ["a1"], limitGPM: 12, days: 2 }), "areas=a1&limit=12&days=2");
});

test("the zones offered show on the board, and are taken by one step", async () => {
  const { g, b, asked } = await panel();
  await g.seek();
  assert.deepEqual(asked, ["/api/plans/x/group?rev=4"]);
  assert.equal(b.plan.heads?.h1?.zone, "z9");
  assert.equal(b.steps.length, 0);
  assert.equal(await g.take(), true);
  assert.equal(b.steps[0]?.label, "Group 2 heads into 1 zone");
  assert.equal(b.committed.zones?.z9?.name, "Lawn");
});

test("zones found for another revision are neither shown nor taken", async () => {
  const { g, b } = await panel();
  await g.seek();
  b.rev = 7;
  g.look();
  assert.equal(b.drafting, false);
  assert.equal(g.stale, true);
  assert.equal(await g.take(), false);
  assert.equal(b.steps.length, 0);
});

test("why heads cannot be grouped is told, and the question stands", async () => {
  const { g, b } = await panel((rev) => {
    const { patch: _none, ...rest } = view(rev);
    return { ok: true, value: { ...rest, offered: false, says: "One head takes more than a zone may." } };
  });
  await g.seek();
  assert.deepEqual([g.phase, g.trouble], ["asking", "One head takes more than a zone may."]);
  assert.equal(b.drafting, false);
});

test("left, the board shows the plan again", async () => {
  const { g, b } = await panel();
  await g.seek();
  g.leave();
  assert.equal(b.drafting, false);
});

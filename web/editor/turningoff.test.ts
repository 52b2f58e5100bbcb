import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import { board } from "./testboard";
import { TurningOff, type TurnOffView } from "./turningoff";

const view = (rev: number): TurnOffView => ({
  rev,
  offered: true,
  says: "One arc is turned.",
  area: "a1",
  area_name: "Lawn",
  changes: [],
  rows: [],
  notes: [],
  caution: "",
  evaluations: "",
  label: "Turn 1 arc off Lawn",
  patch: { heads: { h1: { sweep_deg: 90 } } },
});

function part(answer: (rev: number) => Outcome<TurnOffView> = (rev) => ({ ok: true, value: view(rev) })) {
  const b = board();
  const asked: string[] = [];
  const t = new TurningOff(
    b,
    () => {},
    async (url) => {
      asked.push(url);
      return answer(b.rev);
    },
  );
  return { b, t, asked };
}

test("what is offered shows on the board and is taken by one step", async () => {
  const { b, t, asked } = part();
  await t.seek("a1");
  assert.deepEqual(asked, ["/api/plans/x/turnoff?rev=4&area=a1"]);
  assert.equal(t.shown, true);
  assert.equal(b.plan.heads?.h1?.sweep_deg, 90);
  assert.equal(b.steps.length, 0);
  assert.equal(await t.take(), true);
  assert.deepEqual(
    b.steps.map((s) => s.label),
    ["Turn 1 arc off Lawn"],
  );
  assert.deepEqual([t.area, t.view, t.shown], [null, null, false]);
});

test("what is not worth it is said, and nothing shows", async () => {
  const { patch: _none, ...rest } = view(4);
  const { b, t } = part(() => ({
    ok: true,
    value: { ...rest, offered: false, says: "It lies amid the throw." },
  }));
  await t.seek("a1");
  assert.equal(t.shown, false);
  assert.equal(b.drafting, false);
  assert.deepEqual(b.said, ["It lies amid the throw."]);
  assert.equal(await t.take(), false);
});

test("of a plan that has changed nothing is shown or taken", async () => {
  const { b, t } = part();
  await t.seek("a1");
  b.rev = 9;
  t.look();
  assert.equal(b.drafting, false);
  assert.equal(t.stale, true);
  assert.equal(await t.take(), false);
  assert.equal(b.steps.length, 0);
});

test("let go of, the board is the plan's again", async () => {
  const { b, t } = part();
  await t.seek("a1");
  t.drop();
  assert.equal(b.drafting, false);
  assert.equal(t.area, null);
});

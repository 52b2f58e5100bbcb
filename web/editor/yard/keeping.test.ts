import assert from "node:assert/strict";
import { test } from "node:test";
import type { Api, Stored } from "../api";
import { apply, type Patch } from "../merge";
import type { Plan } from "../model";
import { clashes, Keeping } from "./keeping";

const begin: Plan = { format: "evenfall-plan/1", name: "Yard", show: "us", zones: { z1: { name: "Front" } } };

/** A server that keeps one plan, and loses the answers it is told to. */
function kept() {
  const at = { rev: 1, doc: begin, undo: "", redo: "", lose: 0 };
  const stored = (): Stored => ({ rev: at.rev, doc: at.doc, undo: at.undo, redo: "" });
  const commit: Api["commit"] = async (_id, rev, patch, label) => {
    if (rev !== at.rev) return { ok: false, status: 412, error: "stale", problems: [] };
    Object.assign(at, { rev: at.rev + 1, doc: apply(at.doc, patch), undo: label });
    if (at.lose-- > 0) return { ok: false, status: 0, error: "away", problems: [] };
    return { ok: true, value: { rev: at.rev, undo: at.undo, redo: "" } };
  };
  const api = { load: async () => ({ ok: true, value: stored() }), commit } as unknown as Api;
  return { at, api, commit };
}

const run = (flow_gpm: number): Patch => ({ zones: { z1: { runs: { r1: { flow_gpm } } } } });

test("what is entered while somebody else changes the plan is made on the newest revision", async () => {
  const { at, api, commit } = kept();
  const k = new Keeping(api, begin);
  await commit("x", 1, { name: "Front yard" }, "Rename");
  const answer = await k.commit("x", 1, run(8), "Flow of zone 1");
  assert.ok(answer.ok);
  assert.equal(answer.value.rev, 3);
  assert.equal(at.doc.name, "Front yard");
  assert.equal(at.doc.zones?.z1?.runs?.r1?.flow_gpm, 8);
  assert.equal(k.behind, true, "the page does not show the new name yet");
  await k.load("x");
  assert.equal(k.behind, false);
});

test("the same member changed by both is for the user to settle", async () => {
  const { api, commit } = kept();
  const k = new Keeping(api, begin);
  await commit("x", 1, run(9), "Flow of zone 1");
  const answer = await k.commit("x", 1, run(8), "Flow of zone 1");
  assert.ok(!answer.ok && answer.status === 412);
});

test("a zone that is gone meanwhile is for the user to settle, and not made half", async () => {
  const { at, api, commit } = kept();
  const k = new Keeping(api, begin);
  await commit("x", 1, { zones: { z1: null } }, "Delete zone");
  const answer = await k.commit("x", 1, run(8), "Flow of zone 1");
  assert.ok(!answer.ok && answer.status === 412);
  assert.equal(at.doc.zones?.z1, undefined);
});

test("a step whose answer was lost is not made a second time", async () => {
  const { at, api } = kept();
  const k = new Keeping(api, begin);
  at.lose = 1;
  assert.ok(!(await k.commit("x", 1, run(8), "Flow of zone 1")).ok);
  const again = await k.commit("x", 1, run(8), "Flow of zone 1");
  assert.ok(again.ok);
  assert.equal(at.rev, 2);
  assert.equal(k.behind, false);
});

test("records put in side by side do not clash; one taken away by both is gone", () => {
  const before = { proof: { wires: { w1: { mark: "red" } } } };
  const now = { proof: { wires: { w1: { mark: "red" }, w2: { mark: "blue" } } } };
  assert.equal(clashes(before, now, { proof: { wires: { w3: { mark: "white" } } } }), false);
  assert.equal(clashes(before, now, { proof: { wires: { w1: null } } }), false);
  const gone = { proof: { wires: { w2: { mark: "blue" } } } };
  assert.equal(clashes(before, gone, { proof: { wires: { w1: null } } }), false);
  assert.equal(clashes(before, gone, { proof: { wires: { w1: { mark: "green" } } } }), true);
  assert.equal(clashes({}, {}, { proof: { touches: { t1: { order: 1 } } } }), false);
});

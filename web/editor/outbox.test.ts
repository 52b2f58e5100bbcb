import assert from "node:assert/strict";
import { test } from "node:test";
import type { Committed, Failure, Outcome } from "./api";
import { Outbox, type Owner, type Step } from "./outbox";

const failure = (status: number): Failure => ({ ok: false, status, error: `status ${status}`, problems: [] });
const stored = (rev: number): Outcome<Committed> => ({ ok: true, value: { rev, undo: "", redo: "" } });

/** An owner that answers from a list and keeps a log. */
function scripted(answers: Outcome<Committed>[]) {
  const log: string[] = [];
  const waited: number[] = [];
  const owner: Owner = {
    send: async (step, again) => {
      log.push(`send ${step.label}${again ? " again" : ""}`);
      return answers.shift() ?? stored(99);
    },
    stored: (step) => log.push(`stored ${step.label}`),
    refused: (step) => log.push(`refused ${step.label}`),
    stale: () => log.push("stale"),
    changed: () => {},
  };
  const wait = async (ms: number): Promise<void> => {
    waited.push(ms);
  };
  return { box: new Outbox(owner, wait), log, waited };
}

const step = (label: string, done: Step["done"] = () => {}): Step => ({ label, patch: {}, done });

test("steps go one at a time and in order", async () => {
  const { box, log } = scripted([]);
  for (const label of ["a", "b", "c"]) box.add(step(label));
  await box.idle();
  assert.deepEqual(log, ["send a", "stored a", "send b", "stored b", "send c", "stored c"]);
  assert.equal(box.steps.length, 0);
});

test("while the server is away a step is tried again, with longer pauses, before the next", async () => {
  const away = [0, 500, 0, 503, 0, 0, 0].map(failure);
  const { box, log, waited } = scripted([...away, stored(2), stored(3)]);
  box.add(step("a"));
  box.add(step("b"));
  assert.equal(box.steps.length, 2);
  await box.idle();
  assert.equal(log.filter((l) => l === "send a again").length, 7);
  assert.deepEqual(log.slice(-3), ["stored a", "send b", "stored b"]);
  assert.deepEqual(waited, [300, 600, 1200, 2500, 5000, 5000, 5000]);
  assert.equal(box.trouble, null);
});

test("a step the server will not take is dropped and the next one goes", async () => {
  const { box, log } = scripted([failure(422), stored(2)]);
  const verdicts: boolean[] = [];
  box.add(step("bad", (v) => verdicts.push(v.saved)));
  box.add(step("good", (v) => verdicts.push(v.saved)));
  await box.idle();
  assert.deepEqual(log, ["send bad", "refused bad", "send good", "stored good"]);
  assert.deepEqual(verdicts, [false, true]);
});

test("a stale step stops the outbox and nothing is lost or sent", async () => {
  const { box, log } = scripted([failure(412)]);
  box.add(step("a"));
  box.add(step("b"));
  await box.idle();
  assert.deepEqual(log, ["send a", "stale"]);
  assert.equal(box.steps.length, 2);
  assert.ok(box.stopped);
  box.clear();
  box.add(step("c"));
  await box.idle();
  assert.deepEqual(log.slice(-2), ["send c", "stored c"]);
});

test("only a step that was never sent can be taken back", async () => {
  let answer: (o: Outcome<Committed>) => void = () => {};
  const owner: Owner = {
    send: () =>
      new Promise((r) => {
        answer = r;
      }),
    stored: () => {},
    refused: () => {},
    stale: () => {},
    changed: () => {},
  };
  const box = new Outbox(owner);
  box.add(step("under way"));
  box.add(step("waiting"));
  assert.equal(box.takeBack()?.label, "waiting");
  assert.equal(box.takeBack(), undefined);
  answer(stored(2));
  await box.idle();
  assert.equal(box.steps.length, 0);
});

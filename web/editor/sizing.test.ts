import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import type { Ground } from "./asking";
import type { Notice } from "./desk";
import { LongWork } from "./longwork";
import type { Plan } from "./model";
import { askSizes, type Sizes, takeSizes } from "./sizing";
import type { Saved } from "./state";
import { yard } from "./testplan";

const piped = (): Plan => ({
  ...yard(),
  nodes: { a: { kind: "connection", x_ft: 0, y_ft: 0 }, b: { kind: "joint", x_ft: 9, y_ft: 0 } },
  pipes: { p: { from: "a", to: "b" } },
});

const sizes = (rev: number): Sizes => ({
  rev,
  offered: true,
  says: "1 pipe gets another size of 1 pipe that may change.",
  patch: { pipes: { p: { nominal_in: 1, class: "pvc-sch40" } } },
  label: "Size 1 pipe",
  groups: [],
  changes: [{ name: "The pipe", from: "", to: "1 in" }],
  before: "",
  after: "",
  holds: true,
  checks: [],
  notes: [],
  caution: "",
});

function page() {
  const notices: (Notice | null)[] = [];
  const said: string[] = [];
  const steps: { label: string; plan: Plan }[] = [];
  const listeners: (() => void)[] = [];
  const board = {
    id: "x",
    rev: 4,
    away: false,
    saved: { state: "yes", at: null } as Saved,
    committed: piped(),
    longWork: new LongWork(() => 0),
    flush: () => {},
    subscribe: (_: "saved", fn: () => void) => {
      listeners.push(fn);
      return () => {};
    },
    show: (n: Notice | null) => void notices.push(n),
    announce: (t: string) => void said.push(t),
    commit: async (label: string, plan: Plan) => void steps.push({ label, plan }),
  } satisfies Ground;
  const asked: string[] = [];
  const ask = async (url: string): Promise<Outcome<Sizes>> => {
    asked.push(url);
    return { ok: true, value: sizes(board.rev) };
  };
  return { board, notices, said, steps, asked, ask, listeners };
}

test("row A25: sizes are sought for what is stored, and wait until it is", async () => {
  const { board, asked, ask, listeners } = page();
  board.saved = { state: "saving", count: 1 };
  const answer = askSizes(board, ask);
  await Promise.resolve();
  assert.deepEqual(asked, []);
  board.rev = 5;
  board.saved = { state: "yes", at: null };
  for (const fn of listeners) fn();
  assert.equal((await answer)?.rev, 5);
  assert.deepEqual(asked, ["/api/plans/x/sizes?rev=5"]);
});

test("row A17: no sizes are sought while the server is away", async () => {
  const { board, asked, ask, notices } = page();
  board.saved = { state: "no", count: 1, why: "away" };
  assert.equal(await askSizes(board, ask), null);
  assert.deepEqual(asked, []);
  assert.match(notices[0]?.sentence ?? "", /Ask again when it says Saved/);
});

test("row A25: called off, nothing is changed, and that is said", async () => {
  const { board, notices, steps } = page();
  const answer = askSizes(board, (_, off) => {
    board.longWork.stop();
    assert.ok(off.aborted);
    return Promise.resolve(null);
  });
  assert.equal(await answer, null);
  assert.match(notices[0]?.sentence ?? "", /called off. Nothing is changed/);
  assert.equal(steps.length, 0);
});

test("an offer is one step, with what it was made of", async () => {
  const { board, said, steps } = page();
  assert.equal(await takeSizes(board, sizes(4)), true);
  assert.equal(steps.length, 1);
  assert.equal(steps[0]?.label, "Size 1 pipe");
  assert.deepEqual(steps[0]?.plan.pipes?.p, { from: "a", to: "b", nominal_in: 1, class: "pvc-sch40" });
  assert.deepEqual(said, ["1 pipe sized. Undo takes it back."]);
});

test("row B22: an offer for another revision is not taken", async () => {
  const { board, steps, notices } = page();
  assert.equal(await takeSizes(board, sizes(3)), false);
  assert.equal(steps.length, 0);
  assert.match(notices[0]?.sentence ?? "", /has changed since/);
});

test("an offer without changes takes nothing", async () => {
  const { board, steps } = page();
  const { patch: _none, ...rest } = sizes(4);
  assert.equal(await takeSizes(board, rest), false);
  assert.equal(steps.length, 0);
});

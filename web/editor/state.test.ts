import assert from "node:assert/strict";
import { test } from "node:test";
import type { Api, Failure, Stored } from "./api";
import { apply, type Device, find, type Patch, type Plan, put } from "./model";
import { Board } from "./state";

const head = (x: number) => ({ nozzle: "n", body: "b", x_ft: x, y_ft: 0 });
const empty: Plan = { format: "evenfall-plan/1", name: "Lot", show: "us" };

/** A server in memory, with faults to order: each is used up by one request. */
class Made implements Api {
  rev = 1;
  docs: Plan[];
  labels: string[] = [""];
  at = 0;
  faults: ("away" | "lost" | Failure)[] = [];
  created: Plan[] = [];
  about = ["heads/h1"];
  calls: string[] = [];

  constructor(doc: Plan) {
    this.docs = [doc];
  }

  #stored(): Stored {
    const undo = this.at > 0 ? (this.labels[this.at] as string) : "";
    return { rev: this.rev, doc: this.docs[this.at] as Plan, undo, redo: this.labels[this.at + 1] ?? "" };
  }

  async load() {
    return { ok: true as const, value: this.#stored() };
  }

  async commit(_id: string, rev: number, patch: Patch, label: string) {
    this.calls.push(`${label} on ${rev}`);
    const fault = this.faults.shift();
    if (fault === "away") return failure(0);
    if (fault && fault !== "lost") return fault;
    if (rev !== this.rev) return failure(412);
    this.docs.splice(this.at + 1, this.docs.length, apply(this.docs[this.at] as Plan, patch));
    this.labels.splice(this.at + 1, this.labels.length, label);
    this.at++;
    this.rev++;
    if (fault === "lost") return failure(0);
    return { ok: true as const, value: this.#stored() };
  }

  async #step(by: 1 | -1, rev: number) {
    if (rev !== this.rev) return failure(412);
    const label = this.labels[by < 0 ? this.at : this.at + 1] as string;
    this.at += by;
    this.rev++;
    return { ok: true as const, value: { ...this.#stored(), label, about: this.about } };
  }

  undo(_id: string, rev: number) {
    return this.#step(-1, rev);
  }

  redo(_id: string, rev: number) {
    return this.#step(1, rev);
  }

  async create(_name: string, _show: string, doc?: Plan) {
    this.created.push(doc as Plan);
    return { ok: true as const, value: { id: "copy" } };
  }

  /** Another tab's step. */
  elsewhere(patch: Patch, label: string): void {
    this.docs.push(apply(this.docs[this.at] as Plan, patch));
    this.labels.push(label);
    this.at++;
    this.rev++;
  }
}

const failure = (status: number, error = `status ${status}`): Failure => ({
  ok: false,
  status,
  error,
  problems: [],
});

function open(doc: Plan = empty) {
  const api = new Made(doc);
  const said: string[] = [];
  const shown: [number, Patch][] = [];
  const board = new Board({
    id: "p1",
    rev: 1,
    doc,
    undo: "",
    redo: "",
    api,
    wait: async () => {},
    now: () => new Date(2026, 0, 2, 14, 32),
    onAnnounce: (t) => said.push(t),
  });
  board.channel = { show: (rev, patch) => shown.push([rev, patch]) };
  return { api, board, said, shown };
}

const settled = async (board: Board): Promise<void> => {
  for (let i = 0; i < 50 && board.saved.state !== "yes"; i++) await new Promise((r) => setImmediate(r));
};

test("a step shows at once, is saved only when the server said so, and says when", async () => {
  const { api, board } = open();
  assert.deepEqual(board.saved, { state: "yes", at: null });
  const verdict = board.commit("Set head", put(board.committed, "heads", "h1", head(1)));
  assert.equal(board.plan.heads?.h1?.x_ft, 1);
  assert.deepEqual(board.saved, { state: "saving", count: 1 });
  assert.deepEqual(await verdict, { saved: true });
  assert.equal(board.rev, 2);
  assert.equal(board.saved.state, "yes");
  assert.deepEqual(api.docs[1], board.plan);
});

test("a preview stores nothing and cancelling brings the document back", () => {
  const { api, board, shown } = open(put(empty, "heads", "h1", head(1)));
  board.preview(put(board.committed, "heads", "h1", head(5)));
  assert.equal(board.plan.heads?.h1?.x_ft, 5);
  assert.equal(board.committed.heads?.h1?.x_ft, 1);
  assert.deepEqual(shown.at(-1), [1, { heads: { h1: { x_ft: 5 } } }]);
  board.cancel();
  assert.equal(board.plan.heads?.h1?.x_ft, 1);
  assert.deepEqual(shown.at(-1), [1, {}]);
  assert.deepEqual(api.calls, []);
});

test("while the server is away changes are kept and the board says so; then all are stored", async () => {
  const { api, board } = open();
  api.faults = ["away", "away"];
  const seen: string[] = [];
  board.subscribe("saved", () => seen.push(board.saved.state));
  void board.commit("A", put(board.committed, "heads", "h1", head(1)));
  void board.commit("B", put(board.committed, "heads", "h2", head(2)));
  await settled(board);
  assert.ok(seen.includes("no"));
  assert.equal(board.rev, 3);
  assert.deepEqual(api.docs[2], board.plan);
});

test("a step stored whose answer was lost is not a conflict", async () => {
  const { api, board } = open();
  api.faults = ["lost"];
  await board.commit("A", put(board.committed, "heads", "h1", head(1)));
  assert.equal(board.conflict, null);
  assert.equal(board.rev, 2);
  assert.deepEqual(api.calls, ["A on 1", "A on 1"]);
});

test("a refused step is taken off the board again with a sentence; later steps stay", async () => {
  const { api, board } = open();
  api.faults = [failure(422, "The outline crosses itself.")];
  const bad = board.commit("Draw Lawn", put(board.committed, "heads", "h1", head(1)));
  void board.commit("B", put(board.committed, "heads", "h2", head(2)));
  assert.equal((await bad).saved, false);
  await settled(board);
  assert.equal(board.plan.heads?.h1, undefined);
  assert.equal(board.plan.heads?.h2?.x_ft, 2);
  assert.match(board.notice?.sentence ?? "", /“Draw Lawn” was not kept. The outline crosses itself./);
});

test("rowB22: when both changed the plan nothing is overwritten, and mine can be kept as a copy", async () => {
  const { api, board } = open();
  api.elsewhere({ heads: { h9: head(9) } }, "Theirs");
  void board.commit("Mine", put(board.committed, "heads", "h1", head(1)));
  await new Promise((r) => setImmediate(r));
  assert.equal(board.saved.state, "conflict");
  assert.equal(await board.keepMine(), "copy");
  assert.equal(api.created[0]?.heads?.h1?.x_ft, 1);
  assert.equal(api.created[0]?.name, "Lot (my copy)");
  assert.equal(api.rev, 2);
});

test("rowB22: or theirs can be taken", async () => {
  const { api, board } = open();
  api.elsewhere({ heads: { h9: head(9) } }, "Theirs");
  void board.commit("Mine", put(board.committed, "heads", "h1", head(1)));
  await new Promise((r) => setImmediate(r));
  await board.takeTheirs();
  assert.equal(board.conflict, null);
  assert.equal(board.saved.state, "yes");
  assert.deepEqual(Object.keys(board.plan.heads ?? {}), ["h9"]);
  await board.commit("Now", put(board.committed, "heads", "h1", head(1)));
  assert.equal(board.rev, 3);
});

test("a tab with nothing unsent follows the others", async () => {
  const { api, board } = open();
  api.elsewhere({ heads: { h9: head(9) } }, "Theirs");
  board.pushed(2);
  await new Promise((r) => setImmediate(r));
  assert.equal(board.rev, 2);
  assert.equal(board.plan.heads?.h9?.x_ft, 9);
});

test("what another tab did during a gesture is taken when the gesture is dropped", async () => {
  const { api, board } = open();
  board.preview(put(board.committed, "heads", "h1", head(1)));
  api.elsewhere({ heads: { h9: head(9) } }, "Theirs");
  board.pushed(2);
  await new Promise((r) => setImmediate(r));
  assert.equal(board.rev, 1); // nothing moves under the hand
  board.cancel();
  await new Promise((r) => setImmediate(r));
  assert.equal(board.rev, 2);
  await board.commit("Mine", put(board.committed, "heads", "h2", head(2)));
  assert.equal(board.conflict, null);
});

test("a push of the step under way does not reload", async () => {
  const { api, board } = open();
  const done = board.commit("A", put(board.committed, "heads", "h1", head(1)));
  board.pushed(2);
  await done;
  await new Promise((r) => setImmediate(r));
  assert.equal(board.rev, 2);
  assert.deepEqual(api.calls, ["A on 1"]);
});

test("rowA8: undo and redo go through the server, restore the selection and say what they did", async () => {
  const { board, said } = open();
  await board.commit("Set head 1-1", put(board.committed, "heads", "h1", head(1)));
  await board.commit("Move head 1-1", put(board.committed, "heads", "h1", head(4)));
  const both = Promise.all([board.undo(), board.undo()]);
  assert.equal(board.turns, 2);
  await both;
  assert.equal(board.turns, 0);
  assert.equal(board.plan.heads?.h1, undefined);
  assert.deepEqual(said, ["Undid: move head 1-1", "Undid: set head 1-1"]);
  await board.redo();
  assert.equal(find(board.plan, "heads", "h1")?.x_ft, 1);
  assert.deepEqual([...board.selection], ["heads/h1"]);
  await board.undo();
  await board.undo();
  assert.equal(said.at(-1), "Nothing to undo.");
});

test("rowA8: undo of a table's row shows nothing on the board, where it does not lie", async () => {
  const valve: Device = { name: "Valve", kind: "zone_valve", generic: false, source: "typed", loss: [] };
  const { api, board } = open({ ...empty, devices: { v: valve } });
  let looks = 0;
  board.subscribe("look", () => looks++);
  await board.commit("Change a point", put(board.committed, "devices", "v", { ...valve, name: "Other" }));
  api.about = ["devices/v"];
  await board.undo();
  assert.equal(board.plan.devices?.v?.name, "Valve");
  assert.deepEqual([[...board.selection], looks], [[], 0]);
});

test("undo of a step never sent takes it back here, and redo sends it", async () => {
  const { api, board } = open();
  api.faults = ["away"];
  let go: () => void = () => {};
  const slow = new Promise<void>((r) => {
    go = r;
  });
  const patient = new Board({ id: "p", rev: 1, doc: empty, undo: "", redo: "", api, wait: () => slow });
  void patient.commit("A", put(patient.committed, "heads", "h1", head(1)));
  void patient.commit("B", put(patient.committed, "heads", "h2", head(2)));
  await patient.undo();
  assert.deepEqual(Object.keys(patient.plan.heads ?? {}), ["h1"]);
  await patient.redo();
  assert.deepEqual(Object.keys(patient.plan.heads ?? {}), ["h1", "h2"]);
  go();
  await settled(patient);
  assert.deepEqual(api.docs[2], patient.plan);
  assert.equal(board.rev, 1);
});

test("nudges in quick succession become one step", async () => {
  const { api, board } = open(put(empty, "heads", "h1", head(0)));
  for (let x = 1; x <= 5; x++)
    void board.commit("Move head", put(board.committed, "heads", "h1", head(x)), "nudge");
  assert.equal(board.saved.state, "saving");
  board.flush();
  await settled(board);
  assert.deepEqual(api.calls, ["Move head on 1"]);
  assert.equal(api.docs[1]?.heads?.h1?.x_ft, 5);
});

test("what is selected and gone is no longer selected", async () => {
  const { board } = open(put(empty, "heads", "h1", head(0)));
  board.select(["heads/h1", "heads/none"]);
  assert.deepEqual([...board.selection], ["heads/h1"]);
  await board.commit("Delete head", { ...board.committed, heads: {} });
  assert.equal(board.selection.size, 0);
});

type Step = { label: string; patch: Patch };

test("steps a dead tab left are made again, but for one that was stored after all", async () => {
  const { api, board } = open();
  const steps: Step[] = [
    { label: "A", patch: { heads: { h1: head(1) } } },
    { label: "B", patch: { heads: { h2: head(2) } } },
  ];
  assert.equal(board.resume({ rev: 1, doc: empty, steps }), 2);
  await settled(board);
  assert.deepEqual(api.calls, ["A on 1", "B on 2"]);
  const kept = { rev: 2, doc: empty, steps: steps.slice(1) };
  board.undoLabel = "B";
  assert.equal(board.resume(kept), 0);
  assert.equal(board.resume({ ...kept, rev: 1 }), null);
});

test("row A31: an earlier state is looked at and nothing can be changed meanwhile", async () => {
  const { api, board, said, shown } = open();
  await board.commit("Set head", put(board.committed, "heads", "h1", head(1)));
  board.preview(put(board.committed, "heads", "h1", head(5))); // a gesture under way is dropped
  board.select(["heads/h1"]);
  let told = 0;
  board.subscribe("earlier", () => told++);
  board.lookBack({ doc: empty, words: "after “Plan made”" });
  assert.equal(board.plan, empty);
  assert.equal(board.committed.heads?.h1?.x_ft, 1);
  assert.equal(board.selection.size, 0);
  assert.deepEqual(shown.at(-1), [2, { heads: null }]); // the map follows; a preview stores nothing
  board.preview(put(empty, "heads", "h2", head(2)));
  assert.equal(board.plan, empty);
  const verdict = await board.commit("Draw", put(empty, "heads", "h2", head(2)));
  assert.equal(verdict.saved, false);
  assert.match(board.notice?.sentence ?? "", /earlier state/);
  await board.undo();
  await board.redo();
  assert.match(said.at(-1) ?? "", /earlier state/);
  assert.deepEqual(api.calls, ["Set head on 1"]);
  board.lookBack(null);
  assert.equal(board.plan.heads?.h1?.x_ft, 1);
  assert.equal(told, 2);
  assert.ok((await board.commit("Move", put(board.committed, "heads", "h1", head(3)))).saved);
});

test("row A31: a change refused while an earlier state is looked at is not said to be made", async () => {
  const { board, said } = open();
  board.lookBack({ doc: empty, words: "after “Plan made”" });
  void board.commit("Draw", put(empty, "heads", "h2", head(2)));
  board.announce("Head drawn."); // as whoever asked for it would go on
  assert.match(said.at(-1) ?? "", /earlier state/);
  await Promise.resolve();
  board.announce("Something else.");
  assert.equal(said.at(-1), "Something else.");
});

test("row A31: going back forgets what was taken back before it was sent", async () => {
  const { api, board } = open();
  api.faults = ["away", "away", "away"];
  void board.commit("First", put(board.committed, "heads", "h1", head(1)));
  void board.commit("Second", put(board.committed, "heads", "h2", head(2)));
  await board.undo();
  assert.equal(board.canRedo, true);
  await board.goBack((rev) => api.commit("p1", rev, { heads: null }, "Go back") as ReturnType<Made["load"]>);
  assert.equal(board.canRedo, false);
});

test("row A31: going back waits for what is not stored, and shows the plan after it", async () => {
  const { api, board } = open();
  void board.commit("Move head", put(board.committed, "heads", "h1", head(1)), "nudge"); // held back for a moment
  board.lookBack({ doc: empty, words: "after “Plan made”" });
  const made = await board.goBack(async (rev) => {
    api.calls.push(`back on ${rev}`);
    return api.commit("p1", rev, { heads: null }, "Go back to “Plan made”") as ReturnType<Made["load"]>;
  });
  assert.equal(made, true);
  assert.deepEqual(api.calls, ["Move head on 1", "back on 2", "Go back to “Plan made” on 2"]);
  assert.equal(board.earlier, null);
  assert.deepEqual(board.plan, empty);
  assert.equal(board.rev, 3);
  assert.equal(board.undoLabel, "Go back to “Plan made”");
});

test("row A31: going back on an old revision loads the plan and changes nothing", async () => {
  const { api, board, said } = open();
  api.elsewhere({ name: "Theirs" }, "Rename");
  const earlier = { doc: empty, words: "after “Plan made”" };
  board.lookBack(earlier);
  assert.equal(await board.goBack(async () => failure(412)), false);
  assert.equal(board.earlier, earlier); // still looked at
  assert.equal(board.committed.name, "Theirs");
  assert.match(said.at(-1) ?? "", /history again/);
  assert.equal(await board.goBack(async () => failure(410, "It is damaged.")), false);
  assert.equal(board.notice?.sentence, "It is damaged.");
});

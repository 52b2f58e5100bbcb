import assert from "node:assert/strict";
import { test } from "node:test";
import type { Api, Failure } from "./api";
import type { Kept } from "./journal";
import { type Plan, put } from "./model";
import { Board } from "./state";

const head = (x: number) => ({ nozzle: "n", body: "b", x_ft: x, y_ft: 0 });
const lot: Plan = { format: "evenfall-plan/1", name: "Lot", show: "us", heads: { h1: head(0) } };
const failure = (status: number): Failure => ({ ok: false, status, error: `status ${status}`, problems: [] });

/** A board on a server and a journal that write down what they are asked, in order. */
function open(answers: Failure[] = [], wait = async (): Promise<void> => {}, full = false) {
  const log: string[] = [];
  let rev = 1;
  let slow: Promise<void> = Promise.resolve();
  const stored = { rev: 1, doc: lot, undo: "", redo: "" };
  const api: Api = {
    load: async () => ({ ok: true, value: stored }),
    commit: async (_id, base, _patch, label) => {
      log.push(`send ${label} on ${base}`);
      const fault = answers.shift();
      if (fault) return fault;
      rev = base + 1;
      return { ok: true, value: { rev, undo: label, redo: "" } };
    },
    undo: async () => failure(409),
    redo: async () => failure(409),
    create: async () => ({ ok: true, value: { id: "p2" } }),
  };
  const journal = {
    keep: async (k: Kept | null) => {
      await slow;
      if (full) throw new Error("the browser's store is full");
      log.push(k ? `keep ${k.steps.map((s) => s.label).join(", ")} on ${k.rev}` : "empty");
    },
  };
  const board = new Board({ id: "p", ...stored, api, journal, wait });
  const hold = (): (() => void) => {
    let go: () => void = () => {};
    slow = new Promise((r) => {
      go = r;
    });
    return go;
  };
  return { board, log, hold };
}

const moved = (board: Board, x: number): Plan => put(board.committed, "heads", "h1", head(x));
const turn = (): Promise<void> => new Promise((r) => setTimeout(r));

test("row B26: a step is in the browser's journal before it is sent", async () => {
  const { board, log, hold } = open();
  const go = hold();
  const done = board.commit("Move head", moved(board, 1));
  await turn();
  assert.deepEqual(log, [], "nothing is sent while the browser has not kept it");
  assert.equal(board.saved.state, "saving");
  go();
  await done;
  await turn();
  assert.deepEqual(log, ["keep Move head on 1", "send Move head on 1", "empty"]);
  assert.equal(board.saved.state, "yes");
});

test("row B26: a nudge that waits for the next one is in the journal too", async () => {
  const { board, log } = open();
  void board.commit("Nudge head", moved(board, 1), "nudge");
  void board.commit("Nudge head", moved(board, 2), "nudge");
  await turn();
  assert.deepEqual(log, ["keep Nudge head on 1", "keep Nudge head on 1"]);
  assert.equal(board.saved.state, "saving", "closing the page asks");
  board.flush();
  await turn();
  assert.deepEqual(log.slice(2), ["keep Nudge head on 1", "send Nudge head on 1", "empty"]);
  void board.commit("Nudge head", moved(board, 3), "nudge");
  void board.commit("Nudge head", moved(board, 2), "nudge"); // back where it was
  board.flush();
  await turn();
  assert.equal(log.at(-1), "empty", "a nudge there and back leaves nothing");
});

test("row B19: a full disk is told apart from a server that is away, and saving goes on by itself", async () => {
  const { board, log } = open([failure(0), failure(507), failure(507)]);
  const states: (boolean | undefined)[] = [];
  board.subscribe("saved", () => {
    const s = board.saved;
    if (s.state === "no") states.push(s.full);
  });
  await board.commit("Move head", moved(board, 1));
  assert.deepEqual(states, [false, true, true]);
  assert.equal(log.filter((l) => l.startsWith("send")).length, 4);
  assert.equal(board.saved.state, "yes");
});

test("row B26: a change counts as kept only once the browser has it, whatever the server says meanwhile", async () => {
  const { board, hold } = open([failure(507)], () => new Promise(() => {}));
  const keeping = (): boolean | undefined => (board.saved.state === "no" ? board.saved.keeping : undefined);
  void board.commit("Move head", moved(board, 1));
  await turn();
  assert.equal(keeping(), false, "the first is kept, and the server is full");
  const go = hold();
  void board.commit("Move head again", moved(board, 2));
  await turn();
  assert.equal(keeping(), true, "the second is on its way to the browser's journal");
  let told = 0;
  board.subscribe("saved", () => told++);
  go();
  await turn();
  assert.equal(keeping(), false);
  assert.equal(told, 1, "the page is told so that it can say so");
});

test("a browser that refuses to keep a step does not hold it back, and nothing is called kept", async () => {
  const { board, log } = open([failure(0)], () => new Promise(() => {}), true);
  void board.commit("Move head", moved(board, 1));
  await turn();
  await turn();
  assert.deepEqual(log, ["send Move head on 1"]);
  const saved = board.saved;
  assert.ok(saved.state === "no" && saved.keeping, JSON.stringify(saved));
});

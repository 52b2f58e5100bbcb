import assert from "node:assert/strict";
import { test } from "node:test";
import { type Meant, type PointerIn, pointed, resting } from "./pointers";

const at = (px: number, py: number) => ({ px, py });

/** Plays events, a second apart; touch unless said otherwise. */
function play(events: readonly Partial<PointerIn>[]): { did: string[]; meant: Meant[]; mode: string } {
  let state = resting;
  const meant: Meant[] = [];
  for (const [i, e] of events.entries()) {
    const full: PointerIn = {
      type: "move",
      id: 1,
      at: at(0, 0),
      kind: "touch",
      button: 0,
      time: i * 1000,
      space: false,
      ...e,
    };
    const [next, out] = pointed(state, full);
    state = next;
    meant.push(...out);
  }
  return { did: meant.map((m) => m.do), meant, mode: state.mode };
}

test("row A13: a finger is still until it moved more than 6 px, a mouse and a pen 4", () => {
  for (const [kind, px, drags] of [
    ["touch", 6, false],
    ["touch", 7, true],
    ["mouse", 4, false],
    ["mouse", 5, true],
    ["pen", 4, false],
    ["pen", 5, true],
  ] as const) {
    const { did } = play([
      { type: "down", kind },
      { kind, at: at(px, 0) },
      { type: "up", kind, at: at(px, 0) },
    ]);
    assert.deepEqual(did, drags ? ["press", "drag", "release"] : ["press", "release"], `${kind} ${px}`);
  }
});

test("row A13: a second finger drops the stroke and moves the view", () => {
  const { did, mode } = play([
    { type: "down" },
    { at: at(20, 0) },
    { type: "down", id: 2, at: at(100, 0) },
    { id: 2, at: at(140, 0) },
    { type: "up", id: 2, at: at(140, 0) },
    { at: at(60, 60) },
  ]);
  assert.deepEqual(did, ["press", "drag", "abort", "pinch", "settle"]);
  assert.equal(mode, "spent"); // the finger left behind does nothing
});

test("row A13: where fingers only move, one pans, two zoom and the pen draws", () => {
  const fingersMove = true;
  const one = play([
    { type: "down", fingersMove },
    { at: at(30, 10), fingersMove },
    { type: "up", fingersMove },
  ]);
  assert.deepEqual(one.did, ["pan", "settle"]);
  const two = play([
    { type: "down", fingersMove },
    { type: "down", id: 2, at: at(100, 0), fingersMove },
    { id: 2, at: at(150, 0), fingersMove },
  ]);
  assert.deepEqual(two.did, ["pinch"]);
  const pen = play([
    { type: "down", kind: "pen", fingersMove },
    { kind: "pen", at: at(30, 10), fingersMove },
    { type: "up", kind: "pen", at: at(30, 10), fingersMove },
  ]);
  assert.deepEqual(pen.did, ["press", "drag", "release"]);
});

test("row A13: the hand that rests beside a pen neither draws nor stops it", () => {
  const { did } = play([
    { type: "down", kind: "pen" },
    { type: "down", id: 2, at: at(200, 200) },
    { id: 2, at: at(220, 200) },
    { kind: "pen", at: at(50, 0) },
    { type: "up", id: 2, at: at(220, 200) },
    { type: "up", kind: "pen", at: at(50, 0) },
  ]);
  assert.deepEqual(did, ["press", "drag", "release"]);
});

test("row A13: a pen put down on a resting hand drops what the hand did", () => {
  const { did } = play([
    { type: "down" },
    { at: at(30, 0) },
    { type: "down", id: 2, kind: "pen", at: at(80, 80) },
    { type: "up", id: 2, kind: "pen", at: at(80, 80) },
  ]);
  assert.deepEqual(did, ["press", "drag", "abort", "press", "release"]);
});

test("row A13: a long press drops the stroke, asks for the menu, and is no click", () => {
  const { did, mode } = play([{ type: "down" }, { type: "hold" }, { at: at(40, 0) }, { type: "up" }]);
  assert.deepEqual(did, ["press", "abort", "menu"]);
  assert.equal(mode, "idle");
  // Once it moved it is a drag, however long it lasts.
  const moved = play([{ type: "down" }, { at: at(40, 0) }, { type: "hold" }, { type: "up", at: at(40, 0) }]);
  assert.deepEqual(moved.did, ["press", "drag", "release"]);
});

test("row A13: a stroke taken away by the system is dropped", () => {
  assert.deepEqual(play([{ type: "down" }, { at: at(40, 0) }, { type: "cancel" }]).did, [
    "press",
    "drag",
    "abort",
  ]);
});

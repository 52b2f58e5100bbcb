import assert from "node:assert/strict";
import { test } from "node:test";
import { keepAids, loadAids, usualAids } from "./aids";
import { type CommandID, gestures, groups, table, tooltip } from "./commands";
import { type Asked, parseEntry } from "./entry";
import { arrow, commandFor, type KeyIn, keyName } from "./keys";
import { type Meant, type PointerIn, pointed, resting } from "./pointers";

const key = (k: string, more: Partial<KeyIn> = {}): KeyIn => ({
  key: k,
  code: "",
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  shiftKey: false,
  ...more,
});

const board = { board: true, typing: false };
const page = { board: false, typing: false };

test("rowA11: no two commands share a key, and every command says what it does", () => {
  const seen = new Map<string, string>();
  for (const [id, c] of Object.entries(table)) {
    assert.ok(c.title && c.says.endsWith("."), id);
    assert.ok(groups.includes(c.group));
    for (const k of c.keys) {
      assert.equal(seen.get(k), undefined, `${k} belongs to ${seen.get(k)} and ${id}`);
      seen.set(k, id);
    }
  }
});

test("rowA11: every key of the table runs its command on the board", () => {
  const named: Record<string, Partial<KeyIn>> = {
    Ctrl: { ctrlKey: true },
    Shift: { shiftKey: true },
    Alt: { altKey: true },
  };
  for (const [id, c] of Object.entries(table)) {
    for (const k of c.keys) {
      const words = k.split("+");
      const last = words.pop() || "+";
      const mods = Object.assign({}, ...words.filter((w) => w !== "").map((w) => named[w]));
      assert.equal(commandFor(key(last, mods), board), id as CommandID, k);
    }
  }
});

test("rowA11: lone keys do nothing off the board, and no key does anything while text is typed", () => {
  for (const letter of "abcdefghijklmnopqrstuvwxyz0123456789[]{},.+-?=") {
    assert.equal(commandFor(key(letter), page), null, letter);
    assert.equal(commandFor(key(letter), { board: true, typing: true }), null, letter);
  }
  assert.equal(commandFor(key("z", { ctrlKey: true }), page), "edit.undo");
  assert.equal(
    commandFor(key("z", { ctrlKey: true }), { board: false, typing: true }),
    null,
    "text keeps its own undo",
  );
  for (const [id, c] of Object.entries(table)) {
    for (const k of c.keys) if (k.length === 1) assert.equal(c.where, "board", `${id} ${k}`);
  }
});

test("rowA11: Cmd counts as Ctrl, and other scripts by the place of the key", () => {
  assert.equal(keyName(key("z", { metaKey: true, shiftKey: true })), "Ctrl+Shift+Z");
  assert.equal(keyName(key("?", { shiftKey: true })), "?");
  assert.equal(keyName(key("ф", { code: "KeyA" })), "A");
  assert.equal(keyName(key("é", { code: "Digit2" })), "é");
  assert.deepEqual(arrow("ArrowUp"), [0, 1]);
});

test("tooltips and the sheet come from the one table", () => {
  assert.equal(tooltip(table["tool.outline"]), "Outline (A). Click corners or type lengths; Enter closes.");
  assert.ok(gestures.every((g) => g.hold && g.does.endsWith(".")));
});

// Pointers

const at = (px: number, py: number) => ({ px, py });
function play(events: Partial<PointerIn>[]): Meant[] {
  let state = resting;
  const out: Meant[] = [];
  events.forEach((e, i) => {
    const full: PointerIn = {
      type: "move",
      id: 1,
      at: at(0, 0),
      kind: "mouse",
      button: 0,
      time: i * 1000,
      space: false,
      ...e,
    };
    const [next, meant] = pointed(state, full);
    state = next;
    out.push(...meant);
  });
  return out;
}
const did = (m: Meant[]) => m.map((x) => x.do);

test("a click, a drag, and what is too short to be one", () => {
  const click = play([{ type: "down", at: at(10, 10) }, { at: at(12, 11) }, { type: "up", at: at(12, 11) }]);
  assert.deepEqual(did(click), ["press", "release"]);
  assert.equal((click[1] as { moved: boolean }).moved, false);
  const drag = play([{ type: "down", at: at(10, 10) }, { at: at(30, 10) }, { type: "up", at: at(30, 10) }]);
  assert.deepEqual(did(drag), ["press", "drag", "release"]);
  assert.equal((drag[2] as { moved: boolean }).moved, true);
});

test("two quick clicks in one place are a double click, slow ones are not", () => {
  const click = (time: number, x = 0): Partial<PointerIn>[] => [
    { type: "down", at: at(x, 0), time },
    { type: "up", at: at(x, 0), time: time + 20 },
  ];
  const clicks = (m: Meant[]) =>
    m.filter((x) => x.do === "release").map((x) => (x as { clicks: number }).clicks);
  assert.deepEqual(clicks(play([...click(0), ...click(200)])), [1, 2]);
  assert.deepEqual(clicks(play([...click(0), ...click(900)])), [1, 1]);
  assert.deepEqual(clicks(play([...click(0), ...click(200, 40)])), [1, 1]);
  assert.deepEqual(clicks(play([...click(0), ...click(200), ...click(400)])), [1, 2, 1]);
});

test("rowA13: a second finger drops the stroke of the first, then two fingers move and zoom", () => {
  const m = play([
    { type: "down", id: 1, at: at(100, 100), kind: "touch" },
    { id: 1, at: at(120, 100), kind: "touch" },
    { type: "down", id: 2, at: at(220, 100), kind: "touch" },
    { id: 2, at: at(320, 100), kind: "touch" },
    { type: "up", id: 2, at: at(320, 100), kind: "touch" },
    { id: 1, at: at(150, 150), kind: "touch" },
    { type: "up", id: 1, at: at(150, 150), kind: "touch" },
  ]);
  assert.deepEqual(did(m), ["press", "drag", "abort", "pinch", "settle"]);
  const pinch = m[3] as { factor: number; dx: number; dy: number; at: { px: number } };
  assert.equal(pinch.factor, 2);
  assert.deepEqual([pinch.dx, pinch.dy, pinch.at.px], [50, 0, 220]);
});

test("rowA13: a pointer taken away aborts its stroke and can start anew", () => {
  const m = play([
    { type: "down", at: at(0, 0) },
    { at: at(50, 0) },
    { type: "cancel", at: at(50, 0) },
    { at: at(60, 0) },
    { type: "down", at: at(60, 0) },
    { type: "up", at: at(60, 0) },
  ]);
  assert.deepEqual(did(m), ["press", "drag", "abort", "hover", "press", "release"]);
});

test("the middle button and Space move the view", () => {
  for (const start of [{ button: 1 }, { button: 0, space: true }]) {
    const m = play([
      { type: "down", at: at(0, 0), ...start },
      { at: at(30, -10) },
      { type: "up", at: at(30, -10) },
    ]);
    assert.deepEqual(did(m), ["pan", "settle"]);
    assert.deepEqual([(m[0] as { dx: number }).dx, (m[0] as { dy: number }).dy], [30, -10]);
  }
  assert.deepEqual(did(play([{ type: "down", button: 2 }])), []);
});

// The box at the pointer

const outline: Asked = { fields: ["length", "angle"], system: "us", placeFirst: false };

test("rowA2: the box reads lengths, angles, pairs and places", () => {
  const cases: [string[], Asked, unknown][] = [
    [["12.5"], outline, { values: { length: 12.5 } }],
    [["25'6\"", "90"], outline, { values: { length: 25.5, angle: 90 } }],
    [["", "45"], outline, { values: { angle: 45 } }],
    [["90<45"], outline, { values: { length: 90, angle: 45 } }],
    [["12+3.5<-30"], outline, { values: { length: 15.5, angle: -30 } }],
    [["12, 5"], outline, { values: {}, place: [12, 5] }],
    [["-12, 5' 6\""], outline, { values: {}, place: [-12, 5.5] }],
    [["12;5"], outline, { values: {}, place: [12, 5] }],
    [["12,5"], { ...outline, placeFirst: true }, { values: {}, place: [12, 5] }],
    [["44,24"], { fields: ["place"], system: "us", placeFirst: true }, { values: {}, place: [44, 24] }],
    [
      ["30 x 20"],
      { fields: ["width", "depth"], system: "us", placeFirst: false },
      { values: { width: 30, depth: 20 } },
    ],
    [
      ["8x5.5"],
      { fields: ["radius", "second"], system: "us", placeFirst: false },
      { values: { radius: 8, second: 5.5 } },
    ],
    [["7.5m"], outline, { values: { length: 7.5 / 0.3048 } }],
  ];
  for (const [texts, asked, want] of cases) {
    const got = parseEntry(texts, asked);
    assert.ok(got.ok, `${texts}: ${got.ok ? "" : got.sentence}`);
    assert.deepEqual(got.value, want, texts.join(" | "));
  }
});

test("rowA2: what cannot be is refused with what to type instead", () => {
  for (const text of [
    "12,5",
    "abc",
    "-1",
    "0",
    "NaN",
    "1e9",
    "12<",
    "<45",
    "1<2<3",
    "5, ",
    "1, 2, 3",
    "3 x 4 x 5",
    "",
  ]) {
    const got = parseEntry([text], outline);
    assert.equal(got.ok, false, text);
    if (!got.ok) assert.match(got.sentence, /\.$/);
  }
  const two = parseEntry(["12,5"], outline);
  assert.match(two.ok ? "" : two.sentence, /For a decimal write 12\.5; for a place write 12, 5\./);
});

test("aids are kept by the browser, and anything odd there counts as nothing", () => {
  const kept = new Map<string, string>();
  const shelf = {
    getItem: (k: string) => kept.get(k) ?? null,
    setItem: (k: string, v: string) => void kept.set(k, v),
  };
  assert.deepEqual(loadAids(shelf), usualAids);
  keepAids(shelf, { ...usualAids, ortho: true, wheel: "pan" });
  assert.deepEqual(loadAids(shelf), { ...usualAids, ortho: true, wheel: "pan" });
  for (const odd of ["", "{", "null", "7", '{"snap":"yes","wheel":3}']) {
    kept.set("evenfall-aids", odd);
    assert.deepEqual(loadAids(shelf), usualAids, odd);
  }
  const forbidden = {
    getItem: () => {
      throw new Error("no");
    },
    setItem: () => {
      throw new Error("no");
    },
  };
  assert.deepEqual(loadAids(forbidden), usualAids);
  keepAids(forbidden, usualAids);
});

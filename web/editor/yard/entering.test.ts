import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "../api";
import type { Plan } from "../model";
import { openingOf, roundOf } from "./auditsetup";
import { measures } from "./measures";
import { keptSize, LONGEST_PX, PhotoPost } from "./photopost";
import type { Yard } from "./session";
import { elapsed } from "./stopwatch";
import type { Keeper, Waiting } from "./typed";
import { markFor } from "./wirelist";

test("figures are read as people type them, in either system, and within the plan's limits", () => {
  const cases: [keyof typeof measures, string, "us" | "metric", number][] = [
    ["psi", "58", "us", 58],
    ["psi", "4", "metric", 58.015],
    ["psi", "4 bar", "us", 58.015],
    ["gpm", "8.1", "us", 8.1],
    ["gpm", "30", "metric", 7.925],
    ["seconds", "2 min", "us", 120],
    ["heldMinutes", "2 h", "us", 120],
    ["ohms", "32", "us", 32],
    ["ohms", "0.4 Ω", "us", 0.4],
    ["ml", "25", "metric", 25],
    ["throat", "100", "metric", 15.5],
    ["under", "10", "metric", 3.937],
    ["tilt", "12°", "us", 12],
  ];
  for (const [of, typed, show, want] of cases) {
    const v = measures[of].read(typed, show);
    assert.ok(v.ok, `${of} ${typed}: ${v.ok ? "" : v.sentence}`);
    assert.ok(Math.abs((v.value ?? Number.NaN) - want) < 0.002, `${of} ${typed}: ${v.value}, not ${want}`);
  }
  for (const of of Object.keys(measures) as (keyof typeof measures)[]) {
    assert.deepEqual(measures[of].read("  ", "us"), { ok: true, value: undefined }, of);
    for (const wrong of ["x", "4x", "-1", "1e999", "NaN", "4,5"])
      assert.equal(measures[of].read(wrong, "us").ok, false, `${of}: ${wrong}`);
  }
});

test("what is shown in a field reads back as what was kept", () => {
  for (const [of, m] of Object.entries(measures))
    for (const show of ["us", "metric"] as const) {
      const v = m.read(m.text(12.5, show), show);
      assert.ok(v.ok && Math.abs((v.value ?? 0) - 12.5) < 0.06, `${of}, ${show}`);
    }
});

test("a photograph is made no larger than it is, and never longer than is kept", () => {
  assert.deepEqual(keptSize(4000, 3000), { width: LONGEST_PX, height: 1500 });
  assert.deepEqual(keptSize(3000, 4000), { width: 1500, height: LONGEST_PX });
  assert.deepEqual(keptSize(640, 480), { width: 640, height: 480 });
  assert.deepEqual(keptSize(20000, 3), { width: LONGEST_PX, height: 1 });
});

test("wires of one colour are told apart by a number", () => {
  assert.equal(markFor("Red", []), "Red");
  assert.equal(markFor("Red", ["Red"]), "Red 2");
  assert.equal(markFor("Red", ["Red", "Red 2", "Blue"]), "Red 3");
});

test("a watch tells tenths of a second, and nothing below none", () => {
  assert.equal(elapsed(1000, 34_249), 33.2);
  assert.equal(elapsed(2000, 1000), 0);
});

/** A yard with as much of a board as photographs need, and what the browser keeps. */
function photographing(answers: Outcome<{ sha256: string }>[]) {
  const kept = new Map<string, Waiting>();
  const keeper: Keeper = {
    typed: async () => new Map(),
    keepTyped: async () => {},
    waiting: async () => [...kept.values()],
    keepPhoto: async (id, w) => void (w ? kept.set(id, w) : kept.delete(id)),
  };
  const said: string[] = [];
  const board = {
    id: "x",
    committed: { format: "evenfall-plan/1", name: "Yard", show: "us" } as Plan,
    announce: () => {},
    show: (n: { sentence: string }) => void said.push(n.sentence),
    commit: async (_: string, next: Plan) => {
      board.committed = next;
      return { saved: true };
    },
  };
  const yard = { board, today: "2026-05-01", changed: () => {} } as unknown as Yard;
  const later: (() => void)[] = [];
  const send = async () => answers.shift() ?? { ok: true as const, value: { sha256: "ab" } };
  const post = new PhotoPost(yard, keeper, send, (fn) => later.push(fn));
  return { post, kept, board, said, later };
}

const taken = (id: string): Waiting => ({
  id,
  picture: new Blob(["x"]),
  about: "heads/h1",
  on: "2026-05-01",
  width_px: 2,
  height_px: 1,
});

const settle = () => new Promise((r) => setTimeout(r, 5));
const away = { ok: false as const, status: 0, error: "away", problems: [] };
const refused = { ok: false as const, status: 413, error: "Too large.", problems: [] };

test("a photograph waits in the browser while the server is away, and is attached once it is there", async () => {
  const { post, kept, board, later } = photographing([away]);
  await post.add(taken("f1"));
  await settle();
  assert.equal(kept.size, 1);
  assert.equal(post.waiting.length, 1);
  assert.equal(Object.keys(board.committed.photos ?? {}).length, 0);
  later.pop()?.();
  await settle();
  assert.equal(kept.size, 0);
  assert.deepEqual(board.committed.photos?.f1, {
    sha256: "ab",
    about: "heads/h1",
    on: "2026-05-01",
    width_px: 2,
    height_px: 1,
  });
});

test("what a page before this left is sent first, each photograph once", async () => {
  const { post, kept, board } = photographing([]);
  kept.set("f1", taken("f1"));
  await post.bringBack();
  await post.add(taken("f2"));
  await settle();
  assert.deepEqual(Object.keys(board.committed.photos ?? {}).sort(), ["f1", "f2"]);
  assert.equal(kept.size, 0);
});

test("a photograph the server refuses is told of and not tried for ever", async () => {
  const { post, kept, said } = photographing([refused]);
  await post.add(taken("f1"));
  await settle();
  assert.equal(kept.size, 0);
  assert.equal(post.waiting.length, 0);
  assert.match(said[0] ?? "", /Too large/);
});

test("the opening of a round can goes by its width, and back", () => {
  assert.equal(openingOf(4.5), 15.904);
  for (const across of [0.5, 3.25, 4.5, 12]) {
    const back = roundOf(openingOf(across)) ?? 0;
    assert.ok(Math.abs(back - across) < 1e-3, `${across} in becomes ${back}`);
  }
  assert.equal(openingOf(undefined), undefined);
  assert.equal(roundOf(undefined), undefined);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Api, Outcome } from "../api";
import { apply } from "../merge";
import type { Plan } from "../model";
import type { ProofView } from "../proofview";
import { Board } from "../state";
import { setRun } from "./records";
import { placeOf, placeText, Yard } from "./session";
import { type Keeper, Scraps, type Typed } from "./typed";

const plan: Plan = { format: "evenfall-plan/1", name: "Yard", show: "us", zones: { z1: { name: "Front" } } };

const view = (rev: number): ProofView => ({
  rev,
  start: { says: "", steps: null, tests: null, zones: null },
  wires: { says: "", next: null, wires: null, terminals: null, warnings: null, caution: "" },
  heads: null,
  audits: null,
  built: null,
});

function keeper(): Keeper & { kept: Map<string, Typed> } {
  const kept = new Map<string, Typed>();
  return {
    kept,
    typed: async () => kept,
    keepTyped: async (f, t) => void (t ? kept.set(f, t) : kept.delete(f)),
    waiting: async () => [],
    keepPhoto: async () => {},
  };
}

/** A yard whose server stores each step and tells the proof of what is stored. */
function yard() {
  const at = { rev: 4, doc: plan, away: false, asked: 0 };
  const api = {
    load: async () => ({ ok: true, value: { rev: at.rev, doc: at.doc, undo: "", redo: "" } }),
    commit: async (_: string, __: number, patch: never, label: string) => {
      at.rev++;
      at.doc = apply(at.doc, patch);
      return { ok: true, value: { rev: at.rev, undo: label, redo: "" } };
    },
  } as unknown as Api;
  const board = new Board({ id: "x", rev: 4, doc: plan, undo: "", redo: "", api });
  const proof = async (): Promise<Outcome<ProofView>> => {
    at.asked++;
    if (at.away) return { ok: false, status: 0, error: "away", problems: [] };
    return { ok: true, value: view(at.rev) };
  };
  const later: (() => void)[] = [];
  const y = new Yard(
    board,
    { proof, audit: async () => never(), cans: async () => never() },
    new Scraps(keeper()),
    () => "2026-05-01",
    (fn) => later.push(fn),
  );
  return { y, at, board, later };
}

const never = (): never => {
  throw new Error("not asked here");
};

const settle = () => new Promise((r) => setTimeout(r, 5));

test("the proof is asked anew once what was entered is stored, and is of that revision", async () => {
  const { y, at } = yard();
  await y.refresh();
  assert.equal(y.view?.rev, 4);
  y.step("Flow of zone 1", setRun(y.plan, "z1", "r1", { flow_gpm: 8 }));
  await settle();
  assert.equal(at.rev, 5);
  assert.equal(y.view?.rev, 5);
  assert.ok(y.fresh);
  assert.equal(at.asked, 2, "once for the page, once for the step");
});

test("with the server away the last view stays, with the reason, and it is asked again", async () => {
  const { y, at, later } = yard();
  await y.refresh();
  at.away = true;
  y.step("Flow of zone 1", setRun(y.plan, "z1", "r1", { flow_gpm: 8 }));
  await settle();
  assert.equal(y.view?.rev, 4);
  assert.equal(y.trouble, "away");
  at.away = false;
  later.pop()?.();
  await settle();
  assert.equal(y.view?.rev, 5);
  assert.equal(y.trouble, "");
});

test("a step somebody else made comes into the plan with the proof of it", async () => {
  const { y, at } = yard();
  at.rev = 9;
  at.doc = { ...plan, name: "Renamed" };
  await y.refresh();
  await settle();
  assert.equal(y.plan.name, "Renamed");
  assert.equal(y.board.rev, 9);
});

test("a place on the page is the same after it went through the address", () => {
  for (const p of [
    { section: "start", item: "" },
    { section: "start", item: "zone/z1" },
    { section: "heads", item: "h7" },
  ] as const)
    assert.deepEqual(placeOf(`#${placeText(p)}`), p);
  assert.deepEqual(placeOf("#nothing/such"), { section: "start", item: "" });
  assert.deepEqual(placeOf(""), { section: "start", item: "" });
});

test("what is half typed comes back, and is gone once it is taken", async () => {
  const k = keeper();
  const before = new Scraps(k);
  before.keep("run/z1/static", { text: "5", what: "static pressure of zone 1", where: "start/zone/z1" });
  before.keep("run/z1/static", { text: "58", what: "static pressure of zone 1", where: "start/zone/z1" });
  const after = new Scraps(k); // the battery died between
  assert.equal(await after.bringBack(), 1);
  assert.equal(after.of("run/z1/static"), "58");
  after.drop("run/z1/static");
  assert.equal(await new Scraps(k).bringBack(), 0);
});

test("a browser whose database fails brings nothing back and holds nothing up", async () => {
  const broken = { ...keeper(), typed: () => Promise.reject(new Error("damaged")) };
  const s = new Scraps(broken);
  assert.equal(await s.bringBack(), 0);
  s.keep("a", { text: "1", what: "a", where: "start" });
  assert.equal(s.of("a"), "1");
});

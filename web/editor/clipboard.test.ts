import assert from "node:assert/strict";
import { test } from "node:test";
import type { Shelf } from "./aids";
import { Clipboard, clipFor, clipRead, clipText } from "./clipboard";
import { copyThings, pasteThings } from "./edit";
import type { Plan } from "./model";
import { empty, yard } from "./testplan";

/** What a browser keeps, and any page of it sees. */
class Drawer implements Shelf {
  readonly kept = new Map<string, string>();
  full = false;
  getItem(key: string): string | null {
    return this.kept.get(key) ?? null;
  }
  setItem(key: string, value: string): void {
    if (this.full) throw new Error("full");
    this.kept.set(key, value);
  }
}

const heads = (p: Plan) => Object.values(p.heads ?? {});

test("row A10: what is copied in one plan is pasted in another, with the rows of the catalogue it uses", () => {
  const drawer = new Drawer();
  const [one, two] = [new Clipboard(drawer), new Clipboard(drawer)];
  one.put("p1", copyThings(yard(), ["heads/h2", "areas/a2", "site/site"]));
  const held = two.held;
  assert.equal(held?.from, "p1");
  assert.equal(two.held, held, "read once, so that a second paste is known as one");
  const [p, made] = pasteThings(empty(), clipFor(empty(), held?.clip as never), [5, 5]);
  assert.equal(made.length, 2);
  assert.equal(heads(p)[0]?.x_ft, 45);
  assert.equal(heads(p)[0]?.zone, undefined);
  assert.deepEqual(p.nozzles, yard().nozzles);
  assert.deepEqual(p.bodies, yard().bodies);
  assert.deepEqual(Object.values(p.areas ?? {})[0]?.outline[0], [25, 25]);
});

test("row A10: in another plan a zone of the same name is not the head's, and a row of the same name keeps its figures", () => {
  const clip = copyThings(yard(), ["heads/h1"]);
  const other = yard();
  const row = other.nozzles?.["stream-25"] as object;
  other.nozzles = { "stream-25": { ...row, best_psi: 55 } as never };
  const [p, made] = pasteThings(other, clipFor(other, clip), [0, 5]);
  const pasted = p.heads?.[made[0]?.slice(6) ?? ""];
  assert.equal(pasted?.zone, undefined);
  assert.equal(pasted?.nozzle, "stream-25-2");
  assert.deepEqual(p.nozzles?.["stream-25-2"], row);
  assert.equal(p.nozzles?.["stream-25"]?.best_psi, 55);
  // Once there it is not put there again.
  const [again] = pasteThings(p, clipFor(p, clip), [0, 9]);
  assert.deepEqual(Object.keys(again.nozzles ?? {}).sort(), ["stream-25", "stream-25-2"]);
});

test("row A10: only the rows that are used are kept with a clip", () => {
  const clip = copyThings(yard(), ["trees/t1"]);
  assert.deepEqual(clipRead(clipText({ from: "p", clip }))?.clip.nozzles, {});
});

test("row A10: a text that is not ours is left alone, and what was copied here stays", () => {
  const drawer = new Drawer();
  const board = new Clipboard(drawer);
  for (const text of [
    "",
    "hello",
    "null",
    "[1]",
    '{"type":"other"}',
    '{"type":"evenfall-clip/1","from":"p","things":[]}',
    '{"type":"evenfall-clip/1","from":"p","things":[{"in":"heads","thing":{"x_ft":"far"}}]}',
    '{"type":"evenfall-clip/1","from":"p","things":[{"in":"areas","thing":{"outline":[[1]]}}]}',
    '{"type":"evenfall-clip/1","from":"p","things":[{"in":"site","thing":{}}]}',
  ]) {
    drawer.kept.set("evenfall-clip", text);
    assert.equal(board.held, null, text);
  }
  board.put("p1", copyThings(yard(), ["trees/t1"]));
  drawer.kept.set("evenfall-clip", "hello");
  assert.equal(board.held?.from, "p1");
});

test("row A10: with the drawer full, what is copied still serves the page it was copied on", () => {
  const drawer = new Drawer();
  new Clipboard(drawer).put("p0", copyThings(yard(), ["trees/t1"]));
  drawer.full = true;
  const board = new Clipboard(drawer);
  board.put("p1", copyThings(yard(), ["heads/h1"]));
  assert.equal(board.held?.from, "p1");
  const shut = new Clipboard(null);
  shut.put("p1", copyThings(yard(), ["heads/h1"]));
  assert.equal(shut.held?.from, "p1");
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { type CommandID, table } from "./commands";
import { searchCommands, type Told } from "./commandsearch";
import { findables, search, selectedFor } from "./finding";
import { Layers } from "./layers";
import { matches } from "./matching";
import type { Head, Plan } from "./model";
import { recent, used } from "./recent";
import { yard } from "./testplan";

const told = (id: string, off: string | null = null): Told => {
  const r = table[id as CommandID];
  return {
    key: id,
    title: r.title,
    detail: r.says,
    more: `${r.says} ${r.also ?? ""} ${r.group} ${r.keys.join(" ")}`,
    keys: r.keys,
    state: "",
    off,
  };
};
const all = Object.keys(table).map((id) => told(id));
const first = (query: string, lately: string[] = []) => searchCommands(all, query, lately)[0]?.told.key;

test("row A12: every registered command is reached by typing its title, and the list without typing has all", () => {
  for (const t of all) {
    const found = searchCommands(all, t.title, [])
      .slice(0, 3)
      .map((r) => r.told.key);
    assert.ok(found.includes(t.key), `“${t.title}” finds ${found.join(", ")}`);
  }
  assert.equal(searchCommands(all, "", []).length, all.length);
});

test("row A12: whole words come before beginnings, beginnings before letters in order", () => {
  assert.equal(first("grid"), "aid.grid");
  assert.equal(first("snap to"), "aid.gridsnap");
  assert.equal(first("undo"), "edit.undo");
  assert.equal(first("dupl"), "edit.duplicate");
  assert.equal(first("zmin"), "view.in");
  assert.equal(first("zqx"), undefined);
  assert.ok(searchCommands(all, "sprinkle unicorn", []).length === 0);
  assert.equal(first("ctrl+d"), "edit.duplicate");
  assert.deepEqual(matches("ret", "Rectangle", "", true)?.marks, [0, 1, 3]);
  assert.deepEqual(matches("mirror", "Mirror", "", true)?.marks, [0, 1, 2, 3, 4, 5]);
});

test("row A12: commands answer to the words people have for them", () => {
  for (const [words, id] of [
    ["sprinkler", "tool.head"],
    ["right of way", "draw.right_of_way"],
    ["street", "draw.right_of_way"],
    ["driveway", "draw.paving"],
    ["draw paving", "draw.paving"],
    ["house", "draw.building"],
    ["pool", "draw.water"],
    ["hedge", "draw.hedge"],
    ["pipe", "tool.pipe"],
    ["valve", "tool.fixture"],
    ["outlet", "tool.fixture"],
    ["sleeve", "tool.sleeve"],
    ["bore", "tool.sleeve"],
    ["cable", "tool.wire"],
    ["photo", "tool.picture"],
    ["rotate", "edit.turn"],
    ["erase", "edit.delete"],
    ["shortcuts", "plan.help"],
  ] as const)
    assert.equal(first(words), id, words);
});

test("row A12: what was used lately comes first, and what is off comes after what matches as well", () => {
  assert.equal(searchCommands(all, "", ["view.fit", "edit.turn"])[0]?.told.key, "view.fit");
  assert.equal(searchCommands(all, "", ["view.fit", "edit.turn"])[1]?.told.key, "edit.turn");
  const some = [told("head.left", "Select a head."), told("head.right")];
  assert.equal(searchCommands(some, "turn arc", [])[0]?.told.key, "head.right");
  const kept = new Map<string, string>();
  const shelf = {
    getItem: (k: string) => kept.get(k) ?? null,
    setItem: (k: string, v: string) => void kept.set(k, v),
  };
  for (const k of ["a", "b", "a"]) used(shelf, k);
  assert.deepEqual(recent(shelf), ["a", "b"]);
  kept.set("evenfall-recent", "{broken");
  assert.deepEqual(recent(shelf), []);
  assert.deepEqual(recent(null), []);
});

const tagged = (p: Plan, tags: readonly string[]): Plan => ({
  ...p,
  heads: Object.fromEntries(tags.map((tag, i) => [`h${i}`, { ...(p.heads?.h1 as Head), tag, x_ft: i }])),
});

test("row A30: a tag is found before tags it begins; names, kinds, nozzles, zones and words are found too", () => {
  const p: Plan = {
    ...tagged(yard(), ["P-1", "P-17", "P-171", "XP-17"]),
    notes: { m1: { text: "Valve box under the <b>gravel</b> by the gate", x_ft: 4, y_ft: 4 } },
  };
  const find = (q: string) => search(findables(p), q).map((f) => f.ref);
  assert.deepEqual(find("P-17"), ["heads/h1", "heads/h2", "heads/h3"]);
  assert.deepEqual(find("p-17").slice(0, 1), ["heads/h1"]);
  assert.deepEqual(find("gravel"), ["notes/m1"]);
  assert.deepEqual(find("oak"), ["trees/t1"]);
  assert.deepEqual(find("building"), ["areas/a2"]);
  assert.equal(find("stream 25").length, 4);
  assert.deepEqual(find("fence 1"), ["barriers/b1"]);
  assert.ok(find("lawn").includes("zones/z1") && find("lawn").includes("areas/a1"));
  assert.deepEqual(find("nothing like it"), []);
  assert.equal(find("").length, findables(p).length);
});

test("row A30: hidden and locked things are found and said to be; a zone stands for its heads", () => {
  const p = yard();
  const locked: Plan = { ...p, heads: { ...p.heads, h1: { ...(p.heads?.h1 as Head), locked: true } } };
  const layers = new Layers();
  layers.show("walls", false);
  const one = (q: string) => search(findables(locked, layers), q)[0];
  assert.match(one("1-1")?.detail ?? "", /locked/);
  assert.match(one("oak")?.detail ?? "", /hidden with its layer/);
  assert.deepEqual(
    search(findables(locked, layers), "hidden")
      .map((f) => f.ref)
      .sort(),
    ["barriers/b1", "trees/t1"],
  );
  assert.deepEqual(selectedFor(p, "zones/z1"), ["heads/h1", "heads/h2"]);
  assert.deepEqual(selectedFor(p, "areas/a1"), ["areas/a1"]);
});

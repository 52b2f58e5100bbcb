import assert from "node:assert/strict";
import { test } from "node:test";
import { apply, diff, drop, find, type Json, newID, type Patch, type Plan, put, same } from "./model";

// RFC 7396, appendix A: original, patch, result.
const appendix: readonly [Json, Json, Json][] = [
  [{ a: "b" }, { a: "c" }, { a: "c" }],
  [{ a: "b" }, { b: "c" }, { a: "b", b: "c" }],
  [{ a: "b" }, { a: null }, {}],
  [{ a: "b", b: "c" }, { a: null }, { b: "c" }],
  [{ a: ["b"] }, { a: "c" }, { a: "c" }],
  [{ a: "c" }, { a: ["b"] }, { a: ["b"] }],
  [{ a: { b: "c" } }, { a: { b: "d", c: null } }, { a: { b: "d" } }],
  [{ a: [{ b: "c" }] }, { a: [1] }, { a: [1] }],
  [
    ["a", "b"],
    ["c", "d"],
    ["c", "d"],
  ],
  [{ a: "b" }, ["c"], ["c"]],
  [{ a: "foo" }, null, null],
  [{ a: "foo" }, "bar", "bar"],
  [{ e: null }, { a: 1 }, { e: null, a: 1 }],
  [[1, 2], { a: "b", c: null }, { a: "b" }],
  [{}, { a: { bb: { ccc: null } } }, { a: { bb: {} } }],
];

test("apply gives the results of the appendix of the standard", () => {
  for (const [original, patch, result] of appendix) {
    const before = structuredClone(original);
    assert.deepEqual(apply(original, patch), result, JSON.stringify([original, patch]));
    assert.deepEqual(original, before, "the given document is unchanged");
  }
});

const plan = (more: object): Plan => ({ format: "evenfall-plan/1", name: "Lot", show: "us", ...more });
const head = { nozzle: "n", body: "b", x_ft: 1, y_ft: 2 };

const pairs: readonly [name: string, from: Plan, to: Plan, patch: Patch][] = [
  ["nothing changed", plan({ heads: { h1: head } }), plan({ heads: { h1: { ...head } } }), {}],
  [
    "a head moved",
    plan({ heads: { h1: head, h2: head } }),
    plan({ heads: { h1: { ...head, x_ft: 5 }, h2: head } }),
    { heads: { h1: { x_ft: 5 } } },
  ],
  [
    "a throw no longer set",
    plan({ heads: { h1: { ...head, throw_ft: 7 } } }),
    plan({ heads: { h1: head } }),
    { heads: { h1: { throw_ft: null } } },
  ],
  [
    "a member made undefined is a member gone",
    plan({ heads: { h1: { ...head, throw_ft: 7 } } }),
    plan({ heads: { h1: { ...head, throw_ft: undefined } } }),
    { heads: { h1: { throw_ft: null } } },
  ],
  ["the last head deleted", plan({ heads: { h1: head } }), plan({ heads: {} }), { heads: { h1: null } }],
  ["a first head", plan({}), plan({ heads: { h1: head } }), { heads: { h1: head } }],
  [
    "an outline is replaced whole",
    plan({
      areas: {
        a1: {
          outline: [
            [0, 0],
            [1, 0],
            [1, 1],
          ],
        },
      },
    }),
    plan({
      areas: {
        a1: {
          outline: [
            [0, 0],
            [2, 0],
            [1, 1],
          ],
        },
      },
    }),
    {
      areas: {
        a1: {
          outline: [
            [0, 0],
            [2, 0],
            [1, 1],
          ],
        },
      },
    },
  ],
];

test("diff makes the least patch, and apply takes it back to the target", () => {
  for (const [name, from, to, want] of pairs) {
    const got = diff(from, to);
    assert.deepEqual(got, want, name);
    assert.ok(same(apply(from, got), to), name);
  }
});

// A small generator of documents without nulls, from a seed.
function documents(seed: number): () => Json {
  let s = seed;
  const next = (n: number): number => {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    return Math.floor((s / 2 ** 32) * n);
  };
  const value = (depth: number): Json => {
    const pick = next(depth > 0 ? 5 : 3);
    if (pick === 0) return next(5);
    if (pick === 1) return ["x", "__proto__", "é", ""][next(4)] as string;
    if (pick === 2) return next(2) === 0;
    if (pick === 3) return Array.from({ length: next(3) }, () => value(depth - 1));
    const out: { [key: string]: Json } = {};
    for (let i = next(4); i > 0; i--) out[["a", "b", "c", "d"][next(4)] as string] = value(depth - 1);
    return out;
  };
  return () => {
    const out: { [key: string]: Json } = {};
    for (let i = 1 + next(4); i > 0; i--) out[["a", "b", "c", "d"][next(4)] as string] = value(3);
    return out;
  };
}

test("diff then apply is the identity on random documents", () => {
  const next = documents(7);
  for (let i = 0; i < 5000; i++) {
    const [from, to] = [next() as object, next() as object];
    assert.deepEqual(apply(from, diff(from, to)), to);
  }
});

test("a member called __proto__ stays a member", () => {
  const patch = JSON.parse('{"areas":{"__proto__":{"name":"x"}}}') as Patch;
  const got = apply(plan({}), patch);
  assert.equal(Object.getPrototypeOf(got.areas), Object.prototype);
  assert.ok(Object.hasOwn(got.areas ?? {}, "__proto__"));
  assert.equal(find(plan({ areas: {} }), "areas", "constructor"), undefined);
});

test("put and drop leave the given plan as it was", () => {
  const p = plan({ heads: { h1: head } });
  const with2 = put(p, "heads", "h2", head);
  assert.deepEqual(Object.keys(with2.heads ?? {}), ["h1", "h2"]);
  assert.deepEqual(Object.keys(drop(with2, "heads", "h1").heads ?? {}), ["h2"]);
  assert.deepEqual(Object.keys(p.heads ?? {}), ["h1"]);
});

test("ids begin with the collection's letter and do not come twice", () => {
  const seen = new Set<string>();
  for (let i = 0; i < 2000; i++) seen.add(newID(plan({}), "heads"));
  assert.equal(seen.size, 2000);
  for (const id of seen) assert.match(id, /^h[0-9a-z]{6}$/);
});

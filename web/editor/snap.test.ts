import assert from "node:assert/strict";
import { test } from "node:test";
import { aimFor } from "./aim";
import { directionDeg, distance, type Point, polar } from "./geometry";
import { hold } from "./holds";
import type { Plan, Vertex } from "./model";
import { type SnapKind, snapNames, snaps } from "./snap";
import { indexOf, SnapIndex, shapesOf } from "./snapindex";
import { empty, yard } from "./testplan";

/** A reach of 8 px at 10 px a foot; 5 px off is 0.5 ft, 25 px off 2.5 ft. */
const reach = 0.8;

function best(plan: Plan, pointer: Point, more: { anchor?: Point; own?: Point[]; grid?: number } = {}) {
  return snaps(indexOf(plan), { pointer, reach, ...more })[0] ?? null;
}

/** Two crossing fences, a bowed area and the yard. */
function ground(): Plan {
  const p = yard();
  return {
    ...p,
    areas: {
      ...p.areas,
      a3: {
        name: "Bay",
        kind: "paving",
        outline: [
          [80, 0, 1],
          [90, 0],
          [90, 20],
          [80, 20],
        ],
      },
    },
    barriers: {
      b1: {
        name: "A",
        line: [
          [100, 0],
          [120, 20],
        ],
        height_ft: 6,
      },
      b2: {
        name: "B",
        line: [
          [100, 20],
          [120, 0],
        ],
        height_ft: 6,
      },
    },
  };
}

test("rowA4: each kind of snap lands exactly on its place, and not from afar", () => {
  const cases: { kind: SnapKind; at: Point; from: Point; anchor?: Point; own?: Point[] }[] = [
    { kind: "end", at: [60, 40], from: [60.4, 40.3] },
    { kind: "crossing", at: [110, 10], from: [110.4, 10.2] },
    { kind: "middle", at: [30, 0], from: [30.3, -0.4] },
    { kind: "centre", at: [40, 12], from: [40.3, 12.4] }, // a head
    { kind: "centre", at: [85, 0], from: [85.3, 0.3] }, // of the arc
    { kind: "square", at: [60, 25], from: [60.2, 25.4], anchor: [70, 25] },
    { kind: "edge", at: [60, 33], from: [60.5, 33] },
    { kind: "self", at: [70, 70], from: [70.4, 69.8], own: [[70, 70]] },
  ];
  for (const c of cases) {
    const plan = ground();
    const got = best(plan, c.from, c);
    assert.equal(got?.kind, c.kind, `${c.kind} near ${c.at}`);
    assert.deepEqual(got?.at, c.at, c.kind);
    const far: Point = [c.at[0] + 2.5, c.at[1] + 2.5];
    const other = best(plan, far, { ...c, anchor: undefined });
    assert.ok(!other || distance(other.at, c.at) > 0, `${c.kind} must not pull from 25 px`);
  }
});

test("rowA4: a corner beats the middle, the middle the edge, and the edge the grid", () => {
  const plan: Plan = {
    ...empty(),
    areas: {
      a: {
        name: "",
        kind: "paving",
        outline: [
          [0, 0],
          [1, 0],
          [1, 9],
          [0, 9],
        ],
      },
    },
  };
  const kinds = snaps(indexOf(plan), { pointer: [0.3, 0.1], reach, grid: 1 }).map((s) => s.kind);
  assert.equal(kinds[0], "end");
  assert.equal(kinds.at(-1), "grid");
  const ranks = ["end", "crossing", "middle", "centre", "square", "edge", "grid"];
  for (let i = 1; i < kinds.length; i++) {
    assert.ok(ranks.indexOf(kinds[i] as string) >= ranks.indexOf(kinds[i - 1] as string), kinds.join());
  }
});

test("rowA4: every kind has a name of its own", () => {
  assert.equal(new Set(Object.values(snapNames)).size, Object.keys(snapNames).length);
});

const ask = (over: Partial<Parameters<typeof aimFor>[0]>) => ({
  raw: [0, 0] as Point,
  lead: null,
  anchor: null,
  own: [],
  skip: null,
  index: indexOf(yard()),
  aids: { snap: true, gridSnap: true, ortho: false },
  gridStep: 1,
  reach,
  keys: { shift: false, alt: false, ctrl: false },
  cycle: 0,
  snaps: true,
  ...over,
});

test("rowA4: Alt gives the pointer's own place; S off leaves the grid", () => {
  const raw: Point = [59.7, 39.8];
  assert.deepEqual(aimFor(ask({ raw })).at, [60, 40]);
  const alt = aimFor(ask({ raw, keys: { shift: false, alt: true, ctrl: false } }));
  assert.deepEqual(alt.at, raw);
  assert.equal(alt.snap, null);
  const off = aimFor(ask({ raw: [59.6, 39.6], aids: { snap: false, gridSnap: true, ortho: false } }));
  assert.equal(off.snap?.kind, "grid");
  const bare = aimFor(ask({ raw, aids: { snap: false, gridSnap: false, ortho: false } }));
  assert.equal(bare.snap, null);
});

test("rowA4: Tab goes round the candidates", () => {
  const raw: Point = [59.9, 20.2]; // the middle of the east edge, the edge, the grid
  const kinds = [0, 1, 2, 3].map((cycle) => aimFor(ask({ raw, cycle })).snap?.kind);
  assert.deepEqual(kinds, ["middle", "edge", "grid", "middle"]);
  assert.equal(aimFor(ask({ raw, cycle: -1 })).snap?.kind, "grid");
});

test("a crosshair stays where the arrows put it until Tab asks", () => {
  const at: Point = [59.9, 39.9];
  assert.deepEqual(aimFor(ask({ raw: at, steady: true })).at, at);
  assert.deepEqual(aimFor(ask({ raw: at, steady: true, cycle: 1 })).at, [60, 40]);
});

test("rowA3: Shift at 13 degrees holds 15, to a billionth; let go, it is free", () => {
  const to = polar([10, 10], 13, 20);
  const held = hold({ at: [10, 10] }, to, { fine: true, square: false });
  assert.ok(held);
  assert.equal(held.deg, 15);
  assert.ok(Math.abs(directionDeg([10, 10], held.at) - 15) < 1e-9);
  assert.equal(hold({ at: [10, 10] }, to, { fine: false, square: false }), null);
  // Never on the first click: there is no anchor to hold from.
  const first = aimFor(ask({ raw: [33.3, 17.7], keys: { shift: true, alt: true, ctrl: false } }));
  assert.deepEqual(first.at, [33.3, 17.7]);
});

test("rowA3: on a plan turned by 20 degrees a right angle is held to the segment before", () => {
  const anchor = { at: [0, 0] as Point, beforeDeg: 20 };
  const square = hold(anchor, polar([0, 0], 108, 10), { fine: false, square: true });
  assert.equal(square?.deg, 110);
  assert.equal(square?.from, "before");
  const fine = hold(anchor, polar([0, 0], 109, 10), { fine: true, square: false });
  assert.equal(fine?.deg, 110);
  const east = hold({ at: [0, 0], beforeDeg: 0 }, polar([0, 0], 84, 10), { fine: false, square: true });
  assert.equal(east?.deg, 90);
});

test("rowA3: held lines snap along their ray: onto edges, square across from corners, in grid steps", () => {
  const anchor = { at: [50, 10] as Point };
  const hit = aimFor(ask({ raw: [59.7, 10.3], anchor, aids: { snap: true, gridSnap: false, ortho: true } }));
  assert.deepEqual(hit.at, [60, 10]);
  assert.equal(hit.snap?.kind, "crossing");
  const level = aimFor(
    ask({ raw: [49.8, 59.8], anchor, own: [[20, 60]], aids: { snap: true, gridSnap: false, ortho: true } }),
  );
  assert.deepEqual(level.at, [50, 60]);
  assert.equal(level.snap?.kind, "inline");
  const step = aimFor(
    ask({
      raw: [54.4, 13.1],
      anchor: { at: [50.25, 13] },
      aids: { snap: false, gridSnap: true, ortho: true },
    }),
  );
  assert.deepEqual(step.at, [54.25, 13]);
});

test("what is dragged does not snap to itself", () => {
  const got = snaps(indexOf(yard()), { pointer: [60.2, 40.2], reach, skip: (s) => s.ref === "areas/a1" });
  assert.deepEqual(got, []);
});

test("a bucket grid finds what a look at everything finds", () => {
  const edges: Vertex[][] = [];
  let seed = 7;
  const next = () => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return (seed / 2147483648) * 200 - 50;
  };
  for (let i = 0; i < 400; i++)
    edges.push([
      [next(), next()],
      [next(), next()],
    ]);
  const barriers = Object.fromEntries(edges.map((line, i) => [`b${i}`, { name: "", line, height_ft: 4 }]));
  const shapes = shapesOf({ ...empty(), barriers });
  const index = new SnapIndex(shapes);
  for (let i = 0; i < 200; i++) {
    const p: Point = [next(), next()];
    const got = index
      .edgesNear(p, 3)
      .map((e) => e.ref)
      .sort();
    const want = shapes.edges.filter(
      (e) => new SnapIndex({ edges: [e], points: [] }).edgesNear(p, 3).length > 0,
    );
    assert.deepEqual(got, want.map((e) => e.ref).sort());
  }
});

test("rowA4: among 10,000 edges a snap looks at a handful", () => {
  const barriers: Plan["barriers"] = {};
  for (let i = 0; i < 100; i++) {
    for (let j = 0; j < 100; j++) {
      barriers[`b${i}_${j}`] = {
        name: "",
        line: [
          [i * 10, j * 10],
          [i * 10 + 6, j * 10 + 3],
        ],
        height_ft: 4,
      };
    }
  }
  const index = indexOf({ ...empty(), barriers });
  assert.equal(index.shapes.edges.length, 10_000);
  const found = snaps(index, { pointer: [503, 501.2], reach });
  assert.equal(found[0]?.kind, "middle");
  assert.deepEqual(found[0]?.at, [503, 501.5]);
  assert.ok(found.length < 10);
});

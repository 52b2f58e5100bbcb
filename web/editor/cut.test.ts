import assert from "node:assert/strict";
import { test } from "node:test";
import { type Changed, splitArea, splitBarrier } from "./cut";
import type { Area, Outline, Plan } from "./model";
import { areaOf, faultOf, lengthOf } from "./shape";
import { empty, yard } from "./testplan";
import { circle } from "./tools/round";
import { join } from "./unite";

const area = (outline: Outline, holes?: Outline[]): Area => ({
  name: "Bed",
  kind: "planting",
  outline,
  ...(holes ? { holes } : {}),
});
const box = (x0: number, y0: number, x1: number, y1: number): Outline => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];
const of = (...areas: Area[]): Plan => ({
  ...empty(),
  areas: Object.fromEntries(areas.map((a, i) => [`a${i + 1}`, a])),
});
const done = (c: Changed): Exclude<Changed, { why: string }> => {
  assert.ok(!("why" in c), "why" in c ? c.why : "");
  return c;
};
const why = (c: Changed): string => ("why" in c ? c.why : "");
const netOf = (a: Area | undefined): number =>
  a ? areaOf(a.outline) - (a.holes ?? []).reduce((n, h) => n + areaOf(h), 0) : 0;
const sum = (p: Plan): number => Object.values(p.areas ?? {}).reduce((n, a) => n + netOf(a), 0);
const close = (got: number, want: number) =>
  assert.ok(Math.abs(got - want) < 1e-6, `got ${got}, want ${want}`);

test("an area is split by a line across it; the larger part keeps its name", () => {
  const p = { ...yard(), areas: { a1: { ...area(box(0, 0, 60, 40)), name: "Lawn", soil: "loam" } } };
  const c = done(splitArea(p, "a1", [20, -3], [20, 50]));
  assert.equal(c.label, "Split Lawn");
  assert.equal(c.select[0], "areas/a1");
  const [kept, made] = c.select.map((r) => c.plan.areas?.[r.slice(6)]);
  assert.deepEqual(kept, { name: "Lawn", kind: "planting", soil: "loam", outline: kept?.outline });
  assert.equal(made?.name, "Lawn 2");
  assert.equal(made?.soil, "loam");
  assert.deepEqual([...(made?.outline ?? [])].sort(), box(0, 0, 20, 40).sort());
  assert.equal(areaOf(kept?.outline ?? []), 1600);
});

test("the ends of the cut may lie on edges and corners, and are the new corners to the digit", () => {
  const p = of(
    area([
      [0, 0],
      [9, 3],
      [12, 12],
      [0, 12],
    ]),
  );
  const edge: [number, number] = [4.5, 1.5];
  const c = done(splitArea(p, "a1", edge, [12, 12]));
  for (const r of c.select) {
    const o = c.plan.areas?.[r.slice(6)]?.outline ?? [];
    assert.ok(o.some((v) => v[0] === 4.5 && v[1] === 1.5));
    assert.ok(o.some((v) => v[0] === 12 && v[1] === 12));
    assert.equal(faultOf(o), null);
  }
  close(sum(c.plan), sum(p));
});

test("holes stay whole, with the part they lie in", () => {
  const p = of(area(box(0, 0, 40, 20), [box(2, 2, 5, 5), box(30, 2, 35, 5)]));
  const c = done(splitArea(p, "a1", [20, 0], [20, 20]));
  assert.deepEqual(
    c.select.map((r) => c.plan.areas?.[r.slice(6)]?.holes?.length),
    [1, 1],
  );
  close(sum(c.plan), sum(p));
  assert.match(why(splitArea(p, "a1", [3, -1], [3, 30])), /runs through a hole/);
});

test("an arc that is cut becomes two arcs of its circle", () => {
  const p = of(area(circle([0, 0], 10) as Outline));
  const c = done(splitArea(p, "a1", [3, -20], [3, 20]));
  close(sum(c.plan), Math.PI * 100);
  // The smaller part is the segment beyond a chord 3 from the centre: r² (a - sin a cos a), cos a = 0.3.
  const a = Math.acos(0.3);
  close(areaOf(c.plan.areas?.[c.select[1]?.slice(6) ?? ""]?.outline ?? []), 100 * (a - Math.sin(a) * 0.3));
  assert.equal(
    c.plan.areas?.a1?.outline.some((v) => v.length === 2),
    true,
    "the cut itself is straight",
  );
});

test("a line that does not cross exactly twice is refused, with the reason", () => {
  const ell = of(
    area([
      [0, 0],
      [30, 0],
      [30, 30],
      [20, 30],
      [20, 10],
      [10, 10],
      [10, 30],
      [0, 30],
    ]),
  );
  assert.match(why(splitArea(ell, "a1", [-5, 20], [40, 20])), /more than twice/);
  assert.match(why(splitArea(ell, "a1", [-5, 5], [15, 5])), /must run right across/);
  assert.match(why(splitArea(ell, "a1", [50, 0], [50, 40])), /must run right across/);
  assert.match(why(splitArea(ell, "a1", [10, 20], [20, 20])), /runs outside/);
  assert.match(why(splitArea(ell, "a1", [0, 0], [30, 0])), /outside|along the edge/);
  done(splitArea(ell, "a1", [-5, 20], [12, 20]));
});

test("a wall is split at a corner between its ends, its arcs kept", () => {
  const line: Outline = [
    [0, 0],
    [10, 0, 0.4],
    [10, 10],
    [0, 10],
  ];
  const p: Plan = { ...empty(), barriers: { b1: { name: "Wall 1", kind: "wall", line, height_ft: 4 } } };
  const c = done(splitBarrier(p, "b1", 1));
  assert.deepEqual(c.plan.barriers?.b1, { ...p.barriers?.b1, line: line.slice(1) });
  const other = c.plan.barriers?.[c.select[1]?.slice(9) ?? ""];
  assert.deepEqual(other, {
    name: "Wall 2",
    kind: "wall",
    height_ft: 4,
    line: [
      [0, 0],
      [10, 0],
    ],
  });
  assert.match(why(splitBarrier(p, "b1", 0)), /between its ends/);
  const again = done(join(c.plan, c.select[0] ?? "barriers/", c.select[1] ?? "barriers/"));
  assert.equal(lengthOf(again.plan.barriers?.b1?.line ?? []), lengthOf(line));
});

test("what was split is joined again, and is as it was", () => {
  const p = of(
    area(
      [
        [0, 0],
        [30, 0],
        [34, 18],
        [12, 25],
        [0, 20],
      ],
      [box(2, 2, 5, 5)],
    ),
  );
  const c = done(splitArea(p, "a1", [15, -3], [18, 40]));
  const back = done(join(c.plan, "areas/a1", c.select[1] as "areas/"));
  const a = back.plan.areas?.a1;
  assert.equal(Object.keys(back.plan.areas ?? {}).length, 1);
  close(netOf(a), sum(p));
  assert.equal(a?.outline.length, 5, "no corner is left of the cut");
  assert.equal(a?.holes?.length, 1);
});

test("areas side by side are joined along what they share, whole or in part", () => {
  const p = of(area(box(0, 0, 10, 10)), area(box(10, 2, 16, 8)));
  const c = done(join(p, "areas/a2", "areas/a1"));
  assert.deepEqual(c.select, ["areas/a1"], "the larger stays");
  assert.equal(c.label, "Join Bed and Bed");
  assert.equal(c.plan.areas?.a1?.outline.length, 8);
  assert.equal(areaOf(c.plan.areas?.a1?.outline ?? []), 136);
  const flush = done(join(of(area(box(0, 0, 10, 10)), area(box(10, 0, 16, 10))), "areas/a1", "areas/a2"));
  assert.deepEqual([...(flush.plan.areas?.a1?.outline ?? [])].sort(), box(0, 0, 16, 10).sort());
});

test("areas that overlap are joined; one round another leaves a hole", () => {
  const cross = done(join(of(area(box(0, 4, 12, 8)), area(box(4, 0, 8, 12))), "areas/a1", "areas/a2"));
  assert.equal(sum(cross.plan), 48 + 48 - 16);
  assert.equal(cross.plan.areas?.a1?.outline.length, 12);
  const cup: Outline = [
    [0, 0],
    [12, 0],
    [12, 10],
    [9, 10],
    [9, 3],
    [3, 3],
    [3, 10],
    [0, 10],
  ];
  const ring = done(join(of(area(cup), area(box(0, 8, 12, 12))), "areas/a1", "areas/a2"));
  assert.equal(ring.plan.areas?.a1?.holes?.length, 1);
  assert.equal(sum(ring.plan), 12 * 12 - 6 * 5);
  const inner = done(join(of(area(box(0, 0, 9, 9)), area(box(2, 2, 4, 4))), "areas/a1", "areas/a2"));
  assert.equal(sum(inner.plan), 81);
});

test("arcs are kept whole in a join, and it is refused where one would be cut", () => {
  const half: Outline = [
    [0, 0],
    [10, 0, 1],
    [10, 10],
    [0, 10],
  ];
  const dome = of(area(half), area(box(-6, 0, 0, 10)));
  const c = done(join(dome, "areas/a1", "areas/a2"));
  close(sum(c.plan), 160 + (Math.PI * 25) / 2);
  const cut = of(area(half), area(box(12, 0, 20, 10)));
  assert.match(why(join(cut, "areas/a1", "areas/a2")), /meet on an arc/);
  const bite = of(
    area(half),
    area([
      [10, 0],
      [20, 0],
      [20, 10],
      [10, 10, -1],
    ]),
  );
  close(sum(done(join(bite, "areas/a1", "areas/a2")).plan), 200);
});

test("what cannot be joined is told why", () => {
  const apart = of(area(box(0, 0, 4, 4)), area(box(6, 0, 9, 4)));
  assert.match(why(join(apart, "areas/a1", "areas/a2")), /share no edge/);
  const point = of(area(box(0, 0, 4, 4)), area(box(4, 4, 9, 9)));
  assert.match(why(join(point, "areas/a1", "areas/a2")), /share no edge/);
  const kinds = of(area(box(0, 0, 4, 4)), { ...area(box(4, 0, 9, 4)), kind: "paving" });
  assert.match(why(join(kinds, "areas/a1", "areas/a2")), /planting and paving/);
  assert.match(why(join({ ...yard() }, "areas/a1", "barriers/b1")), /not one of each/);
  const walls: Plan = {
    ...empty(),
    barriers: {
      b1: {
        name: "A",
        line: [
          [0, 0],
          [5, 0],
        ],
        height_ft: 6,
      },
      b2: {
        name: "B",
        line: [
          [5, 5],
          [5, 0],
        ],
        height_ft: 6,
      },
      b3: {
        name: "C",
        line: [
          [0, 0],
          [0, 9],
        ],
        height_ft: 4,
      },
      b4: {
        name: "D",
        line: [
          [1, 1],
          [2, 2],
        ],
        height_ft: 6,
      },
    },
  };
  assert.deepEqual(done(join(walls, "barriers/b1", "barriers/b2")).plan.barriers?.b1?.line, [
    [0, 0],
    [5, 0],
    [5, 5],
  ]);
  assert.match(why(join(walls, "barriers/b1", "barriers/b3")), /differ in kind or height/);
  assert.match(why(join(walls, "barriers/b1", "barriers/b4")), /do not meet/);
});

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import {
  arcOf,
  bulgeForRadius,
  bulgeThrough,
  edgeLength,
  edgeMiddle,
  flattenEdge,
  segmentMeetsArc,
} from "./arcs";
import {
  directionDeg,
  distance,
  meet,
  nearestOnSegment,
  normDeg,
  type Point,
  polar,
  rayMeets,
  turnDeg,
  unit,
} from "./geometry";
import { mends } from "./mend";
import {
  areaOf,
  type Corner,
  faultOf,
  openFault,
  perimeterOf,
  ringHolds,
  ringOf,
  shapeHolds,
  signedArea,
} from "./shape";
import { circle, oval } from "./tools/round";

const near = (got: number, want: number, by = 1e-9, what = "") =>
  assert.ok(Math.abs(got - want) <= by, `${what} got ${got}, want ${want}`);

test("multiples of 90 degrees are exact", () => {
  assert.deepEqual(unit(90), [0, 1]);
  assert.deepEqual(unit(-90), [0, -1]);
  assert.deepEqual(polar([10, 20], 180, 7.5), [2.5, 20]);
  assert.equal(directionDeg([0, 0], [0, -3]), 270);
  assert.equal(normDeg(-0), 0);
  assert.equal(normDeg(-1e-20), 0);
  assert.equal(turnDeg(350, 10), 20);
  assert.equal(turnDeg(10, 350), -20);
});

test("segments and rays meet where they should and nowhere else", () => {
  assert.deepEqual(meet([0, 0], [10, 10], [0, 10], [10, 0]), [5, 5]);
  assert.equal(meet([0, 0], [1, 0], [0, 1], [1, 1]), null);
  assert.deepEqual(rayMeets([0, 0], 0, [5, -1], [5, 1]), [5, 0]);
  assert.equal(rayMeets([0, 0], 180, [5, -1], [5, 1]), null);
  assert.deepEqual(nearestOnSegment([5, 3], [0, 0], [4, 0]), [4, 0]);
  assert.deepEqual(nearestOnSegment([2, 3], [0, 0], [4, 0]), [2, 0]);
});

test("a bulge is the tangent of a quarter of the included angle, to the right when positive", () => {
  const half = arcOf([0, 0], [10, 0], 1);
  assert.ok(half);
  near(half.radius, 5);
  near(half.sweepDeg, 180);
  assert.deepEqual(edgeMiddle([0, 0], [10, 0], 1), [5, -5]);
  assert.deepEqual(edgeMiddle([0, 0], [10, 0], -1), [5, 5]);
  near(edgeLength([0, 0], [10, 0], 1), 5 * Math.PI);
  near(bulgeThrough([0, 0], [10, 0], [5, -5]), 1);
  near(bulgeThrough([0, 0], [10, 0], [5, 5]), -1);
  assert.equal(bulgeThrough([0, 0], [10, 0], [5, 0]), 0);
});

test("an arc through any of its own points has its own bulge", () => {
  for (const bulge of [-2, -0.7, -0.1, 0.05, 0.4, 1, 1.8]) {
    const points = flattenEdge([3, -2], [11, 5], bulge, 0.1);
    for (const p of points.slice(0, -1))
      near(bulgeThrough([3, -2], [11, 5], p), bulge, 1e-9, `bulge ${bulge}`);
    assert.deepEqual(points.at(-1), [11, 5]);
  }
});

test("a typed radius gives the arc of that radius, and none when the chord is too long", () => {
  const b = bulgeForRadius([0, 0], [10, 0], 13, 1);
  assert.ok(b !== null);
  near(arcOf([0, 0], [10, 0], b)?.radius ?? 0, 13);
  assert.equal(bulgeForRadius([0, 0], [10, 0], 4.9, 1), null);
});

test("a segment meets an arc on the arc only", () => {
  const arc = arcOf([0, 0], [10, 0], 1); // below the chord
  assert.ok(arc);
  const hits = segmentMeetsArc([5, -20], [5, 20], arc);
  assert.equal(hits.length, 1);
  near(hits[0]?.[1] ?? 0, -5);
});

test("rowA6: a 3-4-5 triangle measures 3, 4, 5 and 6", () => {
  const t: Corner[] = [
    [0, 0],
    [3, 0],
    [3, 4],
  ];
  assert.equal(distance([0, 0], [3, 4]), 5);
  assert.equal(perimeterOf(t), 12);
  assert.equal(areaOf(t), 6);
  assert.equal(signedArea([...t].reverse()), -6);
});

test("areas with arcs are exact", () => {
  near(areaOf(circle([7, 7], 5)), Math.PI * 25);
  near(areaOf(oval([0, 0], 8, 5.5)), Math.PI * 44, 0.02);
  // A square with one side bowed out as half a circle.
  near(
    areaOf([
      [0, 0, 1],
      [10, 0],
      [10, 10],
      [0, 10],
    ]),
    100 + (Math.PI * 25) / 2,
  );
  near(
    areaOf([
      [0, 0, -1],
      [10, 0],
      [10, 10],
      [0, 10],
    ]),
    100 - (Math.PI * 25) / 2,
  );
});

test("what lies inside an outline, its holes and its arcs", () => {
  const square: Corner[] = [
    [0, 0, 1],
    [10, 0],
    [10, 10],
    [0, 10],
  ];
  const hole: Corner[] = [
    [4, 4],
    [6, 4],
    [6, 6],
    [4, 6],
  ];
  assert.equal(ringHolds(ringOf(square), [5, -4]), true);
  assert.equal(shapeHolds(square, [hole], [5, 5]), false);
  assert.equal(shapeHolds(square, [hole], [2, 5]), true);
  assert.equal(shapeHolds(square, [], [11, 5]), false);
});

test("rowA29: what is wrong with an outline is told by reason and place", () => {
  const cases: [string, Corner[], string | null][] = [
    [
      "square",
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ],
      null,
    ],
    [
      "circle of two arcs",
      [
        [0, 0, 1],
        [10, 0, 1],
      ],
      null,
    ],
    [
      "bow-tie",
      [
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ],
      "crosses",
    ],
    [
      "two corners",
      [
        [0, 0],
        [1, 1],
      ],
      "too_few",
    ],
    [
      "repeated corner",
      [
        [0, 0],
        [5, 0],
        [5, 0],
        [5, 5],
      ],
      "repeated",
    ],
    [
      "spike",
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [10, 4],
        [0, 4],
      ],
      "spike",
    ],
    [
      "all on a line",
      [
        [0, 0],
        [5, 0],
        [10, 0],
      ],
      "no_area",
    ],
    [
      "corner on an edge",
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [5, 0],
        [0, 10],
      ],
      "touches",
    ],
    [
      "arc across an edge",
      [
        [0, 0, -1],
        [10, 0],
        [10, 4],
        [0, 4],
      ],
      "crosses",
    ],
  ];
  for (const [name, outline, want] of cases) assert.equal(faultOf(outline)?.reason ?? null, want, name);
  const bow = faultOf([
    [0, 0],
    [10, 10],
    [10, 0],
    [0, 10],
  ]);
  assert.deepEqual(bow?.at, [5, 5]);
  assert.equal(
    openFault([
      [0, 0],
      [10, 0],
      [10, 10],
    ]),
    null,
  );
  assert.equal(
    openFault([
      [0, 0],
      [10, 0],
      [5, 5],
      [5, -5],
    ])?.reason,
    "crosses",
  );
});

test("rowA29: a bow-tie is mended without losing a corner", () => {
  const bow: Corner[] = [
    [0, 0],
    [10, 10],
    [10, 0],
    [0, 10],
  ];
  const list = mends(bow);
  assert.equal(list[0]?.title, "Uncross the edges");
  assert.equal(list[0]?.outline.length, 4);
  near(areaOf(list[0]?.outline ?? []), 100);
  for (const m of list) assert.equal(faultOf(m.outline), null, m.title);
  assert.deepEqual(
    mends([
      [0, 0],
      [1, 0],
      [1, 1],
    ]),
    [],
  );
});

interface OutlineCase {
  name: string;
  outline: Corner[];
  holes?: Corner[][];
  area?: number;
  perimeter?: number;
  inside?: Point[];
  outside?: Point[];
  reason?: string;
  at?: Point;
}

test("outlines are judged and measured as the server does", () => {
  const path = join(process.env.EVENFALL_ROOT ?? ".", "testdata/vectors/outline.json");
  const cases = JSON.parse(readFileSync(path, "utf8")) as OutlineCase[];
  assert.ok(cases.length >= 40);
  for (const c of cases) {
    const fault = faultOf(c.outline);
    assert.equal(fault?.reason ?? null, c.reason ?? null, c.name);
    if (c.at) assert.ok(fault && distance(fault.at, c.at) < 1e-3, `${c.name}: at ${fault?.at}, want ${c.at}`);
    if (c.reason) continue;
    const holes = c.holes ?? [];
    near(areaOf(c.outline), c.area ?? Number.NaN, 1e-6 * (c.area ?? 1), c.name);
    near(perimeterOf(c.outline), c.perimeter ?? Number.NaN, 1e-6 * (c.perimeter ?? 1), c.name);
    for (const p of c.inside ?? []) assert.ok(shapeHolds(c.outline, holes, p), `${c.name}: ${p} is inside`);
    for (const p of c.outside ?? [])
      assert.ok(!shapeHolds(c.outline, holes, p), `${c.name}: ${p} is outside`);
  }
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { cross, distance, minus, type Point, polar } from "./geometry";
import {
  alongOff,
  type Base,
  crossingDeg,
  fitSpans,
  fitTapes,
  isSlip,
  misclosureOf,
  offsetOf,
  otherSide,
  poorCrossing,
  runFrom,
  sharedOut,
  type Tape,
  twoTapes,
} from "./taping";

/** A small generator of its own (mulberry32), so that a failure can be seen again. */
function random(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const near = (got: Point | null, want: Point, ft = 1e-9): void => {
  assert.ok(got && distance(got, want) <= ft, `got ${got}, want ${want}`);
};

test("trade A3: along and off: both sides, beyond the ends, from either end", () => {
  const wall: Base = { a: [10, 5], b: [10, 45] }; // northwards: left is west
  near(alongOff(wall, 12.5, 3, "left"), [7, 17.5]);
  near(alongOff(wall, 12.5, 3, "right"), [13, 17.5]);
  near(alongOff(wall, -2, 0, "left"), [10, 3]);
  near(alongOff(wall, 50, 1, "right"), [11, 55]);
  near(alongOff(wall, 12.5, -3, "left"), [13, 17.5]);
  const back: Base = { a: wall.b, b: wall.a };
  near(alongOff(back, 40 - 12.5, 3, "right"), [7, 17.5]);
});

test("trade A3: along and off: what is measured back is what was typed, for 500 random places", () => {
  const r = random(1);
  for (let i = 0; i < 500; i++) {
    const base: Base = { a: [r() * 200, r() * 200], b: [r() * 200, r() * 200] };
    const p: Point = [r() * 200, r() * 200];
    if (distance(base.a, base.b) < 0.5) continue;
    const o = offsetOf(base, p);
    assert.ok(o);
    near(alongOff(base, o.along, o.off, o.side), p, 1e-9);
    assert.ok(Math.abs(distance(o.foot, p) - o.off) < 1e-9);
    // Mirrored: the same numbers on the other side lie as far off, across the line.
    const m = alongOff(base, o.along, o.off, otherSide(o.side)) as Point;
    const mo = offsetOf(base, m);
    assert.ok(mo && (o.off < 1e-9 || mo.side !== o.side) && Math.abs(mo.along - o.along) < 1e-7);
  }
});

test("trade A3: two tapes: a 3-4-5 triangle and its mirror; a known corner of a right angle crosses at 90", () => {
  const m = twoTapes({ from: [0, 0], length: 3 }, { from: [5, 0], length: 4 });
  assert.ok(m.kind === "meet");
  near(m.left, [1.8, 2.4]);
  near(m.right, [1.8, -2.4]);
  assert.ok(Math.abs(m.crossingDeg - 90) < 1e-9);
});

test("trade A3: two tapes: told apart what cannot be reached, and by how much", () => {
  const from = (x: number, length: number): Tape => ({ from: [x, 0], length });
  assert.deepEqual(twoTapes(from(0, 10), from(24, 12)), { kind: "short", missing: 2 });
  assert.deepEqual(twoTapes(from(0, 40), from(24, 12)), { kind: "long", which: 0, missing: 4 });
  assert.deepEqual(twoTapes(from(0, 12), from(24, 40)), { kind: "long", which: 1, missing: 4 });
  // A quarter of an inch is how a tape is read: they touch, on the line.
  const touch = twoTapes(from(0, 11.99), from(24, 12));
  assert.ok(touch.kind === "meet" && poorCrossing(touch.crossingDeg));
  near(touch.left, touch.right);
});

test("trade A3: two tapes: what has no place gives none, and never a number that is none", () => {
  const bad: [Tape, Tape][] = [
    [
      { from: [3, 3], length: 5 },
      { from: [3, 3], length: 5 },
    ],
    [
      { from: [0, 0], length: -1 },
      { from: [5, 0], length: 5 },
    ],
    [
      { from: [0, 0], length: Number.NaN },
      { from: [5, 0], length: 5 },
    ],
    [
      { from: [Number.NaN, 0], length: 5 },
      { from: [5, 0], length: 5 },
    ],
    [
      { from: [0, 0], length: Number.POSITIVE_INFINITY },
      { from: [5, 0], length: 5 },
    ],
  ];
  for (const [a, b] of bad) assert.equal(twoTapes(a, b).kind, "none");
  assert.equal(alongOff({ a: [4, 4], b: [4, 4] }, 1, 1, "left"), null);
  assert.equal(alongOff({ a: [0, 0], b: [4, 4] }, Number.NaN, 1, "left"), null);
  assert.equal(offsetOf({ a: [0, 0], b: [0, 0] }, [1, 1]), null);
  const t = (x: number, length: number): Tape => ({ from: [x, 0], length });
  assert.equal(fitTapes([t(0, 1), t(1, 1)]), null);
  assert.equal(fitTapes([t(0, 1), t(1, 1), t(2, Number.NaN)]), null);
  assert.equal(fitTapes([t(0, -1), t(1, 1), t(2, 1)]), null);
  assert.equal(fitTapes([t(7, 1), t(7, 1), t(7, 1)]), null);
});

test("trade A3: two tapes: 1,000 random places are found again within what the reading to 1/2 in allows", () => {
  const r = random(2);
  let tried = 0;
  for (let i = 0; i < 1000; i++) {
    const [a, b, p]: Point[] = [0, 1, 2].map(() => [r() * 120, r() * 120]) as Point[];
    if (!a || !b || !p) continue;
    const deg = crossingDeg(p, a, b);
    if (poorCrossing(deg)) continue;
    const half = (n: number) => Math.round(n * 24) / 24;
    const m = twoTapes({ from: a, length: half(distance(a, p)) }, { from: b, length: half(distance(b, p)) });
    if (m.kind !== "meet") continue; // so near a known place that half an inch is too much
    tried++;
    const off = Math.min(distance(m.left, p), distance(m.right, p));
    // Each tape errs by 1/4 in at most; where they cross at an angle the place errs by that over its half sine.
    const allowed = (1 / 48 / Math.sin((Math.min(deg, 180 - deg) * Math.PI) / 360)) * 1.02 + 2e-3;
    assert.ok(off <= allowed, `off by ${off * 12} in at ${deg} degrees, allowed ${allowed * 12}`);
  }
  assert.ok(tried > 300, `${tried} tried`);
});

test("trade A3: three tapes: exact ones give the place and no residual, from any corner", () => {
  const r = random(3);
  for (let i = 0; i < 400; i++) {
    const p: Point = [r() * 100, r() * 100];
    const known = [0, 1, 2].map((): Point => [r() * 100, r() * 100]);
    const wide = known.some((k, j) => !poorCrossing(crossingDeg(p, k, known[(j + 1) % 3] as Point)));
    const [k, l, m] = known as [Point, Point, Point];
    const area = Math.abs(cross(minus(l, k), minus(m, k)));
    if (!wide || area < 50) continue;
    const fit = fitTapes(known.map((from) => ({ from, length: distance(from, p) })));
    assert.ok(fit);
    near(fit.at, p, 1e-6);
    assert.ok(Math.max(...fit.residuals.map(Math.abs)) < 1e-6);
  }
});

test("trade A3: three tapes: noise of 1/2 in moves the place by little, and the best place beats its neighbours", () => {
  const r = random(4);
  const known: Point[] = [
    [0, 0],
    [60, 0],
    [30, 50],
  ];
  for (let i = 0; i < 300; i++) {
    const p: Point = [10 + r() * 40, 5 + r() * 35];
    const tapes = known.map((from) => ({ from, length: distance(from, p) + (r() - 0.5) / 12 }));
    const fit = fitTapes(tapes);
    assert.ok(fit);
    assert.ok(distance(fit.at, p) < 1.5 / 12, `off by ${distance(fit.at, p) * 12} in`);
    const sum = (q: Point) => tapes.reduce((s, t) => s + (t.length - distance(t.from, q)) ** 2, 0);
    for (let deg = 0; deg < 360; deg += 45) {
      assert.ok(sum(fit.at) <= sum(polar(fit.at, deg, 0.002)) + 1e-12, "a neighbour fits better");
    }
  }
});

test("trade A3: three tapes: one tape misread by a foot is told as about a foot, small noise as none", () => {
  const known: Point[] = [
    [0, 0],
    [60, 0],
    [30, 50],
  ];
  const p: Point = [28, 20];
  for (const which of [0, 1, 2]) {
    const tapes = known.map((from, i) => ({ from, length: distance(from, p) + (i === which ? 1 : 0) }));
    const fit = fitTapes(tapes);
    assert.ok(fit);
    assert.ok(Math.abs(fit.slip) > 0.6 && Math.abs(fit.slip) < 1.6, `told as ${fit.slip} ft`);
    assert.ok(isSlip(fit.slip, (tapes[fit.worst] as Tape).length));
  }
  const fine = fitTapes(known.map((from) => ({ from, length: Math.round(distance(from, p) * 24) / 24 })));
  assert.ok(fine && !isSlip(fine.slip, 30));
});

test("trade A3: three tapes: known places in one line cannot tell the side, and say so", () => {
  const p: Point = [10, 12];
  const tapes = [0, 20, 40].map((x): Tape => ({ from: [x, 0], length: distance([x, 0], p) }));
  const fit = fitTapes(tapes);
  assert.ok(fit?.mirrored);
  const sides = [fit.at, fit.mirrored].sort((a, b) => b[1] - a[1]);
  near(sides[0] as Point, p, 1e-6);
  near(sides[1] as Point, [10, -12], 1e-6);
});

test("trade A3: a poor crossing is one under 30 or over 150 degrees", () => {
  assert.deepEqual([29, 30, 90, 150, 151].map(poorCrossing), [true, false, false, false, true]);
});

// Ghilani and Wolf, Elementary Surveying, the worked traverse of the chapter on
// traverse computations: departures and latitudes as measured, and balanced by
// the compass rule. From memory; the sums 0.026 and 0.077, the misclosure 0.081
// and 1 in 30,000 agree among themselves.
test("trade A3: the compass rule: the worked traverse of a handbook", () => {
  const courses: [dep: number, lat: number, balancedDep: number, balancedLat: number][] = [
    [517.451, -388.815, 517.444, -388.835],
    [5.966, -202.942, 5.964, -202.948],
    [192.889, 694.045, 192.881, 694.022],
    [-590.565, 153.708, -590.571, 153.689],
    [-125.715, -255.919, -125.718, -255.928],
  ];
  const start: Point = [10000, 5000];
  const places: Point[] = [start];
  for (const [dep, lat] of courses) {
    const [x, y] = places.at(-1) as Point;
    places.push([x + dep, y + lat]);
  }
  const m = misclosureOf(places, start);
  assert.ok(Math.abs(m.length - 0.081) < 0.0005, `misclosure ${m.length}`);
  assert.ok(Math.abs(m.run - 2466.0) < 0.05, `run ${m.run}`);
  assert.ok(m.oneIn > 29_000 && m.oneIn < 31_000, `1 in ${m.oneIn}`);
  const shared = sharedOut(places, start);
  for (const [i, [, , dep, lat]] of courses.entries()) {
    const [dx, dy] = minus(shared[i + 1] as Point, shared[i] as Point);
    assert.ok(Math.abs(dx - dep) <= 0.0011 && Math.abs(dy - lat) <= 0.0011, `course ${i + 1}: ${dx}, ${dy}`);
  }
});

test("trade A3: sharing out: the misclosure is nothing afterwards, the start stays, each side gives by its length", () => {
  const r = random(5);
  for (let i = 0; i < 300; i++) {
    const legs = Array.from({ length: 3 + Math.floor(r() * 9) }, () => ({
      length: 3 + r() * 40,
      turnDeg: r() < 0.6 ? 90 : -90,
    }));
    const [places] = runFrom([r() * 50, r() * 50], r() * 360, legs);
    const target: Point = [r() * 50, r() * 50];
    const shared = sharedOut(places, target);
    assert.equal(misclosureOf(shared, target).length, 0);
    near(shared[0] as Point, places[0] as Point, 0);
    const run = legs.reduce((s, l) => s + l.length, 0);
    const whole = minus(target, places.at(-1) as Point);
    legs.forEach((l, k) => {
      const by = minus(
        minus(shared[k + 1] as Point, shared[k] as Point),
        minus(places[k + 1] as Point, places[k] as Point),
      );
      near(by, [(whole[0] * l.length) / run, (whole[1] * l.length) / run], 1e-9);
    });
  }
  assert.deepEqual(sharedOut([[1, 1]], [2, 2]), [[1, 1]]);
  assert.deepEqual(sharedOut([], [2, 2]), []);
});

test("trade A3: a run by turns comes back: an L of six sides, left and right mirrored", () => {
  const legs = (left: number) => [
    { length: 24 },
    { length: 10.5, turnDeg: left },
    { length: 8, turnDeg: left },
    { length: 6, turnDeg: -left },
    { length: 16, turnDeg: left },
    { length: 16.5, turnDeg: left },
  ];
  const [places, deg] = runFrom([2, 3], 0, legs(90));
  near(places.at(-1) as Point, [2, 3], 1e-12);
  assert.equal(deg, 270);
  const [mirrored] = runFrom([2, 3], 0, legs(-90));
  mirrored.forEach((p, i) => {
    const q = places[i] as Point;
    near(p, [q[0], 6 - q[1]], 1e-12);
  });
});

test("trade A3: ties laid over a drawing: free corners go where the tapes say, the others and what no tape fixes stay", () => {
  const r = random(6);
  for (let i = 0; i < 100; i++) {
    const house: Point[] = [
      [0, 0],
      [40, 0],
      [40, 26],
      [0, 26],
    ];
    const truth: Point[] = [
      ...house,
      [52 + r() * 10, 10 + r() * 10],
      [-14 - r() * 8, 30 + r() * 8],
      [70, 60],
    ];
    const drawn = truth.map((p, k): Point => (k < 4 ? p : [p[0] + r() - 0.5, p[1] + r() - 0.5]));
    const span = (from: number, to: number) => ({
      from,
      to,
      length: distance(truth[from] as Point, truth[to] as Point),
    });
    const spans = [span(1, 4), span(2, 4), span(3, 5), span(2, 5), span(4, 5)];
    const free = truth.map((_, k) => k >= 4);
    const got = fitSpans(drawn, free, spans);
    for (const k of [4, 5]) near(got[k] as Point, truth[k] as Point, 1e-3);
    for (const k of [0, 1, 2, 3, 6]) near(got[k] as Point, drawn[k] as Point, 1e-9);
  }
});

test("trade A3: ties laid over a drawing: one tape alone moves its end along itself; none moves nothing", () => {
  const got = fitSpans(
    [
      [0, 0],
      [10, 0],
    ],
    [false, true],
    [{ from: 0, to: 1, length: 11 }],
  );
  near(got[1] as Point, [11, 0], 1e-4);
  const same: Point[] = [
    [0, 0],
    [3, 4],
  ];
  assert.deepEqual(fitSpans(same, [true, true], []), same);
  const onTop = fitSpans(
    [
      [5, 5],
      [5, 5],
    ],
    [false, true],
    [{ from: 0, to: 1, length: 2 }],
  );
  assert.ok(Math.abs(distance(onTop[0] as Point, onTop[1] as Point) - 2) < 1e-3);
});

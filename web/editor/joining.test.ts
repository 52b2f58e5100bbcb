import assert from "node:assert/strict";
import { test } from "node:test";
import { splitArea, splitBarrier } from "./cut";
import type { Point } from "./geometry";
import type { Area, Barrier, Outline, Plan } from "./model";
import { areaOf, faultOf, lengthOf, ringOf, shapeHolds } from "./shape";
import { empty } from "./testplan";
import { join } from "./unite";

/** Random numbers that are the same each run (a linear congruence, Numerical Recipes). */
function dice(seed: number): () => number {
  let s = seed;
  return () => {
    s = (s * 1664525 + 1013904223) % 2 ** 32;
    return s / 2 ** 32;
  };
}

/** A star-shaped outline about a centre: random corners in order of their direction, some edges bowed. */
function star(r: () => number, centre: Point, size: number, bows: boolean): Outline {
  const n = 3 + Math.floor(r() * 8);
  return Array.from({ length: n }, (_, i) => {
    const deg = (360 * (i + 0.15 + 0.7 * r())) / n;
    const out = size * (0.45 + 0.55 * r());
    const x = centre[0] + out * Math.cos((deg * Math.PI) / 180);
    const y = centre[1] + out * Math.sin((deg * Math.PI) / 180);
    const bulge = bows && r() < 0.3 ? (r() - 0.5) * 0.4 : 0;
    return bulge === 0 ? [x, y] : [x, y, bulge];
  });
}

const sizeOf = (a: Area): number => areaOf(a.outline) - (a.holes ?? []).reduce((n, h) => n + areaOf(h), 0);
const total = (p: Plan): number => Object.values(p.areas ?? {}).reduce((n, a) => n + sizeOf(a), 0);
const plan = (...areas: Area[]): Plan => ({
  ...empty(),
  areas: Object.fromEntries(areas.map((a, i) => [`a${i + 1}`, a])),
});
const lawn = (outline: Outline, holes?: Outline[]): Area => ({
  name: "Lawn",
  kind: "planting",
  outline,
  ...(holes ? { holes } : {}),
});

test("row A10: the parts of a split area sum to the whole, and joined they are it again", () => {
  const r = dice(31);
  let [split, joined] = [0, 0];
  const refused: string[] = [];
  for (let i = 0; i < 600; i++) {
    const outline = star(r, [40, 30], 20 + 20 * r(), i % 2 === 0);
    if (faultOf(outline)) continue;
    const hole = i % 5 === 0 ? star(r, [40, 30], 3, false) : null;
    const p = plan(lawn(outline, hole ? [hole] : undefined));
    const [deg, off] = [r() * Math.PI, (r() - 0.5) * 24];
    const at: Point = [40 - off * Math.sin(deg), 30 + off * Math.cos(deg)];
    const far = (k: number): Point => [at[0] + k * Math.cos(deg), at[1] + k * Math.sin(deg)];
    const c = splitArea(p, "a1", far(-90), far(90));
    if ("why" in c) {
      refused.push(c.why);
      continue;
    }
    split++;
    const before = total(p);
    assert.ok(Math.abs(total(c.plan) - before) < 1e-6 * before, `case ${i}: ${total(c.plan)} of ${before}`);
    for (const a of Object.values(c.plan.areas ?? {})) assert.equal(faultOf(a.outline), null, `case ${i}`);
    const [one, two] = c.select;
    const back = join(c.plan, one as never, two as never);
    assert.ok(!("why" in back), `case ${i}: ${"why" in back ? back.why : ""}`);
    joined++;
    assert.equal(Object.keys(back.plan.areas ?? {}).length, 1);
    assert.ok(
      Math.abs(total(back.plan) - before) < 1e-6 * before,
      `case ${i}: joined ${total(back.plan)} of ${before}`,
    );
  }
  assert.ok(split > 250 && joined === split, `${split} split, ${joined} joined`);
  for (const why of refused)
    assert.match(why, /right across|more than twice|runs outside|through a hole|leave nothing/);
});

test("row A10: two areas joined hold what either held, and nothing else", () => {
  const r = dice(57);
  let joined = 0;
  for (let i = 0; i < 300; i++) {
    const one = star(r, [30, 30], 14 + 8 * r(), false);
    const two = star(r, [30 + 16 * r(), 30 + 16 * r()], 14 + 8 * r(), false);
    if (faultOf(one) || faultOf(two)) continue;
    const c = join(plan(lawn(one), lawn(two)), "areas/a1", "areas/a2");
    if ("why" in c) {
      assert.match(c.why, /share no edge|touch themselves/, `case ${i}`);
      continue;
    }
    joined++;
    const area = Object.values(c.plan.areas ?? {})[0] as Area;
    for (let k = 0; k < 200; k++) {
      const q: Point = [r() * 80, r() * 80];
      const either = shapeHolds(one, [], q) || shapeHolds(two, [], q);
      assert.equal(shapeHolds(area.outline, area.holes ?? [], q), either, `case ${i} at ${q}`);
    }
  }
  assert.ok(joined > 200, `${joined} joined`);
});

test("row A10: a wall split at any corner and joined again is as long and as it was", () => {
  const r = dice(91);
  for (let i = 0; i < 200; i++) {
    const n = 3 + Math.floor(r() * 6);
    const line = Array.from({ length: n }, (_, k): Outline[number] =>
      r() < 0.3 ? [k * 5 + r(), r() * 4, (r() - 0.5) * 0.3] : [k * 5 + r(), r() * 4],
    );
    const last = line[n - 1] as Outline[number];
    line[n - 1] = [last[0], last[1]];
    const p: Plan = { ...empty(), barriers: { b1: { name: "Wall 1", line, height_ft: 6 } } };
    const c = splitBarrier(p, "b1", 1 + Math.floor(r() * (n - 2)));
    assert.ok(!("why" in c));
    const lines = Object.values(c.plan.barriers ?? {});
    const sum = lines.reduce((s, b) => s + lengthOf(b.line), 0);
    assert.ok(Math.abs(sum - lengthOf(line)) < 1e-9);
    const back = join(c.plan, c.select[0] as never, c.select[1] as never);
    assert.ok(!("why" in back), "why" in back ? back.why : "");
    const [only] = Object.values(back.plan.barriers ?? {}) as [Barrier];
    const forth = JSON.stringify(only.line);
    assert.ok(forth === JSON.stringify(line) || lengthOf(only.line) === lengthOf(line), forth);
    assert.equal(ringOf(only.line).length > 0, true);
  }
});

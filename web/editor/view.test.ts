import assert from "node:assert/strict";
import { test } from "node:test";
import { gridAt, onGrid, roundTo } from "./grid";
import {
  fit,
  keepWhole,
  LEAST_SCALE,
  MOST_SCALE,
  panBy,
  pixel,
  resize,
  sees,
  shown,
  toFeet,
  toPixel,
  transformOf,
  type View,
  withinReach,
  zoomAt,
} from "./view";

const view: View = { scale: 8, left: -10, top: 100, width: 1280, height: 720 };

test("north is up: y is turned over here and only here", () => {
  assert.deepEqual(toPixel(view, [-10, 100]), pixel(0, 0));
  assert.deepEqual(toPixel(view, [0, 90]), pixel(80, 80));
  assert.deepEqual(toFeet(view, pixel(80, 80)), [0, 90]);
  assert.equal(transformOf(view), "matrix(8 0 0 -8 80 800)");
});

test("rowA14: the ground under the cursor stays within half a pixel over 40 steps in and 40 out", () => {
  const at = pixel(913, 207);
  const ground = toFeet(view, at);
  let v = view;
  for (let i = 0; i < 40; i++) {
    v = zoomAt(v, at, 1.09);
    const now = toPixel(v, ground);
    assert.ok(Math.hypot(now.px - at.px, now.py - at.py) < 0.5, `step ${i}`);
  }
  for (let i = 0; i < 40; i++) v = zoomAt(v, at, 1 / 1.09);
  assert.ok(Math.abs(v.scale - view.scale) < 1e-9);
  assert.ok(Math.abs(v.left - view.left) < 1e-9);
});

test("zoom stops at its ends without moving the ground", () => {
  const at = pixel(10, 700);
  const ground = toFeet(view, at);
  for (const [factor, scale] of [
    [1e9, MOST_SCALE],
    [1e-9, LEAST_SCALE],
  ] as const) {
    const v = zoomAt(view, at, factor);
    assert.equal(v.scale, scale);
    const now = toPixel(v, ground);
    assert.ok(Math.hypot(now.px - at.px, now.py - at.py) < 0.5);
  }
});

test("panning follows the hand", () => {
  const v = panBy(view, 16, -24);
  assert.deepEqual(toPixel(v, toFeet(view, pixel(100, 100))), pixel(116, 76));
});

test("rowA14: fit shows the bounds in the middle with 5 to 10 % around them", () => {
  for (const b of [
    { minX: 0, minY: 0, maxX: 116, maxY: 108 },
    { minX: -5, minY: 40, maxX: 300, maxY: 44 },
  ]) {
    const v = fit(view, b);
    const [a, c] = [toPixel(v, [b.minX, b.maxY]), toPixel(v, [b.maxX, b.minY])];
    const left = a.px / view.width;
    const top = a.py / view.height;
    const least = Math.min(left, top);
    assert.ok(least >= 0.05 && least <= 0.1, `margin ${least}`);
    assert.ok(Math.abs(a.px - (view.width - c.px)) < 1e-6);
    assert.ok(Math.abs(a.py - (view.height - c.py)) < 1e-6);
  }
});

test("rowA14: the plan cannot be lost", () => {
  const b = { minX: 0, minY: 0, maxX: 116, maxY: 108 };
  const lost = withinReach(panBy(view, 1e6, 1e6), b);
  const c = toFeet(lost, pixel(lost.width / 2, lost.height / 2));
  assert.ok(c[0] >= -116 - 1e-6 && c[1] <= 108 + 116 + 1e-6);
  const small = withinReach({ ...view, scale: LEAST_SCALE }, b);
  assert.ok(116 * small.scale >= 59.9, "never smaller than 60 px");
  assert.equal(withinReach(view, b), view, "a view within reach is left alone");
  assert.ok(sees(fit(lost, b), b));
});

test("the middle stays when the board changes its size", () => {
  const v = resize(view, 640, 480);
  const [a, b] = [shown(view), shown(v)];
  assert.equal((a.minX + a.maxX) / 2, (b.minX + b.maxX) / 2);
  assert.equal((a.minY + a.maxY) / 2, (b.minY + b.maxY) / 2);
});

test("rowA5: grid steps are those of the ground and follow the zoom", () => {
  const texts = [0.1, 1, 4, 10, 30, 200].map((s) => gridAt(s, "us").text);
  assert.deepEqual(texts, [
    "100 ft, snaps to 50 ft",
    "10 ft, snaps to 5 ft",
    "5 ft, snaps to 1 ft",
    "1 ft, snaps to 6 in",
    "6 in",
    "1 in",
  ]);
  assert.deepEqual(
    [0.1, 1, 4, 30].map((s) => gridAt(s, "metric").step * 0.3048).map((m) => Number(m.toFixed(6))),
    [50, 5, 1, 0.1],
  );
  for (const s of [0.05, 0.7, 3, 12, 90]) assert.ok(gridAt(s, "us").step * s >= 9 || s === 0.05);
});

test("grid places are exact: the twelfth inch is a foot", () => {
  assert.equal(roundTo(23.999, 1 / 12), 24);
  assert.equal(roundTo(2.08, 1 / 12), 25 / 12);
  assert.deepEqual(onGrid([12.4, -0.2], 0.5), [12.5, 0]);
});

test("a table opened under the board leaves the whole plan in view, and a close look where it is", () => {
  const plan = { minX: 0, minY: 0, maxX: 100, maxY: 80 };
  const whole = fit({ scale: 1, left: 0, top: 0, width: 800, height: 600 }, plan);
  const half = keepWhole(whole, resize(whole, 800, 300), plan);
  const seen = shown(half);
  assert.ok(seen.minY <= 0 && seen.maxY >= 80, `from ${seen.minY} to ${seen.maxY}`);
  const close = zoomAt(whole, pixel(400, 300), 4);
  assert.equal(keepWhole(close, resize(close, 800, 300), plan).scale, close.scale);
  // Fitted, it stays fitted when only its margin would go, and when there is more room.
  for (const height of [560, 700])
    assert.deepEqual(
      keepWhole(whole, resize(whole, 800, height), plan),
      fit(resize(whole, 800, height), plan),
    );
});

// The similarity between a picture's pixels and the plan's feet, and what two
// known distances make of it.

import assert from "node:assert/strict";
import { test } from "node:test";
import { distance, type Point } from "./geometry";
import type { KnownLength, PicturePoint, Underlay } from "./model";
import {
  checked,
  checkOf,
  checkText,
  frameHolds,
  frameOf,
  isSized,
  laidIn,
  levelled,
  measured,
  onPicture,
  onPlan,
  pixelsOf,
  replaced,
  scaled,
  smallText,
  swapped,
  turnedTo,
} from "./picture";

const METRE = 1 / 0.3048;
const base: Underlay = {
  sha256: "a".repeat(64),
  width_px: 2000,
  height_px: 1500,
  ft_per_px: 0.1,
  x_ft: 0,
  y_ft: 0,
};
const px = (x_px: number, y_px: number): PicturePoint => ({ x_px, y_px });
const known = (from: PicturePoint, to: PicturePoint, distance_ft: number): KnownLength => ({
  from,
  to,
  distance_ft,
});

function ok<T>(r: { ok: true; value: T } | { ok: false; sentence: string }): T {
  assert.ok(r.ok, r.ok ? "" : r.sentence);
  return r.value;
}

function sizedOf(u: Underlay) {
  assert.ok(isSized(u));
  return u;
}

/** A generator of numbers from a seed (Park and Miller's, 1988), so that a failure can be seen again. */
function random(seed: number): (low: number, high: number) => number {
  let s = seed;
  return (low, high) => {
    s = (s * 48271) % 2147483647;
    return low + ((high - low) * s) / 2147483647;
  };
}

const near = (a: number, b: number, by: number, what: string): void =>
  assert.ok(Math.abs(a - b) <= by, `${what}: got ${a}, want ${b} within ${by}`);
const close = (a: Point, b: Point, by: number, what: string): void =>
  assert.ok(distance(a, b) <= by, `${what}: got ${a}, want ${b}`);

test("row A7: a bar of 400 px known to be 10 m long gives 0.025 m a pixel", () => {
  const u = ok(scaled(base, known(px(300, 700), px(700, 700), 10 * METRE), "metric"));
  near(u.ft_per_px * 0.3048, 0.025, 1e-12, "metres a pixel");
  assert.equal(u.locked, true, "scaled, it is locked");
  close(onPlan(sizedOf(u), px(300, 700)), onPlan(sizedOf(base), px(300, 700)), 1e-5, "the first place stays");
});

test("row A7: pixels and feet go over into each other under any similarity", () => {
  const r = random(7);
  for (let i = 0; i < 500; i++) {
    const u = sizedOf({
      ...base,
      width_px: Math.round(r(1, 12000)),
      height_px: Math.round(r(1, 12000)),
      ft_per_px: 10 ** r(-3, 1),
      x_ft: r(-9000, 9000),
      y_ft: r(-9000, 9000),
      rotate_deg: r(-359, 359),
    });
    const [p, q] = [px(r(0, 12000), r(0, 12000)), px(r(0, 12000), r(0, 12000))];
    const [a, b] = [onPlan(u, p), onPlan(u, q)];
    near(distance(a, b), pixelsOf({ from: p, to: q }) * u.ft_per_px, 1e-6 * u.ft_per_px * 12000, "length");
    const back = onPicture(u, a);
    near(back.x_px, p.x_px, 0.006, "x");
    near(back.y_px, p.y_px, 0.006, "y");
  }
});

test("row A7: however it is laid, scaling makes the known distance right, keeps the first place, the angles and the checks", () => {
  const r = random(11);
  for (let i = 0; i < 300; i++) {
    const u = sizedOf({
      ...base,
      x_ft: r(-500, 500),
      y_ft: r(-500, 500),
      rotate_deg: r(-179, 179),
      ft_per_px: r(0.01, 2),
    });
    const [p, q] = [px(r(0, 900), r(0, 1500)), px(r(1100, 2000), r(0, 1500))];
    const want = r(5, 400);
    const next = sizedOf(ok(scaled(u, known(p, q, want), "us")));
    near(distance(onPlan(next, p), onPlan(next, q)), want, 1e-9 * want + 1e-9, "known distance");
    close(onPlan(next, p), onPlan(u, p), 2e-6, "first place");
    assert.equal(next.rotate_deg, u.rotate_deg);
    const again = ok(scaled(next, known(p, q, want), "us"));
    near(again.ft_per_px, next.ft_per_px, 1e-15, "scaling again changes nothing");
    // Turning and levelling keep the scale; levelled, the line is level or upright.
    const turned = sizedOf(ok(turnedTo(next, r(-700, 700))));
    near(distance(onPlan(turned, p), onPlan(turned, q)), want, 1e-6, "turned");
    close(onPlan(turned, px(1000, 750)), onPlan(next, px(1000, 750)), 2e-6, "its middle stays");
    const level = sizedOf(ok(levelled(turned, p, q)));
    const [a, b] = [onPlan(level, p), onPlan(level, q)];
    near(Math.min(Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1])), 0, 1e-4, "level or upright");
    near(distance(a, b), want, 1e-6, "levelled");
    const turn = Math.abs((level.rotate_deg ?? 0) - (turned.rotate_deg ?? 0));
    assert.ok(Math.min(turn, 360 - turn) <= 45 + 1e-6, `turned by ${turn}, the least is 45 at most`);
  }
});

test("row A7: what cannot give a scale is refused with what to do", () => {
  const a = px(100, 100);
  const far = px(500, 100);
  const refused: [KnownLength, RegExp][] = [
    [known(a, a, 10), /same.*far apart/],
    [known(a, px(101, 101), 10), /same.*far apart/],
    [known(a, far, 0), /more than zero/],
    [known(a, far, -3), /more than zero/],
    [known(a, far, Number.NaN), /more than zero/],
    [known(a, far, Number.POSITIVE_INFINITY), /more than zero/],
    [known(a, px(2001, 100), 10), /beside the picture, which has 2000 × 1500 pixels/],
    [known(px(-1, 100), far, 10), /beside the picture/],
    [known(a, px(Number.NaN, 100), 10), /two numbers/],
    [known(a, far, 0.01), /whole picture would be 0\.6 in across.*Check the number/],
    [known(a, far, 32_000), /across.*Check the number/],
  ];
  for (const [k, says] of refused) {
    const r = scaled(base, k, "us");
    assert.ok(!r.ok && says.test(r.sentence), `${JSON.stringify(k)}: ${r.ok ? "taken" : r.sentence}`);
  }
  const tiny = scaled({ ...base, width_px: 10, height_px: 10 }, known(px(0, 0), px(4, 0), 5000), "us");
  assert.ok(!tiny.ok, "1,250 ft a pixel");
  const { width_px: _w, ...unsized } = base;
  assert.ok(!scaled(unsized, known(a, far, 10), "us").ok);
  assert.equal(frameOf(unsized), null);
  const away = scaled(
    { ...base, x_ft: -32_000, ft_per_px: 0.001 },
    known(px(2000, 0), px(0, 0), 15_000),
    "us",
  );
  assert.ok(!away.ok && /farther than 10 km/.test(away.sentence));
});

test("row A7: a second known distance says how true the picture is, in per cent and inches", () => {
  const u = ok(scaled(base, known(px(0, 0), px(400, 0), 40), "us")); // 0.1 ft a pixel
  assert.equal(checkOf(u), null);
  const check = (to: PicturePoint, ft: number, show: "us" | "metric" = "us") => {
    const v = ok(checked(u, known(px(0, 0), to, ft)));
    assert.equal(v.ft_per_px, u.ft_per_px, "checking moves nothing");
    return { ...(checkOf(v) as NonNullable<ReturnType<typeof checkOf>>), text: checkText(v, show) };
  };
  const exact = check(px(0, 1000), 100);
  assert.equal(exact.rank, "good");
  assert.match(exact.text, /0\.0 % off\. The two agree\./);
  const good = check(px(0, 1000), 99.6);
  assert.deepEqual([good.rank, Number(good.offFt.toFixed(6))], ["good", 0.4]);
  assert.match(good.text, /0\.4 % too long \(4\.8 in on 99' 7"\)/);
  const fair = check(px(0, 1000), 101.5);
  assert.equal(fair.rank, "fair");
  assert.match(fair.text, /1\.5 % too short/);
  const poor = check(px(0, 1000), 97);
  assert.deepEqual([poor.rank, poor.better], ["poor", true]);
  assert.match(poor.text, /3\.1 % too long \(3' 0" on 97' 0"\)\. The picture leans.*Scale by the longer one/);
  const short = check(px(200, 0), 19);
  assert.deepEqual([short.rank, short.better], ["poor", false]);
  assert.match(short.text, /5\.3 % too long \(12 in on 19' 0"\).*Measure both again/);
  assert.match(check(px(200, 0), 19, "metric").text, /30\.5 cm on 5\.79 m/);
  // Of a short check no hand is sure: two pixels of 60 are 3 %, and one per cent of that is let pass.
  assert.equal(check(px(60, 0), 6.05).rank, "good");
  assert.ok(!checked(base, known(px(0, 0), px(9, 9), 1)).ok, "nothing to check before it is scaled");
});

test("row A7: scaled by the longer of the two, the first checks it", () => {
  const u = ok(scaled(base, known(px(0, 0), px(400, 0), 40), "us"));
  const v = ok(checked(u, known(px(0, 0), px(0, 1000), 97)));
  const w = ok(swapped(v, "us"));
  near(w.ft_per_px, 0.097, 1e-12, "scale");
  assert.deepEqual([w.scaled_by, w.checked_by], [v.checked_by, v.scaled_by]);
  near((checkOf(w)?.share ?? 0) * 100, -3, 1e-9, "what is off now");
  assert.ok(!swapped(u, "us").ok);
});

test("row A7: a picture is laid in the middle of what is shown, whole and not locked", () => {
  const ground = { minX: -10, minY: 20, maxX: 110, maxY: 110 };
  const u = sizedOf(laidIn({ sha256: base.sha256, width_px: 2000, height_px: 1500 }, ground));
  close(onPlan(u, px(1000, 750)), [50, 65], 1e-3, "middle");
  near(measured(u, { from: px(0, 0), to: px(2000, 0) }), 96, 0.01, "width");
  assert.ok(!u.locked && !u.scaled_by);
  for (const c of frameOf(u) ?? []) assert.ok(c[0] >= -10 && c[0] <= 110 && c[1] >= 20 && c[1] <= 110);
  assert.ok(frameHolds(u, [50, 65]) && !frameHolds(u, [-9, 21]));
  const speck = laidIn(
    { sha256: base.sha256, width_px: 12000, height_px: 1 },
    { minX: 0, minY: 0, maxX: 0, maxY: 0 },
  );
  assert.ok(speck.ft_per_px > 0);
});

test("row A7: another file of the same size takes the place of the picture; of another size it is scaled anew", () => {
  const u = ok(scaled({ ...base, rotate_deg: 20 }, known(px(0, 0), px(400, 0), 40), "us"));
  const same = replaced(u, { sha256: "b".repeat(64), width_px: 2000, height_px: 1500 });
  assert.deepEqual(same, { ...u, sha256: "b".repeat(64) });
  const other = sizedOf(replaced(u, { sha256: "b".repeat(64), width_px: 500, height_px: 1000 }));
  assert.ok(!other.scaled_by && !other.locked && other.rotate_deg === 20);
  close(onPlan(other, px(250, 500)), onPlan(sizedOf(u), px(1000, 750)), 1e-5, "middle");
  near(other.ft_per_px * 500, u.ft_per_px * 2000, 1e-9, "width");
});

test("row A7: turning goes anticlockwise and is written plainly", () => {
  const u = ok(turnedTo(base, 90));
  assert.equal(u.rotate_deg, 90);
  // Anticlockwise by a quarter the picture's right edge is on top.
  close(onPlan(sizedOf(u), px(2000, 750)), [100, 75 + 100], 1e-6, "right edge");
  assert.equal(ok(turnedTo(base, 270)).rotate_deg, -90);
  assert.ok(!("rotate_deg" in ok(turnedTo(u, 360))), "a whole turn is none");
  const fallen = levelled(base, px(0, 0), px(1000, 100)); // falls to the right by 5.7 degrees
  near(ok(fallen).rotate_deg ?? 0, (Math.atan2(100, 1000) * 180) / Math.PI, 1e-5, "turned back up");
  assert.ok(!levelled(base, px(5, 5), px(5, 5)).ok);
});

test("row A7: small lengths are said as fine as they are used", () => {
  assert.deepEqual(
    [
      smallText(0.001, "us"),
      smallText(0.1, "us"),
      smallText(1.99, "us"),
      smallText(2, "us"),
      smallText(0.1, "metric"),
    ],
    ["0.012 in", "1.2 in", "23.9 in", "2' 0\"", "3 cm"],
  );
});

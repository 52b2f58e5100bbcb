import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { mirrorThings, parseAxis } from "./mirroring";
import type { Area, Head, Nozzle, Plan, Ref } from "./model";
import { laid, type Motion, mirrorIn, turnAbout } from "./motions";
import { areaOf } from "./shape";
import { catalog, yard } from "./testplan";
import { allThings } from "./things";
import { middleOfAll, turnThings, turnToLie } from "./turning";

interface Case {
  what: string;
  mirror?: { at: [number, number]; deg: number };
  turn?: { centre: [number, number]; deg: number };
  head: { x: number; y: number; start: number; sweep: number };
  want: { x: number; y: number; start: number; sweep: number };
  bulge: number;
  wantBulge: number;
  slopeToward: number;
  wantToward: number;
}
const cases = JSON.parse(
  readFileSync(join(process.env.EVENFALL_ROOT ?? ".", "testdata/vectors/motions.json"), "utf8"),
) as Case[];

const near = (got: number | undefined, want: number, what: string) =>
  assert.ok(got !== undefined && Math.abs(got - want) < 1e-9, `${what}: got ${got}, want ${want}`);
const motionOf = (c: Case): Motion =>
  c.mirror ? mirrorIn(c.mirror.at, c.mirror.deg) : turnAbout(c.turn?.centre ?? [0, 0], c.turn?.deg ?? 0);

test("row A10: heads, arcs and slopes are moved as the cases shared with the server say", () => {
  assert.ok(cases.length >= 5);
  for (const c of cases) {
    const m = motionOf(c);
    const h: Head = {
      nozzle: "n",
      body: "b",
      x_ft: c.head.x,
      y_ft: c.head.y,
      start_deg: c.head.start,
      sweep_deg: c.head.sweep,
    };
    const got = laid("heads", h, m);
    near(got.x_ft, c.want.x, c.what);
    near(got.y_ft, c.want.y, c.what);
    near(got.start_deg, c.want.start, c.what);
    near(got.sweep_deg, c.want.sweep, c.what);
    const a: Area = {
      name: "",
      kind: "planting",
      slope: 0.1,
      slope_toward_deg: c.slopeToward,
      outline: [
        [0, 0, c.bulge],
        [9, 0],
        [9, 9],
      ],
    };
    const area = laid("areas", a, m);
    near(area.outline[0]?.[2] ?? 0, c.wantBulge, c.what);
    near(area.slope_toward_deg, c.wantToward, c.what);
    near(areaOf(area.outline), areaOf(a.outline), c.what);
  }
});

/** Random numbers that are the same each run. */
function dice(seed: number): () => number {
  let s = seed;
  return () => {
    s = (s * 1664525 + 1013904223) % 2 ** 32;
    return s / 2 ** 32;
  };
}

/** A yard with an arc, a hole, a slope and a strip of each sort. */
function fullYard(): Plan {
  const p = yard();
  const strip = (left: number, right: number, back: boolean): Nozzle => ({
    ...(p.nozzles?.["stream-25"] as Nozzle),
    family: "strip",
    arc_least_deg: 0,
    arc_most_deg: 0,
    strip: { ahead: true, back, left_ft: left, right_ft: right },
  });
  const head = (nozzle: string, x: number): Head => ({
    nozzle,
    body: "body-4",
    x_ft: x,
    y_ft: 7,
    start_deg: 20,
  });
  return {
    ...p,
    site: {
      lot: [
        [-5, -5],
        [70, -5, 0.3],
        [70, 50],
        [-5, 50],
      ],
    },
    areas: {
      ...p.areas,
      a3: {
        name: "Bed",
        kind: "planting",
        slope: 0.05,
        outline: [
          [0, 0, -0.4],
          [9, 0],
          [9, 9],
        ],
        holes: [
          [
            [6, 1, 0.2],
            [8, 1],
            [8, 3],
          ],
        ],
      },
    },
    nozzles: {
      ...p.nozzles,
      left: strip(14, 1, false),
      right: strip(1, 14, false),
      side: strip(14, 1, true),
    },
    heads: { ...p.heads, s1: head("left", 3), s2: head("side", 6) },
    ties: { i1: { from: { x_ft: 1, y_ft: 2 }, to: { x_ft: 8, y_ft: 2 }, distance_ft: 7 } },
    notes: { m1: { text: "here", x_ft: 3, y_ft: 9 } },
  };
}

/** All figures of two plans alike to 1e-9, directions round the circle; and every word. */
function alike(got: unknown, want: unknown, path = "", deg = false): void {
  if (typeof want === "number" || typeof got === "number") {
    const [g, w] = [(got as number) ?? 0, (want as number) ?? 0];
    const off = deg ? Math.abs(((((g - w) % 360) + 540) % 360) - 180) : Math.abs(g - w);
    assert.ok(off < 1e-9, `${path}: got ${g}, want ${w}`);
    return;
  }
  if (typeof want !== "object" || want === null) {
    assert.deepEqual(got, want, path);
    return;
  }
  const [a, b] = [got as Record<string, unknown>, want as Record<string, unknown>];
  for (const k of new Set([...Object.keys(a ?? {}), ...Object.keys(b)])) {
    alike(a?.[k], b[k], `${path}/${k}`, k.endsWith("_deg") && k !== "sweep_deg");
  }
}

test("row A10: mirrored twice, and turned there and back, a plan is the same to 1e-9", () => {
  const r = dice(7);
  const p = fullYard();
  const all = allThings(p);
  for (let i = 0; i < 200; i++) {
    const at: [number, number] = [r() * 80 - 10, r() * 60 - 10];
    const deg = i % 3 === 0 ? 45 * Math.floor(r() * 8) : r() * 360;
    const once = mirrorThings(p, catalog, all, { at, deg }, false);
    alike(mirrorThings(once.plan, catalog, all, { at, deg }, false).plan, p);
    const turned = turnThings(p, all, at, deg, false);
    alike(turnThings(turned.plan, all, at, -deg, false).plan, p);
    // About the middle too, which turns along.
    const about = (q: Plan) => middleOfAll(q, all) ?? [0, 0];
    const half = turnThings(p, all, about(p), deg, false).plan;
    alike(turnThings(half, all, about(half), -deg, false).plan, p);
  }
});

test("row A10: a one-sided strip becomes its mirror twin, one that wets both ways turns about", () => {
  const p = fullYard();
  const once = mirrorThings(p, catalog, ["heads/s1", "heads/s2"], { at: [0, 0], deg: 90 }, false).plan;
  assert.equal(once.heads?.s1?.nozzle, "right");
  assert.equal(once.heads?.s1?.start_deg, 160);
  assert.equal(once.heads?.s2?.nozzle, "side");
  assert.equal(once.heads?.s2?.start_deg, 340);
  const { right: _gone, ...rest } = p.nozzles ?? {};
  const alone = mirrorThings({ ...p, nozzles: rest }, catalog, ["heads/s1"], { at: [0, 0], deg: 90 }, false);
  assert.match(alone.notes.join(" "), /no mirror image/);
  assert.equal(alone.plan.heads?.s1?.nozzle, "left");
});

test("row A10: locked things are left alone and said to be; a copy leaves the originals and has no tag", () => {
  const p = yard();
  const locked: Plan = { ...p, heads: { ...p.heads, h1: { ...(p.heads?.h1 as Head), locked: true } } };
  const refs: Ref[] = ["heads/h1", "heads/h2"];
  const moved = mirrorThings(locked, catalog, refs, { at: [30, 0], deg: 90 }, false);
  assert.deepEqual(moved.plan.heads?.h1, locked.heads?.h1);
  assert.equal(moved.plan.heads?.h2?.x_ft, 20);
  assert.deepEqual(moved.notes, ["1 locked left alone."]);
  const kept = mirrorThings(locked, catalog, refs, { at: [30, 0], deg: 90 }, true);
  assert.deepEqual(kept.plan.heads?.h1, locked.heads?.h1);
  assert.equal(kept.select.length, 2);
  const copy = kept.plan.heads?.[kept.select[0]?.slice(6) ?? ""];
  assert.deepEqual(
    [copy?.x_ft, copy?.tag, copy?.zone, copy?.locked, copy?.start_deg],
    [59, undefined, "z1", undefined, 90],
  );
  const half = turnThings(locked, refs, [30, 0], 180, false);
  assert.deepEqual(half.plan.heads?.h1, locked.heads?.h1);
  assert.equal(half.label, "Turn head 1-2 by 180°");
});

test("row A10: an axis is typed as x, y or an angle", () => {
  const mid: [number, number] = [3, 4];
  const axis = (t: string, show: "us" | "metric" = "us") => {
    const a = parseAxis(t, show, mid);
    return a.ok ? a.value : a.sentence;
  };
  assert.deepEqual(axis("x 20"), { at: [20, 0], deg: 90 });
  assert.deepEqual(axis("X = 12' 6\""), { at: [12.5, 0], deg: 90 });
  assert.deepEqual(axis("y -3"), { at: [0, -3], deg: 0 });
  assert.deepEqual(axis("45°"), { at: mid, deg: 45 });
  assert.deepEqual(axis("y 3", "metric"), { at: [0, 3 * (1 / 0.3048)], deg: 0 });
  assert.match(String(axis("somewhere")), /Write x 20, y 12 or an angle/);
});

test("row A10: an edge is laid along another by the smaller turn", () => {
  assert.equal(
    turnToLie(
      [
        [0, 0],
        [1, 0],
      ],
      30,
    ),
    30,
  );
  assert.equal(
    turnToLie(
      [
        [0, 0],
        [-1, 0],
      ],
      30,
    ),
    30,
  );
  assert.equal(
    turnToLie(
      [
        [0, 0],
        [0, 1],
      ],
      0,
    ),
    90,
  );
  assert.equal(
    turnToLie(
      [
        [0, 0],
        [0, -1],
      ],
      10,
    ),
    -80,
  );
  assert.deepEqual(middleOfAll(yard(), ["heads/h1", "heads/h2"]), [20.5, 6.5]);
});

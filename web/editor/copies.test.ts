import assert from "node:assert/strict";
import { test } from "node:test";
import { type Copied, type CopyWish, copiesOf, drawnLine, type Line, linesNear, usualCopies } from "./copies";
import { copyThings, pasteThings } from "./edit";
import { distance, type Point } from "./geometry";
import type { Plan, Ref } from "./model";
import { pasteWay } from "./pasting";
import { along, type Ends, ROW_SHARE } from "./stations";
import { catalog, kit, yard } from "./testplan";
import type { Around } from "./tools/tool";

/** How far each place is from the one before it. */
const pitchOf = (places: readonly Point[]): number[] =>
  places.slice(1).map((p, i) => distance(places[i] as Point, p));

const M = 1 / 0.3048;
const around = (plan: Plan, ...refs: Ref[]): Around => ({
  plan,
  selection: new Set(refs),
  kit,
  catalog,
  design: null,
});
const made = (a: Around, w: CopyWish): Copied => {
  const c = copiesOf(a, w);
  assert.ok(c.ok, c.ok ? "" : c.sentence);
  return c.value;
};
const why = (a: Around, w: CopyWish): string => {
  const c = copiesOf(a, w);
  return c.ok ? "" : c.sentence;
};
const edge = (e: Partial<CopyWish["edge"]>): CopyWish => ({
  ...usualCopies,
  arcs: "keep",
  edge: { ...usualCopies.edge, ...e },
});
const grid = (g: Partial<CopyWish["grid"]>): CopyWish => ({
  ...usualCopies,
  arcs: "keep",
  way: "grid",
  grid: { ...usualCopies.grid, ...g },
});
const close = (got: number, want: number) =>
  assert.ok(Math.abs(got - want) < 1e-9, `got ${got}, want ${want}`);
const line18 = drawnLine([2, 3], [2 + 18 * M, 3]);

test("row A10: seven along 18 m stand 3.000 m apart to 1e-9, upright, level and slanting", () => {
  const a = around({ ...yard(), show: "metric" }, "heads/h2");
  for (const deg of [0, 90, 37.3, 200]) {
    const r = (deg * Math.PI) / 180;
    const line = drawnLine([2, 3], [2 + 18 * M * Math.cos(r), 3 + 18 * M * Math.sin(r)]);
    const c = made(a, edge({ line, count: 7, inFt: 0 }));
    assert.equal(c.select.length, 7);
    for (const d of pitchOf(c.places)) close(d / M, 3);
    assert.equal(Object.keys(c.plan.heads ?? {}).length, 9);
    assert.match(c.says, /^7 copies, 3\.00 m apart\./);
  }
});

test("row A10: ends are taken in or left out, by number and by spacing", () => {
  const want: Record<Ends, [count: number[], spacing: number[]]> = {
    both: [
      [0, 6, 12, 18],
      [0, 5, 10, 15],
    ],
    neither: [
      [3.6, 7.2, 10.8, 14.4],
      [5, 10, 15],
    ],
    first: [
      [0, 4.5, 9, 13.5],
      [0, 5, 10, 15],
    ],
    last: [
      [4.5, 9, 13.5, 18],
      [5, 10, 15],
    ],
    half: [
      [2.25, 6.75, 11.25, 15.75],
      [2.5, 7.5, 12.5],
    ],
  };
  const run = { a: [0, 0] as Point, b: [18, 0] as Point, bulge: 0 };
  for (const [ends, [byCount, bySpacing]] of Object.entries(want) as [Ends, [number[], number[]]][]) {
    for (const [by, places] of [
      ["count", byCount],
      ["spacing", bySpacing],
    ] as const) {
      const s = along(run, { by, count: 4, spacingFt: 5, ends, fromEndsFt: [0, 0] });
      assert.ok(s.ok);
      assert.equal(s.value.stations.length, places.length, `${ends} ${by}`);
      s.value.stations.forEach((st, i) => {
        close(st.at[0], places[i] as number);
      });
      if (by === "spacing") close(s.value.leftFt, 18 - (places.at(-1) as number));
    }
  }
});

test("row A10: an exact spacing that divides the line reaches its end; evened out it is never wider than asked", () => {
  const exact = along(line18, {
    by: "spacing",
    count: 0,
    spacingFt: 3 * M,
    ends: "both",
    fromEndsFt: [0, 0],
  });
  assert.ok(exact.ok);
  assert.equal(exact.value.stations.length, 7);
  close(exact.value.leftFt, 0);
  for (let s = 1; s < 12; s += 0.37) {
    const even = along(line18, { by: "even", count: 0, spacingFt: s, ends: "both", fromEndsFt: [0, 0] });
    assert.ok(even.ok && even.value.pitchFt <= s + 1e-9);
    close(even.value.stations.at(-1)?.at[0] ?? 0, line18.b[0]);
  }
});

test("row A10: along a bow copies stand on its arc at equal lengths, and turn with it", () => {
  const bow: Line = { a: [0, 0], b: [20, 0], bulge: 1, of: null, name: "a bow" };
  const a = around(yard(), "heads/h1");
  const c = made(a, { ...edge({ line: bow, count: 5, inFt: 0 }), arcs: "turn" });
  const mid: Point = [10, 0];
  const fresh = c.select.map((r) => c.plan.heads?.[r.slice(6)]);
  for (const p of c.places) close(distance(p, mid), 10);
  const pitch = pitchOf(c.places);
  for (const d of pitch) close(d, pitch[0] as number);
  fresh.forEach((h, i) => {
    assert.ok(
      i === 0 || Math.abs((((h?.start_deg ?? 0) - (fresh[i - 1]?.start_deg ?? 0) + 360) % 360) - 45) < 1e-9,
    );
  });
});

test("row A10: a head at an edge keeps its set-back along it; one from elsewhere takes the usual one; the place it has is not taken twice", () => {
  const p = yard();
  const lawn = linesNear(p, [30, 0], 1)[0] as Line;
  assert.equal(lawn.name, "edge 1 of Lawn");
  const own = made(around(p, "heads/h1"), edge({ line: lawn, count: 4 }));
  for (const at of own.places) close(at[1], 1);
  const far = made(around(p, "heads/h2"), edge({ line: lawn, count: 3 }));
  for (const at of far.places) close(at[1], 0.4);
  assert.match(far.says, /in from the line/);
  const atEnd: Plan = {
    ...p,
    heads: { ...p.heads, h1: { ...(p.heads?.h1 as never as object), x_ft: 0, y_ft: 1 } as never },
  };
  const fresh = made(around(atEnd, "heads/h1"), edge({ line: lawn, count: 4, fromEndsFt: 0 }));
  assert.equal(fresh.select.length, 3);
  assert.match(fresh.says, /original keeps its place/);
});

test("row A10: fitted heads look onto the lawn: half circles along its edge, quarters in its corners", () => {
  const p = yard();
  const lawn = linesNear(p, [30, 0], 1)[0] as Line;
  const c = made(around(p, "heads/h2"), {
    ...edge({ line: lawn, count: 3 }),
    arcs: "fit",
    leaveTaken: false,
  });
  assert.deepEqual(
    c.select.map((r) => c.plan.heads?.[r.slice(6)]).map((h) => [h?.start_deg, h?.sweep_deg]),
    [
      [0, 90],
      [0, 180],
      [90, 90],
    ],
  );
});

test("row A10: a grid of rows and columns is exact, the original its first", () => {
  const c = made(around(yard(), "heads/h1"), grid({ rows: 3, columns: 4, acrossFt: 10, upFt: 7 }));
  assert.equal(c.select.length, 11);
  const want = [0, 1, 2]
    .flatMap((r) => [0, 1, 2, 3].map((k) => `${1 + 10 * k},${1 + 7 * r}`))
    .filter((s) => s !== "1,1");
  assert.deepEqual(
    c.places.map((q) => q.join(",")),
    want,
  );
  const tri = made(
    around(yard(), "heads/h1"),
    grid({ rows: 2, columns: 2, acrossFt: 10, pattern: "triangular" }),
  );
  assert.deepEqual(
    tri.places.map(([x, y]) => [x, y]),
    [
      [11, 1],
      [6, 1 + 10 * ROW_SHARE],
      [16, 1 + 10 * ROW_SHARE],
    ],
  );
  for (const q of tri.places) if (q[0] !== 16) close(distance(q, [1, 1]), 10);
});

test("row A10: a grid fills an area, turned or not, and leaves out what lies outside it", () => {
  const a = around(yard(), "heads/h2");
  const c = made(a, grid({ rows: null, columns: null, acrossFt: 10, upFt: 10 }));
  // x 0 to 60 by tens from 40, y 2 to 32 by tens from 12: 7 by 4, less the original.
  assert.equal(c.select.length, 27);
  const turned = made(a, grid({ rows: null, columns: null, acrossFt: 5, upFt: 5, deg: 30 }));
  for (const [x, y] of turned.places) assert.ok(x >= 0 && x <= 60 && y >= 0 && y <= 40);
  assert.ok(Math.abs(turned.select.length - (60 * 40) / 25) < 12, `${turned.select.length}`);
  const clipped = made(a, grid({ rows: 4, columns: 4, acrossFt: 10, upFt: 10, inside: true }));
  assert.match(clipped.says, /would fall outside/);
});

test("row A10: copies round a centre keep their distance and turn with it", () => {
  const c = made(around(yard(), "heads/h1"), {
    ...usualCopies,
    way: "round",
    arcs: "turn",
    round: { centre: [11, 1], count: 4, throughDeg: 360 },
  });
  assert.deepEqual(
    c.select.map((r) => c.plan.heads?.[r.slice(6)]).map((h) => [h?.x_ft, h?.y_ft, h?.start_deg]),
    [
      [11, -9, 90],
      [21, 1, 180],
      [11, 11, 270],
    ],
  );
});

test("row A10: more than 2,000 copies are refused with a sentence, and so is what cannot be", () => {
  const a = around(yard(), "heads/h2");
  assert.match(why(a, edge({ line: line18, count: 2001 })), /2,001 copies; 2,000 at once is the most/);
  assert.match(why(a, grid({ rows: 100, columns: 100, inside: false })), /9,999 copies/);
  assert.match(
    why(a, grid({ rows: null, columns: null, acrossFt: 0.01, upFt: 0.01 })),
    /more than a million/,
  );
  assert.match(
    why(around(yard(), "heads/h1", "heads/h2"), edge({ line: line18, count: 1500, inFt: 0 })),
    /3,000 copies/,
  );
  assert.match(why(a, edge({ line: null })), /Pick the edge/);
  assert.match(why(a, edge({ line: line18, fromEndsFt: 40 })), /Nothing is left/);
  assert.match(why(a, edge({ line: line18, by: "spacing", ends: "neither", spacingFt: 100 })), /None fits/);
  assert.match(why(around(yard()), edge({ line: line18 })), /Select what/);
  assert.equal(made(a, edge({ line: line18, count: 2000, inFt: 0 })).select.length, 2000);
});

test("row A10: pasted at the pointer, on the corner there; twice without pointing elsewhere, on by the same way", () => {
  const p = yard();
  const clip = copyThings(p, ["heads/h1"]);
  const ask = { clip, snap: true, gridSnap: true, step: 0.5, last: null };
  const near = { raw: [59.7, 0.2] as Point, reach: 0.8 };
  assert.deepEqual(
    pasteWay(p, { ...ask, pointer: near }),
    { by: [59, -1], times: 1 },
    "the lawn's corner at 60, 0",
  );
  assert.deepEqual(pasteWay(p, { ...ask, pointer: { raw: [12.3, 7.8], reach: 0.8 } }).by, [11.5, 7]);
  assert.deepEqual(pasteWay(p, { ...ask, snap: false, gridSnap: false, pointer: near }).by, [58.7, -0.8]);
  const first = pasteWay(p, { ...ask, pointer: null });
  assert.deepEqual(first, { by: [1, -1], times: 1 });
  const [once, made] = pasteThings(p, clip, first.by);
  const again = pasteWay(once, { ...ask, pointer: null, last: { clip, made, ...first } });
  assert.deepEqual(again, { by: [1, -1], times: 2 });
  // Taken back, the next paste is the first again; on the originals themselves it goes beside them.
  assert.equal(pasteWay(p, { ...ask, pointer: null, last: { clip, made, ...first } }).times, 1);
  assert.deepEqual(pasteWay(p, { ...ask, pointer: { raw: [1, 1], reach: 0.8 } }).by, [1, -1]);
});

test("row A10: along an edge the ends stand off the edges met there, as heads do; a typed distance is exact", () => {
  const p = yard();
  const lawn = linesNear(p, [30, 0], 1)[0] as Line;
  const usual = made(around(p, "heads/h2"), edge({ line: lawn, count: 7 }));
  close(usual.places[0]?.[0] ?? 0, 0.4 + 59.2 / 6); // the first is h1's place
  close(usual.places.at(-1)?.[0] ?? 0, 59.6);
  for (const at of usual.places) close(at[1], 0.4);
  assert.match(usual.says, /^6 copies, 9' 10 1\/2" apart, 5" in from the line, 5" from both ends\./);
  const exact = made(around(p, "heads/h2"), edge({ line: lawn, count: 7, fromEndsFt: 0 }));
  for (const d of pitchOf(exact.places)) close(d, 10);
  const spaced = made(around(p, "heads/h2"), edge({ line: lawn, by: "spacing", spacingFt: 12 }));
  for (const d of pitchOf(spaced.places)) close(d, 12);
  // A wall at the end is stood off by a foot; at a corner that opens outward there is nothing to stand off.
  const house = linesNear(p, [25, 20], 1)[0] as Line;
  const beside = made(around(p, "heads/h2"), edge({ line: house, count: 2 }));
  assert.deepEqual(
    beside.places.map(([x]) => x),
    [20, 30],
  );
});

test("row A10: copies leave out the places of others of their kind, and say so", () => {
  const p = yard();
  const lawn = linesNear(p, [30, 0], 1)[0] as Line;
  const c = made(around(p, "heads/h2"), edge({ line: lawn, count: 4 }));
  assert.equal(c.select.length, 3);
  assert.match(c.says, /^3 copies.* 1 place where one stands already is left out\./);
  assert.equal(Object.keys(c.plan.heads ?? {}).length, 5);
  assert.match(c.label, /3 times/);
  const all = made(around(p, "heads/h2"), { ...edge({ line: lawn, count: 4 }), leaveTaken: false });
  assert.equal(all.select.length, 4);
  // A tree where a head stands is in nobody's place.
  assert.equal(made(around(p, "trees/t1"), edge({ line: lawn, count: 4, inFt: 0.4 })).select.length, 4);
  const only = edge({ line: drawnLine([1, 1], [1.5, 1]), count: 2, inFt: 0 });
  assert.match(why(around(p, "heads/h2"), only), /Every place is taken already/);
});

test("row A10: a grid goes into the area, as the arc looks; below zero the other way; outside planting only if asked", () => {
  const p = yard();
  const at = (x: number, y: number, start: number, sweep: number): Around =>
    around(
      {
        ...p,
        heads: {
          h9: {
            ...(p.heads?.h2 as never as object),
            x_ft: x,
            y_ft: y,
            start_deg: start,
            sweep_deg: sweep,
          } as never,
        },
      },
      "heads/h9",
    );
  const xy = (a: Around, g: Partial<CopyWish["grid"]>) =>
    made(a, grid({ rows: 2, columns: 2, acrossFt: 10, upFt: 10, ...g })).places.map((q) =>
      q.map(Math.round).join(","),
    );
  assert.deepEqual(xy(at(59, 39, 180, 90), {}), ["49,39", "59,29", "49,29"], "from the far corner");
  assert.deepEqual(xy(at(50, 39, 180, 180), {}), ["40,39", "50,29", "40,29"], "along the far edge");
  assert.deepEqual(xy(at(40, 12, 0, 360), { upFt: -10.6 }), ["30,12", "40,1", "30,1"]);
  assert.deepEqual(xy(at(40, 12, 0, 360), { acrossFt: -10 }), ["50,12", "40,22", "50,22"]);
  // In the lawn what would leave it is left out; beside it nothing holds the grid back.
  assert.deepEqual(xy(at(59, 39, 180, 90), { acrossFt: -10 }), ["59,29"]);
  assert.equal(xy(at(-5, -5, 0, 360), {}).length, 3);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { type Bounds, overlap } from "./geometry";
import { type Head, type Plan, put } from "./model";
import { headRows, startingPlaces } from "./panels/paperheads";
import { barFor, northTurn } from "./paperscale";
import { placeTags } from "./scene/papertags";
import { yard } from "./testplan";

const tagged = (places: readonly (readonly [number, number])[]): Plan => {
  let p: Plan = { ...yard(), heads: {}, trees: {}, notes: {}, areas: {} };
  for (const [i, [x_ft, y_ft]] of places.entries()) {
    p = put(p, "heads", `k${i}`, { nozzle: "n", body: "b", x_ft, y_ft, tag: `1-${i + 1}` } as Head);
  }
  return p;
};

/** The box of a tag and of a mark, in pixels, y up. */
const tagBox = (t: { text: string; middle: readonly [number, number] }, k: number): Bounds => {
  const half = (t.text.length * 5.2) / 2 - 0.1;
  const [x, y] = [t.middle[0] * k, t.middle[1] * k];
  return { minX: x - half, maxX: x + half, minY: y - 4.4, maxY: y + 4.4 };
};

test("row A24: heads apart have their tags beside the mark, without a line", () => {
  const { placed, left } = placeTags(
    tagged([
      [0, 0],
      [30, 0],
      [60, 0],
    ]),
    3.6,
  );
  assert.equal(left, 0);
  assert.deepEqual(
    placed.map((t) => [t.text, t.from === undefined]),
    [
      ["1-1", true],
      ["1-2", true],
      ["1-3", true],
    ],
  );
});

test("row A24: where heads are crowded no tag lies on another or on a mark; what has no room is counted", () => {
  const places = Array.from({ length: 60 }, (_, i) => [(i % 10) * 5, Math.floor(i / 10) * 5] as const);
  const plan = tagged(places);
  const k = 3.6;
  const { placed, left } = placeTags(plan, k);
  assert.equal(placed.length + left, 60);
  assert.ok(left > 0 && placed.some((t) => t.from), "some go with a line, some not at all");
  const boxes = placed.map((t) => tagBox(t, k));
  for (const [i, a] of boxes.entries()) {
    for (const b of boxes.slice(i + 1))
      assert.equal(overlap(a, b), false, `${placed[i]?.text} lies on a tag`);
    for (const [x, y] of places) {
      const r = 8.9;
      const mark = { minX: x * k - r, maxX: x * k + r, minY: y * k - r, maxY: y * k + r };
      assert.equal(overlap(a, mark), false, `${placed[i]?.text} lies on the mark at ${x}, ${y}`);
    }
  }
});

test("row A24: the scale bar is a round length that fits, in the plan's units", () => {
  assert.deepEqual(barFor(4.2, "us"), { feet: 20, half: "10", whole: "20 ft" });
  assert.deepEqual(barFor(0.5, "us"), { feet: 200, half: "100", whole: "200 ft" });
  const metric = barFor(4.2, "metric");
  assert.equal(metric.whole, "10 m");
  assert.ok(Math.abs(metric.feet - 32.8084) < 0.001, "10 m are 32.81 ft");
  assert.deepEqual(
    [northTurn(undefined), northTurn(0), northTurn(30)],
    [0, 0, -30],
    "anticlockwise, as angles of the plan",
  );
});

test("row A24: the table of heads gives place, arc and throw in the plan's units, by zone and tag", () => {
  const p = yard();
  const rows = headRows(p, null);
  assert.equal(rows.length, 2);
  const h2 = p.heads?.h2 as Head;
  const row = rows.find((r) => r[1] === "40' 0\"" && r[2] === "12' 0\"");
  assert.ok(row, `${h2.x_ft}, ${h2.y_ft}: ${rows}`);
  assert.deepEqual(row.slice(3, 6), ["Stream 25", "360°", "0°"]);
  const metric = headRows({ ...p, show: "metric" }, null);
  assert.ok(metric.some((r) => r[1] === "12.19 m" && r[2] === "3.66 m"));
  const kept = headRows(put(p, "heads", "h2", { ...h2, tag: "1-2", status: "existing" }), null);
  assert.ok(kept.some((r) => r[0] === "1-2, existing"));
});

test("row A24: the paper names two corners to start measuring from, of a building before the lot", () => {
  assert.match(startingPlaces(yard()), /has corners at .*, .* and at .*, .*: start from them\.$/);
  const lot = {
    ...yard(),
    areas: {},
    site: {
      lot: [
        [0, 0],
        [100, 0],
        [100, 80],
      ] as never,
    },
  };
  assert.equal(
    startingPlaces(lot),
    `The property line has corners at 0", 0" and at 100' 0", 0": start from them.`,
  );
  assert.equal(startingPlaces({ ...lot, site: {} }), "");
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { distance, type Point } from "../geometry";
import { type Area, items, type Plan, type Tie } from "../model";
import { place } from "../shape";
import { empty, Hand, yard } from "../testplan";
import type { TapeMakes, TapeWay } from "./tool";

const hand = (way: TapeWay, makes: TapeMakes, plan: Plan = yard()): Hand => {
  const h = new Hand("tape", plan);
  h.kit = { ...h.kit, tapeWay: way, tapeMakes: makes };
  return h;
};
const newest = (h: Hand): Area => Object.values(h.plan.areas ?? {}).at(-1) as Area;
const corners = (h: Hand): readonly Point[] => newest(h).outline.map(place);
const ties = (h: Hand): Tie[] => Object.values(h.plan.ties ?? {});
const near = (got: readonly Point[], want: readonly Point[], ft = 1 / 96): void => {
  assert.equal(got.length, want.length, JSON.stringify(got));
  got.forEach((p, i) => {
    assert.ok(distance(p, want[i] as Point) <= ft, `corner ${i}: ${p}, want ${want[i]}`);
  });
};

test("trade A3: an edge clicked near one end is measured along from that end; typed rows become an outline in one step", () => {
  const h = hand("along", "area");
  h.click([15, -0.2]); // the lawn's south edge, nearer its west end
  assert.match(h.said.at(-1) ?? "", /Along from 0", 0" towards 60' 0"/);
  for (const row of [`10', 2'`, `22' 6", 2'`, `22' 6", 9' 6"`, `10', 9.5`]) assert.equal(h.write(row), null);
  assert.equal(h.steps.length, 0, "nothing is stored before it is ended");
  h.do("finish");
  assert.equal(h.steps.length, 1);
  near(corners(h), [
    [10, -2],
    [22.5, -2],
    [22.5, -9.5],
    [10, -9.5],
  ]);
});

test("trade A3: the side goes with a letter, the key, the pointer; the other end mirrors along", () => {
  const h = hand("along", "trees");
  h.click([15, -0.2]);
  const set = (row: string): Point => {
    assert.equal(h.write(row), null);
    const t = Object.values(h.plan.trees ?? {}).at(-1);
    return [t?.x_ft ?? 0, t?.y_ft ?? 0];
  };
  h.hover([30, 5]);
  near([set("12.5, 3")], [[12.5, 3]]);
  near([set("12.5, 3 R")], [[12.5, -3]]);
  h.hover([30, 5]); // what was said stays, wherever the pointer goes
  near([set("12.5, 3")], [[12.5, -3]], 1e-9);
  h.tell({ type: "swap", what: "side" });
  near([set("12.5, 3")], [[12.5, 3]]);
  h.tell({ type: "swap", what: "side" });
  h.tell({ type: "swap", what: "end" });
  near([set("12.5, 3")], [[47.5, -3]]); // the same ground side, seen from the other end
  assert.equal(h.steps.length, 5, "each tree is a step of its own");
});

test("trade A3: while measuring along, foot, ghost and both numbers are shown", () => {
  const h = hand("along", "area");
  h.click([15, -0.2]).hover([20, -6]);
  const texts = (h.sketch.labels ?? []).map((l) => l.text);
  assert.ok(texts.includes("along 20' 0\"") && texts.includes("off 6' 0\" right"), texts.join(" | "));
  assert.equal(h.sketch.guides?.length, 3);
  h.tell({ type: "swap", what: "side" });
  near([h.sketch.dots?.at(-1) as Point], [[20, 6]]);
});

test("trade A3: two places make a base too; an arc and one place twice do not", () => {
  const h = hand("along", "trees", empty());
  h.click([0, 0]).click([0, 0]);
  assert.match(h.said.at(-1) ?? "", /needs two places/);
  h.click([30, 40]);
  assert.equal(h.write("25, 0"), null);
  const t = Object.values(h.plan.trees ?? {})[0];
  near([[t?.x_ft ?? 0, t?.y_ft ?? 0]], [[15, 20]]);
  const bowed = yard();
  bowed.areas = {
    a1: {
      ...(items(bowed, "areas").a1 as Area),
      outline: [
        [0, 0, 0.4],
        [60, 0],
        [60, 40],
        [0, 40],
      ],
    },
  };
  const g = hand("along", "area", bowed);
  g.click([30, -12]);
  assert.match(g.sketch.problem ?? "", /arc is no base/);
});

test("trade A3: two tapes from known corners; the pointer, the key or Enter chooses the side; the tapes stay as ties", () => {
  const h = hand("tapes", "trees");
  h.click([20, 20]).click([30, 20]); // two corners of the house
  assert.equal(h.write("13, 13"), null);
  assert.equal(h.steps.length, 0);
  assert.match(h.sketch.news ?? "", /^The left of the two places/);
  h.tell({ type: "swap", what: "side" });
  h.do("finish");
  const at = () => {
    const t = Object.values(h.plan.trees ?? {}).at(-1);
    return [[t?.x_ft ?? 0, t?.y_ft ?? 0]] as Point[];
  };
  near(at(), [[25, 8]]);
  assert.equal(h.steps.length, 1, "tree and ties are one step");
  assert.deepEqual(
    ties(h)
      .map((t) => [t.from.x_ft, t.from.y_ft, t.distance_ft])
      .sort(),
    [
      [20, 20, 13],
      [30, 20, 13],
    ],
  );
  // The same two places serve again; a click on the wanted side takes it.
  assert.equal(h.write(`13', 13'`), null);
  h.click([25, 34]);
  near(at(), [[25, 32]]);
  assert.equal(ties(h).length, 4);
});

test("trade A3: tapes that cannot meet are told with what is missing, and the box keeps them", () => {
  const h = hand("tapes", "area");
  h.click([20, 20]).click([30, 20]);
  assert.match(h.write("4, 4") ?? "", /do not meet: 4' 0" and 4' 0" are 2' 0" short of the 10' 0"/);
  assert.match(h.write("25, 12") ?? "", /first tape is 3' 0" too long/);
  assert.match(h.write("25") ?? "", /both tapes/);
  assert.match(h.write("1, 2, 3") ?? "", /more numbers than there are fields/);
  assert.equal(h.sketch.rings, undefined);
  assert.equal(h.write("100, 100"), null);
  assert.match(h.sketch.problem ?? "", /cross at 6°.*near.* a right angle/);
});

test("trade A3: three tapes show each residual and the largest, and say when one is off", () => {
  const p: Point = [40, 10];
  const known: Point[] = [
    [20, 20],
    [30, 20],
    [60, 0],
  ];
  const exact = known.map((k) => distance(k, p));
  const h = hand("tapes", "area");
  for (const k of known) h.click(k);
  assert.equal(h.write(...exact.map((l) => l.toFixed(4))), null);
  assert.match(h.sketch.news ?? "", /Misclosure.*the largest 0"/);
  assert.equal(h.sketch.problem, undefined);
  h.do("back");
  assert.equal(h.sketch.news, undefined, "Backspace takes the tapes back");
  assert.equal(h.write(...exact.map((l, i) => (l + (i === 2 ? 2 : 0)).toFixed(4))), null);
  assert.match(
    h.sketch.problem ?? "",
    /One tape is off by about 1' 5 1\/2", too long if it is the first: measure again/,
  );
  h.do("finish");
  assert.equal(h.tool.own().length, 1);
});

test("trade A3: a third tape may be added to two, to check them", () => {
  const h = hand("tapes", "trees");
  h.click([20, 20]).click([30, 20]);
  h.write("13, 13");
  h.hover([60, 0.1]).click([60, 0.1]); // snaps to the lawn's corner
  assert.equal(h.steps.length, 0);
  assert.equal(h.write(String(distance([60, 0], [25, 8]))), null);
  h.do("finish");
  const t = Object.values(h.plan.trees ?? {}).at(-1);
  near([[t?.x_ft ?? 0, t?.y_ft ?? 0]], [[25, 8]], 1e-3);
  assert.equal(ties(h).length, 3);
});

test("trade A3: sides and turns; a misclosure is shown and shared out in one step, or left as measured", () => {
  const run = () => {
    const h = hand("sides", "area", empty());
    assert.equal(h.write("0, 0"), null);
    assert.equal(h.write(`E 24', left, 16' 6", left, 16', left, 6', right, 8' 3", left, 10' 6"`), null);
    return h;
  };
  const h = run();
  assert.match(h.sketch.news ?? "", /^The run of 81' 3" misses its start by 3" to the west, 1 in 325\.$/);
  assert.equal(h.sketch.problem, undefined);
  h.fix("Share it out");
  assert.equal(h.steps.length, 1);
  const shared = corners(h);
  assert.equal(shared.length, 6);
  const last = shared.at(-1) as Point;
  assert.ok(Math.abs(last[0] - (-0.25 + (0.25 * 70.75) / 81.25)) < 1e-9, `${last}`);
  const k = run();
  k.fix("Close it as measured");
  near(corners(k).slice(-1), [[-0.25, 10.5]], 1e-9);
  const m = run();
  m.do("finish");
  near(corners(m), shared, 1e-9);
});

test("trade A3: a run that closes badly names the side to look at; one that closes needs no sharing", () => {
  const h = hand("sides", "area", empty());
  h.write("0, 0");
  h.write("E 24, L 10, L 20, L 10, close");
  assert.match(h.sketch.problem ?? "", /worse than 1 in 100.*side of 24' 0"/);
  const k = hand("sides", "lot", empty());
  k.write("5, 5");
  k.write("24, L 10, L 24, L 10");
  assert.match(k.sketch.news ?? "", /closes\.$/);
  k.do("finish");
  assert.deepEqual(k.plan.site?.lot?.length, 4);
  assert.deepEqual(k.steps.at(-1)?.kit, { tapeMakes: "area" });
});

test("trade A3: after other corners a run goes on the way the last side went", () => {
  const h = hand("sides", "barriers", empty());
  h.click([0, 0]).click([0, 10]);
  h.write("5, R 4, L45° 2");
  h.do("finish");
  const line = Object.values(h.plan.barriers ?? {})[0]?.line.map(place) ?? [];
  near(line, [
    [0, 0],
    [0, 10],
    [0, 15],
    [4, 15],
    [4 + Math.SQRT2, 15 + Math.SQRT2],
  ]);
});

test("trade A3: a tie shows what is drawn beside what was measured", () => {
  const h = hand("tie", "area");
  h.click([0, 0]).click([60, 0]);
  assert.deepEqual(h.tool.fields(h.around), ["measured"]);
  assert.equal(h.write(`60' 2"`), null);
  assert.match(h.said.at(-1) ?? "", /drawn 60' 0", 2" shorter than measured\.$/);
  assert.equal(ties(h)[0]?.status, "existing");
});

test("trade A3: one after another, Backspace takes back tapes, corners, known places, and then leaves", () => {
  const h = hand("tapes", "area");
  h.click([20, 20]).click([30, 20]);
  h.write("13, 13");
  h.do("finish");
  h.write("14, 14");
  assert.ok(h.sketch.rings);
  h.do("back");
  assert.equal(h.sketch.rings, undefined);
  h.do("back");
  assert.equal(h.tool.own().length, 0);
  h.do("back");
  h.do("back");
  assert.equal(h.tool.busy, false);
  h.do("back");
  assert.equal(h.left, true);
  assert.equal(h.steps.length, 0);
});

test("trade A3: Escape drops the corners, undo takes them up again", () => {
  const h = hand("sides", "area", empty());
  h.write("0, 0");
  h.write("E 10, L 5");
  h.do("escape");
  assert.equal(h.tool.own().length, 0);
  h.do("back");
  assert.equal(h.tool.own().length, 3);
});

test("trade A3: every thing the tape can make is made, with its ties, in one step", () => {
  const made: [TapeMakes, keyof Plan][] = [
    ["trees", "trees"],
    ["keep_dry", "keep_dry"],
    ["heads", "heads"],
    ["elevations", "elevations"],
    ["notes", "notes"],
    ["fixtures", "zones"],
  ];
  for (const [makes, member] of made) {
    const h = hand("tapes", makes);
    h.click([20, 20]).click([30, 20]);
    h.write("13, 13");
    h.do("finish");
    if (makes === "elevations") {
      assert.deepEqual(h.tool.fields(h.around), ["level"]);
      assert.equal(h.write("-1' 6\""), null);
      assert.equal(Object.values(h.plan.elevations ?? {})[0]?.z_ft, -1.5);
    }
    if (makes === "notes") h.words("Hose bib here");
    assert.equal(h.steps.length, 1, makes);
    assert.notEqual(h.plan[member], yard()[member], makes);
    assert.equal(ties(h).length, 2, makes);
    for (const t of ties(h)) near([[t.to.x_ft, t.to.y_ft]], [[25, 32]], 1e-6);
  }
});

test("trade A3: a page of the field book becomes places", () => {
  const h = hand("along", "barriers");
  h.click([15, -0.2]);
  h.tell({
    type: "book",
    rows: [
      { along: 2, off: 3, side: "right" },
      { along: 10, off: 4, side: null }, // the side clear of the lawn
      { along: 20, off: 4, side: "left" },
    ],
  });
  h.do("finish");
  const line =
    Object.values(h.plan.barriers ?? {})
      .at(-1)
      ?.line.map(place) ?? [];
  near(line, [
    [2, -3],
    [10, -4],
    [20, 4],
  ]);
});

test("trade A3: along a house wall the side begins outside, near or in it; a choice stays; inside is said at once", () => {
  const h = hand("along", "area");
  h.click([21, 20]); // the south wall of the house, from its west end; the pointer goes on into the house
  h.hover([24, 23]);
  assert.equal(h.write("2, 3"), null);
  near([h.sketch.dots?.[0] as Point], [[22, 17]]);
  h.tell({ type: "swap", what: "side" }).hover([24, 12]);
  assert.equal(h.write("4, 3"), null); // into the house, since it was chosen
  near([h.sketch.dots?.[1] as Point], [[24, 23]]);
  assert.match(h.said.at(-1) ?? "", /^Corner 2 at .* This lies inside House\./);
  assert.match(h.sketch.problem ?? "", /^This lies inside House\./);
  assert.equal(h.write("4, 3 R"), null);
  assert.doesNotMatch(h.sketch.problem ?? "", /inside/);
});

test("trade A3: an edge of the lawn is measured off outward, a hole inward, a head inward; the pointer well off it turns the side", () => {
  const from = (makes: TapeMakes, asHole: boolean, to?: Point): string => {
    const h = hand("along", makes);
    h.kit = { ...h.kit, asHole };
    h.click([15, 0]).hover(to ?? [15.5, 0.5]);
    return h.tool.hint(h.around);
  };
  assert.match(from("area", false), /^Off to the right/);
  assert.match(from("area", true), /^Off to the left/);
  assert.match(from("heads", false), /^Off to the left/);
  assert.match(from("area", false, [15, 8]), /^Off to the left/);
});

test("trade A3: two tapes from house corners meet outside it first; a chosen side outlives a third place", () => {
  const h = hand("tapes", "trees");
  h.click([30, 20]).click([20, 20]); // seen from here the house is to the right
  assert.equal(h.write("6, 6"), null);
  assert.match(h.sketch.news ?? "", /^The left of the two places, at 25' 0", 16/);
  const g = hand("tapes", "trees");
  g.click([20, 20]).click([30, 20]);
  assert.equal(g.write("6, 6"), null);
  assert.match(g.sketch.news ?? "", /^The right of the two places, at 25' 0", 16/);
  g.tell({ type: "swap", what: "side" });
  assert.match(g.sketch.news ?? "", /^The left .* It lies inside House\./);
  g.click([0, 0]); // the lawn's corner, to check; on its way the pointer crosses the line
  assert.match(g.sketch.news ?? "", /^The left of the two places/);
});

test("trade A3: a base line alone is no draft that is put aside; corners are", () => {
  const h = hand("along", "area");
  h.click([15, -0.2]);
  assert.equal(h.tool.busy, true, "Escape puts the base down");
  assert.equal(h.tool.drawing, false);
  h.write("2, 3");
  assert.equal(h.tool.drawing, true);
  h.write("12, 3");
  h.write("12, 9");
  h.do("finish");
  assert.equal(h.steps.length, 1);
  assert.equal(h.tool.drawing, false);
});

test("trade A3: a run that has come back says which way out is usual, and has it first", () => {
  const h = hand("sides", "area", empty());
  h.click([0, 0]);
  assert.equal(h.write("E 40, L 28, L 40.5, L 28"), null);
  const fixes = h.tool.fixes(h.around);
  assert.deepEqual(
    fixes.map((f) => [f.title, f.usual ?? false]),
    [
      ["Share it out", true],
      ["Close it as measured", false],
    ],
  );
  assert.match(h.tool.hint(h.around), /Enter shares the miss out over all sides, as is usual/);
});

test("trade A3: an outline that crosses itself is held with ways out of it", () => {
  const h = hand("sides", "area", empty());
  for (const p of [
    [0, 0],
    [10, 0],
    [0, 10],
    [10, 10],
  ] as Point[])
    h.click(p);
  h.do("finish");
  assert.equal(h.steps.length, 0);
  assert.match(h.sketch.problem ?? "", /crosses itself/);
  assert.ok(h.tool.fixes(h.around).length > 0);
});

test("trade A3: a page of the field book sets every tree of it in one step; spot heights want a level each", () => {
  const rows = [10, 20, 30].map((along) => ({ along, off: 5, side: "right" as const }));
  const h = hand("along", "trees");
  h.click([15, -0.2]);
  const before = Object.keys(h.plan.trees ?? {}).length;
  h.tell({ type: "book", rows });
  assert.equal(Object.keys(h.plan.trees ?? {}).length, before + 3);
  assert.equal(h.steps.length, 1);
  assert.equal(h.steps[0]?.label, "Set 3 trees by tape");
  const heights = hand("along", "elevations");
  heights.click([15, -0.2]);
  heights.tell({ type: "book", rows });
  assert.match(heights.said.at(-1) ?? "", /one by one/);
  assert.equal(heights.steps.length, 0);
});

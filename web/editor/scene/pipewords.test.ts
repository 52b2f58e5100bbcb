import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { ids, type Plan } from "../model";
import { empty } from "../testplan";
import { fitsAlong, longestOf, placePipeWords, turnOf } from "./pipewords";

const root = process.env.EVENFALL_ROOT ?? ".";
const demo = JSON.parse(readFileSync(`${root}/testdata/plans/demo.json`, "utf8")) as Plan;

/** Two mains of a length, so far apart; n: nodes at their ends. */
const pair = (long: number, apart: number): Plan => ({
  ...empty(),
  nodes: {
    a1: { kind: "joint", x_ft: 0, y_ft: 0 },
    a2: { kind: "joint", x_ft: long, y_ft: 0 },
    b1: { kind: "joint", x_ft: 0, y_ft: apart },
    b2: { kind: "joint", x_ft: long, y_ft: apart },
  },
  pipes: {
    a: { from: "a1", to: "a2", nominal_in: 1 },
    b: { from: "b1", to: "b2", nominal_in: 1 },
  },
});
const figure = (text: string, urgent = false) => ({ text, urgent });

test("arrow and figure stand on the longest stretch of a pipe", () => {
  const way = [
    [0, 0],
    [3, 0],
    [3, 9],
    [8, 9],
  ] as const;
  assert.deepEqual(longestOf(way), [
    [3, 0],
    [3, 9],
  ]);
  assert.equal(longestOf([[1, 1]]), null);
});

test("what is written along a pipe is never upside down, whichever way it was drawn", () => {
  for (let deg = 0; deg < 360; deg += 15) {
    const [x, y] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
    const [there, back] = [
      turnOf([
        [0, 0],
        [x, y],
      ]),
      turnOf([
        [x, y],
        [0, 0],
      ]),
    ];
    assert.ok(Math.abs(there - back) < 1e-6, `drawn at ${deg} degrees: ${there} and ${back}`);
    assert.ok(there >= -90.5 && there < 89.5);
  }
});

test("a pipe by itself has its size above and its figure below its middle", () => {
  const words = placePipeWords(pair(40, 30), 8, new Map([["a", figure("2.4 ft/s")]]));
  assert.deepEqual(words.figures.get("a"), { along: 0.5, far: false });
  assert.deepEqual(words.sizes.get("a"), { along: 0.5, far: false });
  assert.equal(words.figures.has("b"), false, "nothing is told of b");
});

test("between pipes laid close together nothing is written, nor where the stretch is too short for it", () => {
  const both = new Map([
    ["a", figure("2.4 ft/s")],
    ["b", figure("2.4 ft/s")],
  ]);
  const words = placePipeWords(pair(40, 1), 8, both);
  assert.deepEqual([words.figures.get("a")?.far, words.figures.get("b")?.far], [false, true]);
  assert.equal(placePipeWords(pair(5, 30), 8, both).figures.size, 0);
});

test("“too fast” stands behind a figure only where the pipe is long enough for both", () => {
  const stretch = (px: number) =>
    [
      [0, 0],
      [px / 8, 0],
    ] as const;
  assert.equal(fitsAlong("6.1 ft/s too fast", stretch(120), 8), true);
  assert.equal(fitsAlong("6.1 ft/s too fast", stretch(90), 8), false);
  assert.equal(fitsAlong("6.1 ft/s", stretch(90), 8), true);
});

test("where one of two figures has room, what is too fast is told", () => {
  const xs = Array.from({ length: 13 }, (_, i) => 2 * i - 6);
  const beyond = xs.flatMap((x) => [-1.4, 4.15].map((y) => [`n${x} ${y}`, { x_ft: x, y_ft: y, text: "" }]));
  const crowded: Plan = { ...pair(12, 2.75), notes: Object.fromEntries(beyond) };
  const told = (fast: string) => {
    const figures = new Map(["a", "b"].map((id) => [id, figure("6.1 ft/s", id === fast)]));
    return [...placePipeWords(crowded, 8, figures).figures.keys()];
  };
  assert.deepEqual(told("a"), ["a"]);
  assert.deepEqual(told("b"), ["b"]);
});

test("the demo’s 71 pipes are told apart at every scale: more from nearer", () => {
  const figures = new Map(ids(demo, "pipes").map((id) => [id, figure("46.4 psi")]));
  const told = [4, 8, 16, 40].map((scale) => placePipeWords(demo, scale, figures).figures.size);
  for (let i = 1; i < told.length; i++)
    assert.ok((told[i] ?? 0) > (told[i - 1] ?? 0), `figures told: ${told}`);
  assert.ok((told.at(-1) ?? 0) > 40, `figures told: ${told}`);
});

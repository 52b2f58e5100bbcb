import assert from "node:assert/strict";
import { test } from "node:test";
import { type Digs, DigsWanted, rowsInOrder, type Stretch } from "./digs";
import { looksOf } from "./scene/trenches";

const stretch = (part: Partial<Stretch>): Stretch => ({
  line: [
    [0, 0],
    [10, 0],
  ],
  ground: "lawn",
  wide_ft: 1 / 3,
  about: ["pipes/p1"],
  main: false,
  dug: true,
  ...part,
});

test("the rows of the trench list are in the order of their numbers", () => {
  const list = Object.fromEntries(["10", "2", "1"].map((n) => [n, { from: `T${n}` }]));
  assert.deepEqual(
    rowsInOrder({ list } as unknown as Digs).map(([n, r]) => n + r.from),
    ["1T1", "2T2", "10T10"],
  );
});

test("stretches that look alike are one path; main, pipe and wire, grounds and what is there already look otherwise", () => {
  const looks = looksOf([
    stretch({}),
    stretch({
      line: [
        [3, 4],
        [5, 6],
      ],
    }),
    stretch({ main: true }),
    stretch({ about: ["wires/w1"] }),
    stretch({ ground: "roots" }),
    stretch({ dug: false }),
  ]);
  assert.deepEqual(
    looks.map((l) => `${l.broad} ${l.ground} ${l.dug}`),
    ["pipe lawn true", "main lawn true", "wire lawn true", "pipe roots true", "pipe lawn false"],
  );
  assert.equal(looks[0]?.d, "M0 0L10 0M3 4L5 6");
});

test("the trenches are wanted while anybody shows them", () => {
  const heard: boolean[] = [];
  const wanted: DigsWanted = new DigsWanted(() => heard.push(wanted.any));
  wanted.by("layer", true);
  wanted.by("tables", true);
  wanted.by("layer", false);
  wanted.by("layer", false);
  wanted.by("tables", false);
  assert.deepEqual(heard, [true, false]);
});

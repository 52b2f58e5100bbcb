import assert from "node:assert/strict";
import { test } from "node:test";
import { type Digs, DigsWanted, type Stretch, stretchesInOrder } from "./digs";
import { looksOf } from "./scene/trenches";

const stretch = (part: Partial<Stretch>): Stretch => ({
  line: [
    [0, 0],
    [10, 0],
  ],
  ground: "lawn",
  where: "Lawn",
  length: "10' 0\"",
  cover: "10 in",
  width: "4 in",
  wide_ft: 1 / 3,
  holds: "pipe of zone 1",
  about: ["pipes/p1"],
  main: false,
  dug: true,
  short: false,
  ...part,
});

test("what is to be dug comes first, the main before laterals, zone 2 before zone 10, then from the west", () => {
  const stretches = {
    a: stretch({ holds: "pipe of zone 10" }),
    b: stretch({ dug: false, main: true, holds: "main" }),
    c: stretch({
      holds: "pipe of zone 2",
      line: [
        [5, 0],
        [9, 0],
      ],
    }),
    d: stretch({
      holds: "pipe of zone 2",
      line: [
        [1, 0],
        [4, 0],
      ],
    }),
    e: stretch({ main: true, holds: "main, pipe of zone 2" }),
  };
  const order = stretchesInOrder({ stretches } as unknown as Digs).map(([key]) => key);
  assert.deepEqual(order, ["e", "d", "c", "a", "b"]);
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

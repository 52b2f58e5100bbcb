import assert from "node:assert/strict";
import { test } from "node:test";
import type { Plan } from "./model";
import { setIn } from "./setback";

const lawn: Plan = {
  format: "evenfall-plan/1",
  name: "Lawn",
  show: "us",
  areas: {
    lawn: {
      name: "Lawn",
      kind: "planting",
      outline: [
        [0, 0],
        [40, 0],
        [40, 30],
        [0, 30],
      ],
    },
    house: {
      name: "House",
      kind: "building",
      outline: [
        [0, 30],
        [40, 30],
        [40, 50],
        [0, 50],
      ],
    },
    drive: {
      name: "Drive",
      kind: "paving",
      outline: [
        [40, 0],
        [52, 0],
        [52, 30],
        [40, 30],
      ],
    },
  },
  barriers: {
    fence: {
      name: "Fence",
      kind: "fence",
      line: [
        [0, 0],
        [0, 30],
      ],
      height_ft: 6,
    },
  },
};

test("a head on an edge is set in from it: 12 in from house and fence, 5 in from paving", () => {
  for (const [at, want] of [
    [
      [20, 30],
      [20, 29],
    ], // the house
    [
      [0, 15],
      [1, 15],
    ], // the fence
    [
      [40, 15],
      [39.6, 15],
    ], // the drive
    [
      [20, 0],
      [20, 0.4],
    ], // nothing beyond
    [
      [0, 30],
      [1, 29],
    ], // house and fence
    [
      [40, 0],
      [39.6, 0.4],
    ],
    [
      [20, 29.5],
      [20, 29],
    ], // inside already, but too near
    [
      [20, -0.3],
      [20, 0.4],
    ], // just outside
  ] as const) {
    assert.deepEqual(setIn(lawn, [at[0], at[1]]), [...want], `from ${at}`);
  }
});

test("a head away from edges, or off all planting, stays where it was put", () => {
  for (const at of [
    [20, 15],
    [20, 28.9],
    [46, 15],
    [70, 70],
  ] as const) {
    assert.deepEqual(setIn(lawn, at), at);
  }
});

test("a round lawn sets heads in along its radius, an inner corner keeps both distances", () => {
  const round: Plan = {
    ...lawn,
    barriers: {},
    areas: {
      lawn: {
        name: "Lawn",
        kind: "planting",
        outline: [
          [-10, 0, 1],
          [10, 0, 1],
        ],
      },
    },
  };
  assert.deepEqual(setIn(round, [0, 10]), [0, 9.6]);
  const ell: Plan = {
    ...lawn,
    barriers: {},
    areas: {
      lawn: {
        name: "Lawn",
        kind: "planting",
        outline: [
          [0, 0],
          [30, 0],
          [30, 20],
          [15, 20],
          [15, 40],
          [0, 40],
        ],
      },
    },
  };
  assert.deepEqual(setIn(ell, [15, 20]), [14.6, 19.6]);
});

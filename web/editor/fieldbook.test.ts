import assert from "node:assert/strict";
import { test } from "node:test";
import { parseOffset, parseRun, parseStation, parseStations } from "./fieldbook";
import type { Leg } from "./taping";

const value = <T>(r: { ok: true; value: T } | { ok: false; sentence: string }): T => {
  assert.ok(r.ok, r.ok ? "" : r.sentence);
  return r.value;
};
const sentence = (r: { ok: true } | { ok: false; sentence: string }): string => {
  assert.ok(!r.ok, "should be refused");
  return r.sentence;
};

test("trade A3: rows of a station table, in all the ways sides are written", () => {
  const cases: [string, number, number, "left" | "right" | null][] = [
    [`12' 6", 3'`, 12.5, 3, null],
    [`12' 6", 3' L`, 12.5, 3, "left"],
    [`12' 6", 3'R`, 12.5, 3, "right"],
    [`12.5; L 3' 6"`, 12.5, 3.5, "left"],
    ["12.5\tright 3", 12.5, 3, "right"],
    ["12,5", 12, 5, null],
    ["-2, -1.5", -2, -1.5, null],
    ["14' 6 1/2\"", 14 + 6.5 / 12, 0, null],
    ["0, 0", 0, 0, null],
    ["3, 2 m left", 3, 2 / 0.3048, "left"],
  ];
  for (const [typed, along, off, side] of cases) {
    const got = value(parseStation(typed, "us"));
    assert.ok(Math.abs(got.along - along) < 1e-9 && Math.abs(got.off - off) < 1e-9, typed);
    assert.equal(got.side, side, typed);
  }
  assert.ok(Math.abs(value(parseStation("3, 2", "metric")).along - 3 / 0.3048) < 1e-9);
});

test("trade A3: a table names the line that cannot be read, and an offset without a number", () => {
  assert.equal(value(parseStations("0, 2 L\n\n 10, 3 R\r\n", "us")).length, 2);
  assert.match(sentence(parseStations("0, 2\n10, much", "us")), /^Line 2: /);
  assert.match(sentence(parseStations(" \n", "us")), /no row yet/);
  assert.match(sentence(parseOffset("L", "us")), /not how far/);
});

test("trade A3: runs of sides and turns", () => {
  const cases: [string, Leg[]][] = [
    [
      `24', left, 10' 6", right, 8'`,
      [{ length: 24 }, { length: 10.5, turnDeg: 90 }, { length: 8, turnDeg: -90 }],
    ],
    ["24, L 10.5, R 8", [{ length: 24 }, { length: 10.5, turnDeg: 90 }, { length: 8, turnDeg: -90 }]],
    [
      "20 E, 10 L, 5 R",
      [
        { length: 20, towardDeg: 0 },
        { length: 10, turnDeg: 90 },
        { length: 5, turnDeg: -90 },
      ],
    ],
    [
      "N 12; west; 3",
      [
        { length: 12, towardDeg: 90 },
        { length: 3, towardDeg: 180 },
      ],
    ],
    ["L 45° 11' 4\"", [{ length: 11 + 4 / 12, turnDeg: 45 }]],
    [
      "L45° 2, r45°3",
      [
        { length: 2, turnDeg: 45 },
        { length: 3, turnDeg: -45 },
      ],
    ],
    ["R 30 deg 5", [{ length: 5, turnDeg: -30 }]],
    ["10, 4", [{ length: 10 }, { length: 4 }]],
  ];
  for (const [typed, legs] of cases) assert.deepEqual(value(parseRun(typed, "us")).legs, legs, typed);
  assert.equal(value(parseRun("10, L 5, close", "us")).closes, true);
  assert.equal(value(parseRun("10, L 5", "us")).closes, false);
});

test("trade A3: a run that cannot be read is refused with what to type", () => {
  for (const [typed, says] of [
    ["", /no side yet/],
    ["10, left", /ends with a turn/],
    ["10, left, right, 5", /Two turns/],
    ["10, up 5", /“up 5”/],
    ["10, close, 5", /Put “close” last/],
    ["0", /more than zero/],
    ["10, -5", /more than zero|“-5”/],
    ["1e9", /“1e9”/],
  ] as const) {
    assert.match(sentence(parseRun(typed, "us")), says, typed);
  }
});

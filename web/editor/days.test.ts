import assert from "node:assert/strict";
import { test } from "node:test";
import { Clock } from "./days";

const at = (s: string) => ({ at: s });

test("row B27: a time falls on the day of the reader's zone, with odd offsets, gaps and folds", () => {
  // Offsets by the IANA time zone database.
  const cases: [string, string, string][] = [
    ["UTC", "2026-06-01T23:30:00Z", "2026-06-01"],
    ["Asia/Kathmandu", "2026-06-01T18:14:00Z", "2026-06-01"], // +05:45
    ["Asia/Kathmandu", "2026-06-01T18:15:00Z", "2026-06-02"],
    ["America/St_Johns", "2026-01-01T03:29:00Z", "2025-12-31"], // −03:30
    ["America/St_Johns", "2026-01-01T03:30:00Z", "2026-01-01"],
    ["America/New_York", "2026-03-08T06:59:00Z", "2026-03-08"], // the minute before the gap
    ["America/New_York", "2026-11-01T05:30:00Z", "2026-11-01"], // 01:30 for the first time
    ["America/New_York", "2026-11-01T06:30:00Z", "2026-11-01"], // and for the second
    ["Pacific/Kiritimati", "2028-02-28T10:00:00Z", "2028-02-29"], // +14, leap day
    ["Pacific/Pago_Pago", "2028-03-01T10:59:00Z", "2028-02-29"], // −11
  ];
  for (const [zone, when, want] of cases) {
    assert.equal(new Clock(undefined, zone).day(when), want, `${when} in ${zone}`);
  }
  assert.equal(new Clock(undefined, "America/New_York", "en-US").time("2026-03-08T07:00:00Z"), "3:00 AM"); // after the gap
});

test("row A31: steps are put together by day, in the order they came", () => {
  const clock = new Clock(() => new Date("2026-03-08T16:00:00Z"), "America/New_York", "en-US");
  const steps = [
    at("2026-03-08T15:00:00Z"),
    at("2026-03-08T05:30:00Z"), // half past midnight
    at("2026-03-08T04:30:00Z"), // the evening before: 23 hours make that day
    at("2026-03-05T12:00:00Z"),
    at("2026-03-07T12:00:00Z"), // a clock was set back: no order by time
    at("no time"),
  ];
  assert.deepEqual(
    clock.days(steps).map((d) => [d.words, d.things.length]),
    [
      ["Today", 2],
      ["Yesterday", 1],
      ["Thursday, March 5, 2026", 1],
      ["Yesterday", 1],
      ["no time", 1],
    ],
  );
  assert.deepEqual(clock.days([]), []);
  assert.equal(clock.full("no time"), "no time");
});

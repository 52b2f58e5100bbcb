import assert from "node:assert/strict";
import { test } from "node:test";
import { civilDate } from "./findings";

// Offsets and changes of the clock are those of the IANA database that comes
// with Node.
const moments: [zone: string, utc: string, date: string][] = [
  ["Asia/Kathmandu", "2026-05-31T18:30:00Z", "2026-06-01"], // +05:45
  ["America/St_Johns", "2026-02-01T03:00:00Z", "2026-01-31"], // -03:30
  ["Pacific/Kiritimati", "2025-12-31T10:30:00Z", "2026-01-01"], // +14
  ["America/New_York", "2026-03-08T06:59:59Z", "2026-03-08"], // the hour that is missing begins
  ["America/New_York", "2026-11-01T05:30:00Z", "2026-11-01"], // the hour that comes twice
  ["America/New_York", "2026-11-01T06:30:00Z", "2026-11-01"],
  ["Australia/Lord_Howe", "2028-02-29T12:59:59Z", "2028-02-29"], // a leap day, and +11
  ["America/Los_Angeles", "2028-03-01T07:59:59Z", "2028-02-29"],
];

test("row B27: the date of accepting a finding is the user's own, in eight zones", () => {
  const before = process.env.TZ;
  try {
    for (const [zone, utc, date] of moments) {
      process.env.TZ = zone;
      assert.equal(civilDate(new Date(utc)), date, `${zone} at ${utc}`);
    }
  } finally {
    if (before === undefined) delete process.env.TZ;
    else process.env.TZ = before;
  }
});

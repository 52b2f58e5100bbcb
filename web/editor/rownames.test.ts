import assert from "node:assert/strict";
import { test } from "node:test";
import { bodyChoices, nozzleChoices } from "./catalog";
import { learnRowNames, rowName } from "./rownames";

test("row A28: rows are called by the plan's units, and what a user named keeps its name", () => {
  const row = { name: "Stream 16 ft, full" };
  assert.equal(rowName(row, "metric"), row.name, "before the catalogue is there");
  learnRowNames({ "Stream 16 ft, full": "Stream 4.9 m, full", "Pop-up body 4 in": "Pop-up body 10 cm" });
  assert.equal(rowName(row, "metric"), "Stream 4.9 m, full");
  assert.equal(rowName(row, "us"), row.name);
  assert.equal(rowName({ name: "My 12 ft nozzle" }, "metric"), "My 12 ft nozzle");
  const nozzle = { id: "stream-16-360", name: row.name, family: "stream" } as never;
  const body = { id: "body-4", name: "Pop-up body 4 in" } as never;
  assert.deepEqual(
    [...nozzleChoices([nozzle], "metric"), ...bodyChoices([body], "metric")].map((c) => c.label),
    ["Stream 4.9 m, full", "Pop-up body 10 cm"],
  );
  learnRowNames(undefined);
});

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import type { Catalog } from "./api";
import { classChoices } from "./pipeclasses";
import { pipeSizeText, sizeAndClass } from "./pipenames";
import { learnRowNames } from "./rownames";
import { yard } from "./testplan";

const cases = JSON.parse(
  readFileSync(join(process.env.EVENFALL_ROOT ?? ".", "testdata/vectors/pipesize.json"), "utf8"),
) as { inches: number; us: string; metric: string }[];

test("pipe sizes read on the board as in the lists and the findings", () => {
  for (const { inches, us, metric } of cases) {
    assert.equal(pipeSizeText(inches, "us"), us);
    assert.equal(pipeSizeText(inches, "metric"), metric);
  }
});

test("a metric plan reads the metric names of pipe classes, chosen and told", () => {
  learnRowNames({ "Polyethylene, 100 psi": "Polyethylene, 6.9 bar" });
  const row = { name: "Polyethylene, 100 psi", sizes: [] };
  const catalog = { nozzles: [], bodies: [], pipe_classes: [{ ...row, id: "pe-100" }] } as unknown as Catalog;
  const plan = {
    ...yard(),
    show: "metric" as const,
    pipe_classes: { "pe-100": row as never },
    pipes: { p1: { from: "a", to: "b", class: "pe-100", nominal_in: 1 } },
  };
  assert.deepEqual(sizeAndClass(plan, "p1"), ["DN 25", "Polyethylene, 6.9 bar"]);
  assert.equal(classChoices({ plan, catalog }, "")[1]?.label, "Polyethylene, 6.9 bar");
  assert.deepEqual(classChoices({ plan, catalog }, "gone").at(-1), { value: "gone", label: "gone" });
  learnRowNames({});
});

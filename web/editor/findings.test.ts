import assert from "node:assert/strict";
import { test } from "node:test";
import type { Finding } from "./design";
import { accept, civilDate, group, reopen } from "./findings";
import type { Plan } from "./model";

const finding = (code: string, rank: Finding["rank"], more: Partial<Finding> = {}): Finding => ({
  code,
  rank,
  title: code,
  sentence: "",
  why: "",
  do: "",
  source: "",
  ...more,
});

test("findings of one cause are one, the worst first, the accepted apart", () => {
  const done = finding("turned-down", "mend", {
    accepted: { code: "turned-down", reason: "bed", on: "2026-01-02" },
  });
  const { open, accepted } = group([
    finding("low-flow", "note"),
    finding("gap", "stop"),
    finding("low-flow", "note"),
    done,
  ]);
  assert.deepEqual(
    open.map((c) => [c.code, c.list.length]),
    [
      ["gap", 1],
      ["low-flow", 2],
    ],
  );
  assert.deepEqual(accepted, [done]);
});

test("accepting keeps the reason in the plan, and opening again takes it out", () => {
  const p: Plan = { format: "evenfall-plan/1", name: "Lot", show: "us" };
  const f = finding("gap", "stop", { about: ["heads/h2", "areas/a1"] });
  const kept = accept(p, f, "Owner wants it", "2026-03-04");
  assert.deepEqual(Object.values(kept.accepted ?? {}), [
    { code: "gap", about: ["areas/a1", "heads/h2"], reason: "Owner wants it", on: "2026-03-04" },
  ]);
  const [accepted] = Object.values(kept.accepted ?? {});
  assert.deepEqual(reopen(kept, { ...f, accepted }).accepted, {});
});

test("a date is the user's own day", () => {
  assert.equal(civilDate(new Date(2026, 0, 5, 23, 59)), "2026-01-05");
});

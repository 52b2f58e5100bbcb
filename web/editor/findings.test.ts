import assert from "node:assert/strict";
import { test } from "node:test";
import type { Finding } from "./design";
import {
  accept,
  byRank,
  civilDate,
  cureOf,
  group,
  hasPlace,
  inSettings,
  inSight,
  lastBy,
  openAtFirst,
  reopen,
  settingOf,
  thingsOf,
} from "./findings";
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
  const kept = accept(p, [f], "Owner wants it", "2026-03-04");
  assert.deepEqual(Object.values(kept.accepted ?? {}), [
    {
      code: "gap",
      about: ["areas/a1", "heads/h2"],
      rank: "stop",
      reason: "Owner wants it",
      on: "2026-03-04",
    },
  ]);
  const [accepted] = Object.values(kept.accepted ?? {});
  assert.deepEqual(reopen(kept, { ...f, accepted }).accepted, {});
});

test("a date is the user's own day", () => {
  assert.equal(civilDate(new Date(2026, 0, 5, 23, 59)), "2026-01-05");
});

test("a group is accepted in one plan, each finding by itself, with one reason and one name", () => {
  const p: Plan = { format: "evenfall-plan/1", name: "Lot", show: "us" };
  const list = [1, 2, 3].map((i) => finding("low", "note", { about: [`zones/z${i}`] }));
  const kept = accept(p, list, "flat enough", "2026-03-04", "Ada");
  const all = Object.values(kept.accepted ?? {});
  assert.deepEqual(all.map((a) => a.about?.[0]).sort(), ["zones/z1", "zones/z2", "zones/z3"]);
  assert.ok(all.every((a) => a.reason === "flat enough" && a.by === "Ada" && a.on === "2026-03-04"));
  assert.equal(lastBy(kept), "Ada");
  assert.equal(lastBy(p), "");
});

test("of many causes the worst few are in sight, the rest in one line with their ranks", () => {
  const causes = (n: number) =>
    group(Array.from({ length: n }, (_, i) => finding(`c${i}`, i < 2 ? "stop" : i < n / 2 ? "mend" : "note")))
      .open;
  assert.equal(inSight(causes(7), null, false).waiting.length, 0); // one more line is no more than the line that says so
  const { shown, waiting } = inSight(causes(12), null, false);
  assert.deepEqual([shown.length, waiting.length], [6, 6]);
  assert.equal(byRank(waiting), "6 note");
  assert.deepEqual(
    shown.map((c) => c.rank),
    ["stop", "stop", "mend", "mend", "mend", "mend"],
  );
  assert.equal(inSight(causes(12), null, true).shown.length, 12);
  assert.deepEqual(inSight(causes(12), "mend", false).shown.length, 4);
  assert.equal(byRank(causes(12)), "2 stop, 4 mend, 6 note");
});

test("only what is wrong to build, and of few cases, stands open at first", () => {
  const { open } = group([
    ...[1, 2, 3].map(() => finding("many", "stop")),
    finding("one", "stop"),
    finding("third", "stop"),
    finding("mild", "mend"),
  ]);
  assert.deepEqual(
    openAtFirst(open).map((c) => c.code),
    ["one"],
  );
  assert.deepEqual(openAtFirst(group([finding("mild", "mend")]).open), []);
});

test("findings of one code but another title are told apart", () => {
  const { open } = group([
    finding("over", "mend", { title: "a" }),
    finding("over", "mend", { title: "b" }),
    finding("over", "mend", { title: "a" }),
  ]);
  assert.deepEqual(
    open.map((c) => [c.title, c.list.length]),
    [
      ["a", 2],
      ["b", 1],
    ],
  );
});

test("what is about the settings leads there, and only things are selected", () => {
  assert.ok(inSettings(finding("flow", "mend", { about: ["supply" as never] })));
  assert.ok(inSettings(finding("locate", "note", { about: ["site" as never] })));
  assert.ok(!inSettings(finding("gap", "mend", { about: ["supply" as never, "heads/h1"] })));
  assert.ok(!inSettings(finding("gap", "mend")));
  assert.equal(
    settingOf(finding("locate-missing", "note", { about: ["site" as never] })),
    "Marks asked for on",
  );
  assert.equal(settingOf(finding("new-one", "note", { about: ["supply" as never] })), "Flow to plan on");
  assert.ok(!hasPlace(finding("stations-short", "mend", { about: ["controller" as never] })));
  assert.ok(hasPlace(finding("stations-short", "mend", { about: ["controller" as never], at: [1, 2] })));
  assert.deepEqual(thingsOf(finding("x", "mend", { about: ["controller" as never, "zones/z1"] })), [
    "zones/z1",
  ]);
});

test("a finding leads to what is sought for it, and to nothing where the hand must mend it", () => {
  assert.equal(cureOf("dry-patch"), "head.improve");
  assert.equal(cureOf("nothing-assigned"), "head.arrange");
  assert.equal(cureOf("zone-over-flow"), "zone.group");
  assert.equal(cureOf("window-short"), "plan.water");
  assert.equal(cureOf("set-back-local"), "plan.rules");
  assert.equal(cureOf("no-backflow"), null);
});

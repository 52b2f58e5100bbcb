import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import { auditFields, minutesOf, oldMinutes, zonesAsked } from "./auditfields";
import { Auditing, type AuditStage, type CansAsked } from "./auditing";
import { auditOf, canOrder, canRef, nextCan, withAudit } from "./audits";
import { pastedCatches, withCatch, withPasted } from "./fields_cans";
import { Layers } from "./layers";
import { type Plan, type Ref, touched } from "./model";
import type { AuditView, CansView } from "./proofview";
import { board } from "./testboard";
import { yard } from "./testplan";

const can = (x: number, y: number, catch_ml?: number) => ({
  x_ft: x,
  y_ft: y,
  ...(catch_ml === undefined ? {} : { catch_ml }),
});

/** A yard with two audits, the second newer, of twelve cans. */
function audited(): Plan {
  const cans = Object.fromEntries(Array.from({ length: 12 }, (_, i) => [`c${i + 1}`, can(i, 1)]));
  const first = withAudit(yard(), "qa", { on: "2026-04-01", cans: { c1: can(3, 3, 20) } });
  return withAudit(first, "qb", { on: "2026-05-01", area: "a1", runs: { z1: 10 }, cans });
}

const view = (id: string, rev: number, says = "DU 60 %."): AuditView => ({
  rev,
  id,
  known: true,
  says,
  figures: [],
  cans: [],
  faults: [],
  heads: [],
  unsure: [],
  uses: "",
  label: "Take the audited evenness",
  patch: { zones: { z1: { audited_du: 0.6 } } },
  rules: [],
});

const offer = (rev: number): CansView => ({
  rev,
  says: "2 cans on Lawn.",
  rules: [],
  audit: "qn",
  cans: [],
  patch: { proof: { audits: { qn: { area: "a1", cans: { c1: { x_ft: 1, y_ft: 1 } } } } } },
  label: "Set out 2 cans on Lawn",
});

/** A bench whose questions are answered by the test, and whose clock it turns. */
function bench(plan: Plan = audited()) {
  const told: string[] = [];
  const stage = Object.assign(board(plan), {
    layers: new Layers(),
    audit: null as AuditView | null,
    emit: () => {},
  });
  const asked: { id: string; answer(o: Outcome<AuditView>): Promise<void> }[] = [];
  const offers: { q: CansAsked; answer(o: Outcome<CansView>): Promise<void> }[] = [];
  const clock: (() => void)[] = [];
  const a = new Auditing(
    stage as AuditStage,
    () => told.push("changed"),
    {
      audit: (id) => new Promise((done) => asked.push({ id, answer: (o) => turn(() => done(o)) })),
      cans: (q) => new Promise((done) => offers.push({ q, answer: (o) => turn(() => done(o)) })),
    },
    (fn) => clock.push(fn),
  );
  const tick = async (): Promise<void> => {
    for (const fn of clock.splice(0)) fn();
    await turn();
  };
  return { a, b: stage, asked, offers, tick };
}

const turn = (fn: () => void = () => {}): Promise<void> => {
  fn();
  return new Promise((r) => setTimeout(r, 0));
};

const ok = <T>(value: T): Outcome<T> => ({ ok: true, value });

test("the newest audit is in view; one that goes leaves the place to the next, and cans of no other are seen", () => {
  const { a, b } = bench();
  assert.equal(a.id, "qb");
  assert.ok(b.layers.hides("cans/qb.c1" as Ref), "the layer is shown once it is asked for");
  a.open();
  assert.ok(!b.layers.hides("cans/qb.c1" as Ref));
  assert.ok(b.layers.hides("cans/qa.c1" as Ref));
  a.leave();
  assert.ok(b.layers.hides("cans/qb.c1" as Ref), "left, the board is as it was");
  a.open();
  const { qb: _gone, ...audits } = b.committed.proof?.audits ?? {};
  b.committed = { ...b.committed, proof: { audits } };
  a.follow();
  assert.equal(a.id, "qa");
  b.committed = { ...b.committed, proof: {} };
  a.follow();
  assert.equal(a.id, null);
});

test("an audit is reckoned when it is opened, and anew once a catch is stored; an answer for another is nobody's", async () => {
  const { a, b, asked, tick } = bench();
  a.open();
  await tick();
  assert.deepEqual(
    asked.map((q) => q.id),
    ["qb"],
  );
  await asked[0]?.answer(ok(view("qb", 4)));
  assert.equal(a.view?.says, "DU 60 %.");
  assert.ok(!a.stale);
  b.saved = { state: "saving", count: 1 };
  assert.ok(a.stale);
  b.rev++;
  b.store();
  await tick();
  assert.equal(asked.length, 2);
  a.choose("qa");
  const says = (): string | undefined => a.view?.says;
  assert.equal(says(), undefined, "what is shown is of the audit in view");
  await asked[1]?.answer(ok(view("qb", 5)));
  assert.equal(says(), undefined);
  await tick();
  await asked[2]?.answer(ok(view("qa", 5, "DU 70 %.")));
  assert.equal(says(), "DU 70 %.");
});

test("a plan that changes on and on is asked about once it rests, and a failure is told and asked again", async () => {
  const { a, b, asked, tick } = bench();
  a.open();
  await tick();
  await asked[0]?.answer({ ok: false, status: 0, error: "Evenfall has stopped.", problems: [] });
  assert.equal(a.trouble, "Evenfall has stopped.");
  for (let i = 0; i < 5; i++) {
    b.rev++;
    b.store();
  }
  await tick();
  assert.equal(asked.length, 2);
  await asked[1]?.answer(ok(view("qb", b.rev)));
  assert.equal(a.trouble, "");
});

test("cans that are offered are shown on the board, taken as one step, or let go without a trace", async () => {
  const { a, b, offers } = bench();
  a.open();
  const asking = a.seek({ area: "a1", by: "grid", count: 2 });
  assert.ok(a.busy);
  await offers[0]?.answer(ok(offer(b.rev)));
  await asking;
  assert.ok(!a.busy);
  assert.equal(a.id, "qn");
  assert.equal(canOrder(auditOf(b.plan, "qn")).length, 1);
  a.drop();
  assert.equal(a.id, "qb");
  assert.equal(auditOf(b.plan, "qn"), undefined);
  assert.equal(b.steps.length, 0);
  const again = a.seek({ area: "a1", by: "heads", count: 2 });
  await offers[1]?.answer(ok(offer(b.rev)));
  await again;
  await a.take();
  assert.deepEqual(
    b.steps.map((s) => s.label),
    ["Set out 2 cans on Lawn"],
  );
  assert.equal(a.id, "qn");
  assert.ok(auditOf(b.committed, "qb"), "the audits before stay");
});

test("an offer of a plan that has changed is not shown, nor one that was called off", async () => {
  const { a, b, offers } = bench();
  a.open();
  const late = a.seek({ area: "a1", by: "grid", count: 2 });
  b.rev++;
  await offers[0]?.answer(ok(offer(b.rev - 1)));
  await late;
  assert.equal(a.offer, null);
  assert.match(a.trouble, /changed meanwhile/);
  const off = a.seek({ area: "a1", by: "grid", count: 2 });
  a.drop();
  await offers[1]?.answer(ok(offer(b.rev)));
  await off;
  assert.equal(a.offer, null);
  assert.equal(b.drafting, false);
});

test("what an audit found is taken into the watering plan by one step, of the revision it was found for only", async () => {
  const { a, b, asked, tick } = bench();
  a.open();
  await tick();
  await asked[0]?.answer(ok(view("qb", b.rev)));
  await a.use();
  assert.equal(b.committed.zones?.z1?.audited_du, 0.6);
  await a.use();
  assert.equal(b.steps.length, 1, "the plan has changed since");
});

test("cans are walked by their numbers, and the next is above them all", () => {
  const p = audited();
  assert.deepEqual(canOrder(auditOf(p, "qb")).slice(0, 3), ["c1", "c2", "c3"]);
  assert.equal(canOrder(auditOf(p, "qb")).at(-1), "c12");
  assert.equal(nextCan(auditOf(p, "qb")), "c13");
  assert.equal(nextCan(undefined), "c1");
});

test("a catch is read as people type it, by volume or by depth; empty is not read, nonsense is refused with a sentence", () => {
  const p = audited();
  const caught = (typed: string, q = p): unknown => {
    const v = withCatch(q, "qb.c2", typed);
    return v.ok ? auditOf(v.value, "qb")?.cans?.c2 : v.sentence;
  };
  assert.deepEqual(caught("31.5"), can(1, 1, 31.5));
  assert.deepEqual(caught("0"), can(1, 1, 0), "a can that caught nothing was read");
  assert.deepEqual(caught("1 fl oz"), can(1, 1, 29.5735295625));
  assert.deepEqual(caught(""), can(1, 1));
  assert.match(String(caught("-3")), /out of reach/);
  assert.match(String(caught("lots")), /not a unit of catch|not a number/);
  const deep = withAudit(p, "qb", { ...auditOf(p, "qb"), scale: "depth" });
  assert.deepEqual(caught("0.25", deep), { ...can(1, 1), depth_in: 0.25 });
  const mm = caught("25.4 mm", deep) as { depth_in: number };
  assert.ok(Math.abs(mm.depth_in - 1) < 1e-9);
});

test("a pasted column goes from can to can, a second column names them; a line that cannot be takes nothing", () => {
  assert.deepEqual(
    pastedCatches("Caught\r\n12\r\n\r\n14.5\r\n").map((l) => l.typed),
    ["12", "", "14.5"],
  );
  assert.deepEqual(pastedCatches("3\t12\n1; 14 ml"), [
    { number: 3, typed: "12" },
    { number: 1, typed: "14 ml" },
  ]);
  const p = audited();
  assert.equal(withPasted(p, "qb", "c2", "12"), null, "a single figure is pasted as any text");
  const got = withPasted(p, "qb", "c11", "12\n14");
  assert.ok(got?.ok);
  assert.equal(auditOf(got.value.plan, "qb")?.cans?.c11?.catch_ml, 12);
  assert.equal(auditOf(got.value.plan, "qb")?.cans?.c12?.catch_ml, 14);
  const long = withPasted(p, "qb", "c12", "12\n14");
  assert.ok(long && !long.ok && /Line 2 .* has no can: the audit has 12 cans\. Nothing/.test(long.sentence));
  const odd = withPasted(p, "qb", "c1", "12\nfull");
  assert.ok(odd && !odd.ok && /^Line 2 of what was pasted: /.test(odd.sentence));
  const far = withPasted(p, "qb", "c1", "12\n99, 3");
  assert.ok(far && !far.ok && /has no can/.test(far.sentence));
});

test("the audit of an older document is read, typed and taken away where that document keeps it", () => {
  const p: Plan = { ...yard(), proof: { cans: { c1: can(3, 3, 21) }, minutes: 10, throat_in2: 16 } };
  const { a } = bench(p);
  assert.equal(a.id, "");
  const next = withCatch(p, ".c1", "30");
  assert.ok(next.ok);
  assert.equal(next.value.proof?.cans?.c1?.catch_ml, 30);
  const long = oldMinutes.set(p, "", "12 min");
  assert.ok(long.ok && long.value.proof?.minutes === 12);
  assert.deepEqual(
    auditFields(p, "").map((f) => f.key),
    ["throat_in2"],
  );
  assert.equal(canRef("", "c1"), "cans/.c1");
});

test("how an audit was made is typed with units, and a zone that is gone keeps its minutes", () => {
  const p = audited();
  const field = (key: string) => auditFields(p, "qb").find((f) => f.key === key);
  const throat = field("throat_in2")?.set(p, "qb", "100 cm²");
  assert.ok(throat?.ok && Math.abs((auditOf(throat.value, "qb")?.throat_in2 ?? 0) - 15.5) < 0.01);
  assert.ok(!field("on")?.set(p, "qb", "yesterday").ok);
  const wind = field("wind_mph")?.set(p, "qb", "0");
  assert.ok(wind?.ok && auditOf(wind.value, "qb")?.wind_mph === 0, "calm is said, not left out");
  const ran = minutesOf("z1").set(p, "qb", "0.5 h");
  assert.ok(ran.ok && auditOf(ran.value, "qb")?.runs?.z1 === 30);
  const not = minutesOf("z1").set(p, "qb", "");
  assert.ok(not.ok && Object.keys(auditOf(not.value, "qb")?.runs ?? {}).length === 0);
  const gone = withAudit(p, "qb", { ...auditOf(p, "qb"), runs: { z9: 4 } });
  assert.deepEqual(
    zonesAsked(gone, "qb").map((z) => z.zone),
    ["z1", "z9"],
  );
  assert.equal(minutesOf("z9").get(gone, "qb"), "4");
});

test("a step about cans is about those cans, so that undo shows them", () => {
  const patch = { proof: { audits: { qb: { cans: { c2: { catch_ml: 3 } } } }, cans: { c1: null } } };
  assert.deepEqual(touched(patch), ["cans/.c1", "cans/qb.c2"]);
});

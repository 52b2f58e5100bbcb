import assert from "node:assert/strict";
import { test } from "node:test";
import { auditOf, withAudit } from "./audits";
import { copyThings, deleteThings, moveThings, pasteThings } from "./edit";
import { sharedStatus } from "./fields";
import { builtFields, drawnAt, faultNames, stateFields } from "./fields_found";
import { fieldsOf } from "./fields_others";
import { ids, type Plan, put, type Ref } from "./model";
import { nameOf } from "./names";
import { aboutOf } from "./panels/inground";
import { speechOf } from "./scene/speech";
import { catalog, Hand, yard } from "./testplan";
import { thingAt } from "./things";
import { newAudit } from "./tools/cans";

const cx = (plan: Plan) => ({ plan, catalog });

/** A yard with a valve, a box, a sleeve and an audit of one can. */
function built(): Plan {
  let p = yard();
  p = put(p, "valves", "z1", { x_ft: 10, y_ft: 2 });
  p = put(p, "boxes", "x1", { name: "Box", x_ft: 12, y_ft: 2 });
  p = put(p, "sleeves", "u1", { from: { x_ft: 30, y_ft: 0 }, to: { x_ft: 36, y_ft: 0 } });
  return withAudit(p, "qa", { on: "2026-05-01", cans: { c1: { x_ft: 8, y_ft: 8, catch_ml: 20 } } });
}

test("a copy of a head, a box or a sleeve was neither found nor built, however it is made", () => {
  let p = built();
  p = put(p, "heads", "h1", {
    ...p.heads!.h1!,
    state: { faults: ["blocked"], seen_on: "2026-05-01" },
    built: { on: "2026-05-01", was: { x_ft: 1, y_ft: 2 } },
  });
  p = put(p, "boxes", "x1", { ...p.boxes!.x1!, built: { on: "2026-05-01" } });
  p = put(p, "sleeves", "u1", { ...p.sleeves!.u1!, built: { on: "2026-05-01" } });
  const [next, made] = pasteThings(p, copyThings(p, ["heads/h1", "boxes/x1", "sleeves/u1"]), [2, 2]);
  assert.equal(made.length, 3);
  for (const r of made) {
    const [c, id] = r.split("/") as ["heads", string];
    const copy = next[c]?.[id] as object;
    assert.ok(copy, r);
    assert.ok(!("state" in copy) && !("built" in copy), `${r} ${JSON.stringify(copy)}`);
  }
  assert.deepEqual(next.heads?.h1, p.heads?.h1);
});

test("where a thing went is recorded by a click: it moves there, and where it was drawn first is kept", () => {
  const hand = new Hand("built", built());
  hand.selection = new Set<Ref>(["heads/h2"]);
  hand.click([41, 13]);
  const now = hand.plan.heads?.h2;
  assert.deepEqual([now?.x_ft, now?.y_ft, now?.built?.was], [41, 13, { x_ft: 40, y_ft: 12 }]);
  assert.match(hand.steps[0]?.label ?? "", /^Record where head 1-2 went$/);
  assert.ok(hand.left);
  const again = new Hand("built", hand.plan);
  again.selection = hand.selection;
  again.click([42, 13]);
  assert.deepEqual(
    again.plan.heads?.h2?.built?.was,
    { x_ft: 40, y_ft: 12 },
    "the first drawing is what counts",
  );
});

test("a thing that went hardly aside is not drawn back to where it stood, nor onto its pipe", () => {
  const hand = new Hand("built", built());
  hand.selection = new Set<Ref>(["heads/h2"]);
  hand.click([40.4, 12.2]);
  assert.deepEqual([hand.plan.heads?.h2?.x_ft, hand.plan.heads?.h2?.y_ft], [40.4, 12.2]);
});

test("Enter without a place records it where it is drawn; a typed place is taken; a valve is its zone's", () => {
  const hand = new Hand("built", built());
  hand.selection = new Set<Ref>(["valves/z1"]);
  hand.do("finish");
  assert.deepEqual(hand.plan.zones?.z1?.valve_at, { x_ft: 10, y_ft: 2 });
  assert.ok(hand.plan.zones?.z1?.built?.on);
  assert.equal(hand.plan.zones?.z1?.built?.was, undefined);
  const typed = new Hand("built", hand.plan);
  typed.selection = hand.selection;
  assert.equal(typed.write("11, 2.5"), null);
  assert.deepEqual(typed.plan.zones?.z1?.valve_at, { x_ft: 11, y_ft: 2.5 });
  assert.equal(drawnAt(typed.plan, "zones", "z1"), `10' 0", 2' 0"`);
});

test("a sleeve is shown by both ends; nothing and several things are refused with what to do", () => {
  const hand = new Hand("built", built());
  hand.selection = new Set<Ref>(["sleeves/u1"]);
  hand.click([31, 0]);
  assert.equal(hand.steps.length, 0);
  hand.click([37, 0]);
  assert.deepEqual(hand.plan.sleeves?.u1?.built?.was_to, { x_ft: 36, y_ft: 0 });
  assert.deepEqual(hand.plan.sleeves?.u1?.to, { x_ft: 37, y_ft: 0 });
  for (const refs of [[], ["areas/a1"], ["heads/h1", "heads/h2"]] as Ref[][]) {
    const none = new Hand("built", built());
    none.selection = new Set(refs);
    none.click([5, 5]);
    assert.equal(none.steps.length, 0);
    assert.match(none.said.join(" "), /Select one head, valve, splice box or sleeve first/);
  }
  const locked = new Hand("built", put(built(), "heads", "h1", { ...built().heads!.h1!, locked: true }));
  locked.selection = new Set<Ref>(["heads/h1"]);
  locked.click([5, 5]);
  assert.match(locked.said.join(" "), /is locked/);
});

test("tapes from known places record what is selected too, and stay as ties", () => {
  const hand = new Hand("tape", built());
  hand.kit = { ...hand.kit, tapeWay: "tapes", tapeMakes: "built" };
  hand.selection = new Set<Ref>(["heads/h2"]);
  hand.click([30, 20]).click([60, 0]);
  hand.write(String(Math.hypot(11, 7)), String(Math.hypot(19, 13)));
  // Of the two places these tapes meet at, one is by the head.
  if (hand.steps.length === 0) hand.click([41, 13]);
  const now = hand.plan.heads?.h2;
  assert.ok(Math.hypot((now?.x_ft ?? 0) - 41, (now?.y_ft ?? 0) - 13) < 0.02, JSON.stringify(now));
  assert.deepEqual(now?.built?.was, { x_ft: 40, y_ft: 12 });
  assert.equal(ids(hand.plan, "ties").length, 2);
});

test("faults are ticked, several heads at once, with the day they were seen; unticked, what was told of them goes", () => {
  const field = (key: string) => stateFields.find((f) => f.key === key)!;
  const p = built();
  const leans = field("fault_tilted").set(cx(p), ["h1", "h2"], "yes");
  assert.ok(leans.ok);
  assert.deepEqual(leans.value.heads?.h2?.state?.faults, ["tilted"]);
  assert.match(leans.value.heads?.h2?.state?.seen_on ?? "", /^\d{4}-\d\d-\d\d$/);
  assert.ok(field("state_tilt_deg").has?.(cx(leans.value), "h1"));
  assert.ok(!field("state_tilt_deg").has?.(cx(p), "h1"), "what leans by nothing has no angle");
  const by = field("state_tilt_deg").set(cx(leans.value), ["h1"], "8");
  assert.ok(by.ok && by.value.heads?.h1?.state?.tilt_deg === 8);
  assert.ok(!field("state_tilt_deg").set(cx(leans.value), ["h1"], "120").ok);
  const straight = field("fault_tilted").set(cx(by.value), ["h1"], "");
  assert.ok(straight.ok && straight.value.heads?.h1?.state === undefined, JSON.stringify(straight));
  assert.ok(!field("state_set_on").set(cx(p), ["h1"], "last week").ok);
  for (const name of Object.values(faultNames)) assert.match(name, /^[A-Z]/);
});

test("a day typed as measured builds a thing where it is, and taking it away puts it back where it was drawn", () => {
  for (const [c, id] of [
    ["heads", "h2"],
    ["boxes", "x1"],
    ["sleeves", "u1"],
    ["valves", "z1"],
  ] as const) {
    const on = builtFields(c).find((f) => f.key === "built_on")!;
    const p = built();
    const next = on.set(cx(p), [id], "2026-05-03");
    assert.ok(next.ok);
    assert.equal(on.get(cx(next.value), id), "2026-05-03");
    const deep = builtFields(c).find((f) => f.key === "built_depth_in")!;
    assert.ok(deep.has?.(cx(next.value), id) && !deep.has?.(cx(p), id));
    const at = deep.set(cx(next.value), [id], "1 ft");
    assert.ok(at.ok && deep.get(cx(at.value), id) === "12");
    const back = on.set(cx(at.value), [id], "");
    assert.ok(back.ok);
    assert.deepEqual(JSON.parse(JSON.stringify(back.value)), JSON.parse(JSON.stringify(p)), c);
    assert.ok(!on.set(cx(p), [id], "May").ok);
  }
});

test("a click with Catch can sets the next one, in a new audit of the area there where none is; on a can it selects it", () => {
  const hand = new Hand("cans", yard());
  hand.click([5, 5]).click([9, 5]);
  const [id] = Object.keys(hand.plan.proof?.audits ?? {});
  const made = auditOf(hand.plan, id ?? null);
  assert.equal(made?.area, "a1");
  assert.deepEqual(Object.keys(made?.cans ?? {}), ["c1", "c2"]);
  assert.deepEqual([...hand.selection], [`cans/${id}.c2`]);
  assert.equal(hand.write("20, 10"), null);
  assert.equal(Object.keys(auditOf(hand.plan, id ?? null)?.cans ?? {}).length, 3);
  hand.click([5.2, 5]);
  assert.equal(hand.steps.length, 3, "no can on another");
  assert.deepEqual([...hand.selection], [`cans/${id}.c1`]);
  const [fresh, q] = newAudit(yard(), null, "2026-05-01");
  assert.deepEqual(auditOf(fresh, q), { on: "2026-05-01" });
});

test("a can is a thing like any other: found, named, moved, left out, deleted", () => {
  const p = built();
  const r: Ref = "cans/qa.c1";
  assert.equal(thingAt(p, [8, 8], 0.8), r);
  assert.equal(nameOf(p, r), "catch can 1");
  assert.equal(speechOf(p, r, null), `Catch can 1, caught 20 ml, at 8' 0", 8' 0"`);
  const moved = moveThings(p, [r], [1, 2]);
  assert.deepEqual(auditOf(moved, "qa")?.cans?.c1, { x_ft: 9, y_ft: 10, catch_ml: 20 });
  const out = fieldsOf.cans.find((f) => f.key === "left_out")!.set(cx(p), ["qa.c1"], "yes");
  assert.ok(out.ok && auditOf(out.value, "qa")?.cans?.c1?.left_out);
  assert.deepEqual(auditOf(deleteThings(p, [r]), "qa")?.cans, {});
  const status = sharedStatus.set(cx(p), [r], "existing");
  assert.ok(status.ok && status.value === p, "it is not built, so it has no status");
});

test("a photograph of a valve is of its zone, which the plan knows it by", () => {
  assert.equal(aboutOf("valves/z1"), "zones/z1");
  assert.equal(aboutOf("heads/h7"), "heads/h7");
});

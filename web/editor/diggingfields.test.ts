import assert from "node:assert/strict";
import { test } from "node:test";
import type { Plan } from "./model";
import {
  isDay,
  permitFields,
  withLocateDay,
  withLocateTicket,
  withPermitField,
} from "./panels/diggingfields";

const plan: Plan = { format: "evenfall-plan/1", name: "Lot", show: "us", site: { climate: "dry" } };

test("a day is one of the calendar, written year first", () => {
  for (const day of ["2026-05-31", "2024-02-29", "2000-01-01"]) assert.ok(isDay(day), day);
  for (const day of ["2026-02-29", "2026-13-01", "31.5.2026", "2026-5-31", "2026-05-31 ", "", "0x26-05-31"])
    assert.ok(!isDay(day), day);
});

test("the locate request is kept with the site, and an empty field takes it out", () => {
  const asked = withLocateDay(plan, " 2026-05-31 ");
  assert.ok(asked.ok);
  const both = withLocateTicket(asked.value, "A-17");
  assert.ok(both.ok);
  assert.deepEqual(both.value.site, { climate: "dry", locate_on: "2026-05-31", locate_ticket: "A-17" });
  const out = withLocateDay(both.value, "");
  assert.ok(out.ok);
  assert.deepEqual(out.value.site, { climate: "dry", locate_ticket: "A-17" });
});

test("a day that is none is named, and so is a ticket too long", () => {
  const day = withLocateDay(plan, "tomorrow");
  assert.ok(!day.ok && day.sentence.includes("2026-05-31"));
  assert.ok(!withLocateTicket(plan, "x".repeat(201)).ok);
});

test("every paper for the permit is kept with the site, days checked, and taken out by an empty field", () => {
  for (const field of permitFields) {
    const put = withPermitField(plan, field, field.day ? " 2026-02-28 " : " P-7 ");
    assert.ok(put.ok, field.key);
    assert.deepEqual(put.value.site, { climate: "dry", [field.key]: field.day ? "2026-02-28" : "P-7" });
    const out = withPermitField(put.value, field, "  ");
    assert.ok(out.ok);
    assert.deepEqual(out.value.site, { climate: "dry" });
    assert.equal(
      withPermitField(plan, field, field.day ? "2026-02-30" : "x".repeat(201)).ok,
      false,
      field.key,
    );
  }
});

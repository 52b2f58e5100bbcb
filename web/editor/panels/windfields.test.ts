import assert from "node:assert/strict";
import test from "node:test";
import type { Plan } from "../model";
import { yard } from "../testplan";
import { windChoices, windFrom, windText, withWind, withWindFrom } from "./windfields";

const turned = (site: Plan["site"], show: Plan["show"] = "us"): Plan => ({ ...yard(), show, site });

test("the wind is typed in the plan's units and kept in mph", () => {
  for (const [show, typed, want] of [
    ["us", "12", 12],
    ["metric", "16.1", 16.1 / 1.609344],
    ["metric", "40.2", 40.2 / 1.609344],
    ["us", "0", 0],
    ["us", "", undefined],
  ] as const) {
    const got = withWind(turned({ wind_mph: 3 }, show), typed);
    assert.ok(got.ok);
    const v = got.value.site?.wind_mph;
    if (want === undefined) assert.equal(v, undefined);
    else assert.ok(Math.abs((v ?? -1) - want) < 1e-9, `${typed} ${show}: ${v}`);
  }
  for (const typed of ["26", "-1", "strong", "NaN"]) assert.ok(!withWind(turned({}), typed).ok, typed);
  assert.equal(windText(turned({ wind_mph: 10 }, "metric")), "16.1");
  assert.equal(windText(turned({})), "");
});

test("the wind's name goes by true north, its angle by the plan", () => {
  const got = withWindFrom(turned({ north_deg: 30 }), "west");
  assert.ok(got.ok);
  assert.equal(got.value.site?.wind_from_deg, 210);
  assert.equal(windFrom(got.value), "west");
  const east = withWindFrom(turned({ north_deg: -90 }), "east");
  assert.ok(east.ok);
  assert.equal(east.value.site?.wind_from_deg, 270);
  const usual = withWindFrom(got.value, "");
  assert.ok(usual.ok);
  assert.deepEqual(usual.value.site, { north_deg: 30 });
});

test("a direction between the winds stays as it is until another is chosen", () => {
  const p = turned({ wind_from_deg: 200 });
  assert.equal(windFrom(p), "200");
  assert.deepEqual(windChoices(p).at(-1), { value: "200", label: "200° on the plan" });
  const kept = withWindFrom(p, "200");
  assert.ok(kept.ok);
  assert.equal(kept.value.site?.wind_from_deg, 200);
});

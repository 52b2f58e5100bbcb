import assert from "node:assert/strict";
import { test } from "node:test";
import type { Catalog, NozzleEntry } from "./api";
import { nozzleChoices, nozzles } from "./catalog";
import { usualKit, withSuitingNozzle } from "./kit";
import type { Area, Plan } from "./model";
import { narrowSide, suitingNozzle } from "./nozzlefit";
import { empty, Hand, quarter, catalog as small, stream, yard } from "./testplan";

const nozzle = (family: string, throw_ft: number, arc = "", least = 90, most = 360): NozzleEntry => ({
  ...stream,
  id: `${family}-${throw_ft}${arc}`,
  name: `${family} ${throw_ft}${arc}`,
  family: family as NozzleEntry["family"],
  arc_least_deg: least,
  arc_most_deg: most,
  rows: [{ pressure_psi: 40, throw_ft, flow_gpm: 1 }],
});

/** The sizes of the built-in catalogue, not in order. */
const catalog: Catalog = {
  nozzles: [
    ...[45, 28, 30, 35, 40].map((t) => nozzle("rotor", t)),
    ...[25, 16, 20].map((t) => nozzle("stream", t)),
    ...[15, 5, 12, 10, 8, 6].flatMap((t) => [
      nozzle("spray", t, "-h", 180, 180),
      nozzle("spray", t, "-q", 90, 90),
    ]),
    { ...nozzle("strip", 15), strip: { ahead: true, back: true, left_ft: 2, right_ft: 2 } } as NozzleEntry,
  ],
  bodies: small.bodies,
};

const lawn = (w: number, l: number, more: Partial<Area> = {}): Area =>
  ({
    name: "Lawn",
    kind: "planting",
    outline: [
      [0, 0],
      [l, 0],
      [l, w],
      [0, w],
    ],
    ...more,
  }) as Area;

const planOf = (areas: Record<string, Area>, more: Partial<Plan> = {}): Plan => ({
  ...empty(),
  areas,
  ...more,
});
const none: ReadonlySet<never> = new Set();

test("row A26: nozzles are chosen under their families, by throw", () => {
  const list = nozzleChoices(nozzles(empty(), catalog), "us");
  assert.deepEqual([...new Set(list.map((c) => c.group))], ["Sprays", "Streams", "Rotors", "Strips"]);
  assert.deepEqual(
    list.slice(0, 6).map((c) => c.value),
    ["spray-5-q", "spray-5-h", "spray-6-q", "spray-6-h", "spray-8-q", "spray-8-h"],
  );
  assert.deepEqual(
    list.filter((c) => c.group === "Rotors").map((c) => c.label),
    ["rotor 28", "rotor 30", "rotor 35", "rotor 40", "rotor 45"],
  );
});

test("row A26: the narrow side of an area: exact of a rectangle, of an L about its legs, of a ring its band", () => {
  assert.ok(Math.abs(narrowSide(lawn(22, 70)) - 22) < 1e-9);
  assert.ok(Math.abs(narrowSide(lawn(30, 30)) - 30) < 1e-6);
  const l = lawn(1, 1, {
    outline: [
      [0, 0],
      [60, 0],
      [60, 20],
      [20, 20],
      [20, 60],
      [0, 60],
    ] as never,
  });
  assert.ok(Math.abs(narrowSide(l) - 20) < 1e-9, `${narrowSide(l)}`); // 2000 ft² in 240 ft is 20 by 100
  const hole = [
    [20, 20],
    [80, 20],
    [80, 60],
    [20, 60],
  ] as never;
  const ring = narrowSide(lawn(80, 100, { holes: [hole] }));
  assert.ok(ring > 15 && ring < 25, `a band of 20 ft round a house: ${ring}`);
});

test("row A26: the first nozzle divides the narrow side into the fewest equal intervals no longer than its throw", () => {
  const cases: [number, string, string][] = [
    [5, "spray-5-q", "5 ft spray: two rows"],
    [11, "spray-12-q", "12 ft spray: two rows"],
    [15, "stream-16", "16 ft stream: two rows"],
    [22, "stream-25", "25 ft stream: two rows"],
    [30, "stream-16", "16 ft stream: three rows"],
    [48, "stream-25", "25 ft stream: three rows"],
    [70, "rotor-35", "35 ft rotor: three rows"],
    [130, "rotor-45", "45 ft rotor: four rows"],
  ];
  for (const [w, id, why] of cases) {
    const got = suitingNozzle(planOf({ a: lawn(w, 2 * w) }), catalog, none);
    assert.equal(got?.nozzle, id, `${w} ft`);
    assert.equal(got?.why, `${why} on Lawn, about ${w} ft across.`);
  }
  const metric = suitingNozzle(planOf({ a: lawn(22, 44) }, { show: "metric" }), catalog, none);
  assert.equal(metric?.why, "7.6 m stream: two rows on Lawn, about 6.7 m across.");
});

test("row A26: it is for the planting selected, else the largest watered by sprinklers", () => {
  const p = planOf({
    a: lawn(22, 44),
    b: lawn(8, 30),
    c: lawn(90, 200, { kind: "paving" }),
    d: lawn(90, 200, { watering: "by_hand" }),
  });
  assert.equal(suitingNozzle(p, catalog, none)?.nozzle, "stream-25");
  assert.equal(suitingNozzle(p, catalog, new Set(["areas/b" as const]))?.nozzle, "spray-8-q");
  assert.equal(suitingNozzle(planOf({ c: lawn(90, 200, { kind: "paving" }) }), catalog, none), null);
});

test("row A26: one nozzle is suggested, and none against a choice or where heads stand", () => {
  const p = planOf({ a: lawn(22, 44) });
  const kit = withSuitingNozzle(usualKit, p, catalog, none);
  assert.deepEqual([kit.nozzle, kit.body], ["stream-25", "body-4"]);
  assert.match(kit.nozzleWhy ?? "", /^25 ft stream/);
  const own = { ...usualKit, nozzle: "spray-8-q", nozzleWhy: null };
  assert.equal(withSuitingNozzle(own, p, catalog, none), own);
  assert.equal(withSuitingNozzle(usualKit, yard(), catalog, none), usualKit, "heads stand already");
  const h = new Hand("head", p);
  h.kit = { ...h.kit, nozzleWhy: "25 ft stream: two rows on Lawn, about 22 ft across." };
  assert.equal(
    h.tool.hint(h.around),
    "25 ft stream: two rows on Lawn, about 22 ft across. Click to set a head, set in from edges; Alt sets it just there.",
  );
});

test("row A26: the choice names what was set, a half after a quarter", () => {
  const half = { ...quarter, id: "spray-half", arc_least_deg: 180, arc_most_deg: 180 };
  const h = new Hand("head", { ...yard(), nozzles: { ...yard().nozzles, "spray-half": half } });
  h.kit = { ...h.kit, nozzle: "spray-q" };
  h.click([0, 40]);
  assert.equal(h.kit.nozzle, "spray-q");
  h.click([20, 0]);
  assert.equal(h.kit.nozzle, "spray-half");
  h.click([60, 0]);
  assert.equal(h.kit.nozzle, "spray-q", "and a quarter again in the next corner");
});

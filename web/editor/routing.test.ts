import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import { question, type RouteOffer, type RouteView, Routing } from "./routing";
import { board } from "./testboard";

const offer = (name: string, x: number): RouteOffer => ({
  name,
  says: `${name}.`,
  patch: {
    wires: {
      w1: {
        line: [
          [x, 0],
          [x, 9],
        ],
        status: "new",
      },
    },
  },
  label: `Route ${name}`,
  figures: ["1"],
  least: [true],
  notes: [],
});

const view = (rev: number, part: Partial<RouteView> = {}): RouteView => ({
  rev,
  offered: true,
  says: "2 ways.",
  rows: ["Cost"],
  offers: [offer("Grouped", 1), offer("Spread", 2)],
  blocked: [],
  notes: [],
  caution: "",
  evaluations: "",
  ...part,
});

function panel(part: Partial<RouteView> = {}) {
  const b = board();
  const asked: string[] = [];
  const r = new Routing(
    b,
    () => {},
    async (url): Promise<Outcome<RouteView>> => {
      asked.push(url);
      return { ok: true, value: view(b.rev, part) };
    },
  );
  return { r, b, asked };
}

const at = (b: ReturnType<typeof board>): number | undefined => b.plan.wires?.w1?.line[0]?.[0];

test("what is asked for stands in the address", () => {
  assert.equal(
    question({ zones: [], wire: true, keep: false, valves: "as_placed" }),
    "wire=yes&valves=as_placed",
  );
  assert.equal(
    question({ zones: ["z1", "z2"], wire: false, keep: true, valves: "weighed" }),
    "zones=z1%2Cz2&wire=no&keep=yes&valves=weighed",
  );
});

test("the first offer shows on the board, another in its place when it is chosen, and one is taken by one step", async () => {
  const { r, b, asked } = panel();
  r.set({ wire: false });
  await r.seek();
  assert.deepEqual(asked, ["/api/plans/x/route?rev=4&wire=no&valves=as_placed"]);
  assert.equal(at(b), 1);
  r.choose(1);
  assert.equal(at(b), 2);
  assert.equal(b.steps.length, 0);
  r.choose(7);
  assert.equal(r.chosen, 1);
  assert.equal(await r.take(), true);
  assert.equal(b.steps[0]?.label, "Route Spread");
  assert.equal(b.committed.wires?.w1?.line[0]?.[0], 2);
  assert.equal(r.phase, "taken");
});

test("what the plan has already is shown as it is, and not taken", async () => {
  const { r, b } = panel({ offers: [offer("Grouped", 1), { ...offer("As it is", 0), patch: undefined }] });
  await r.seek();
  assert.equal(b.drafting, true);
  r.choose(1);
  assert.equal(b.drafting, false);
  assert.equal(await r.take(), false);
  r.choose(0);
  assert.equal(at(b), 1);
});

test("routes found for another revision are neither shown nor taken", async () => {
  const { r, b } = panel();
  await r.seek();
  b.rev = 7;
  r.look();
  assert.equal(b.drafting, false);
  assert.equal(r.stale, true);
  assert.equal(await r.take(), false);
  assert.equal(b.steps.length, 0);
});

test("what blocks is told where nothing can be offered; a refusal leaves the question standing", async () => {
  const blocked = [
    { what: "heads/h1" as const, name: "Head 1-1", at: [1, 2] as [number, number], why: "The house." },
  ];
  const one = panel({ offered: false, offers: [], blocked });
  await one.r.seek();
  assert.equal(one.r.phase, "offered");
  assert.equal(one.r.offer, null);
  assert.equal(await one.r.take(), false);
  const other = panel({ offered: false, offers: [], says: "The connection is not placed." });
  await other.r.seek();
  assert.deepEqual([other.r.phase, other.r.trouble], ["asking", "The connection is not placed."]);
});

test("left, the board shows the plan again", async () => {
  const { r, b } = panel();
  await r.seek();
  r.leave();
  assert.equal(b.drafting, false);
  assert.equal(r.phase, "asking");
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import {
  type ArrangeArea,
  type ArrangeOptions,
  type ArrangeView,
  Arranging,
  areasChosen,
  bestOf,
  question,
  roomSays,
  shares,
  tickedFirst,
  usualWish,
} from "./arranging";
import type { Told } from "./longwork";
import { board } from "./testboard";
import { yard } from "./testplan";

const area = (id: string, more: Partial<ArrangeArea> = {}): ArrangeArea => ({
  id,
  name: id,
  cover: "turf",
  size: "",
  width: "",
  heads: 0,
  stay: 0,
  says: "",
  can: true,
  ...more,
});

const options = (...areas: ArrangeArea[]): ArrangeOptions => ({
  rev: 4,
  areas,
  families: [],
  limits: [],
  angles: [],
  throws: [],
  efforts: [],
  seed: 1,
  seed_most: 99,
  rules: [],
  group: { limit: "", gpm: 0, days: 3, hours: 8, need_in: 1.4, need: "" },
});

const head = (x: number) => ({ nozzle: "stream-25", body: "body-4", x_ft: x, y_ft: 1 });
const stand = (id: string, x: number, stays = false) => ({
  id,
  x_ft: x,
  y_ft: 1,
  start_deg: 0,
  sweep_deg: 90,
  throw_ft: 12,
  nozzle: "stream-25",
  says: "",
  stays,
});

/** Two areas with two layouts each; offers of them by name. */
function found(rev: number, names: readonly string[], whole = true): ArrangeView {
  const layout = (a: string, n: number) => ({
    family: "stream",
    kind: "streams",
    tidy: n === 0,
    says: "",
    heads: Array.from({ length: n + 2 }, (_, i) => stand(`h${a}${n}${i}`, i, i === 0)),
    figures: [],
    past: [],
    patch: { heads: { [`h${a}${n}`]: head(n) } },
    label: `Arrange ${a}`,
  });
  const answer = (a: string) => ({ area: a, name: a, rings: [], layouts: [layout(a, 0), layout(a, 1)] });
  return {
    rev,
    offered: names.length > 0,
    says: "Offered.",
    whole,
    columns: [],
    answers: [answer("a1"), answer("a2")],
    offers: names.map((name, i) => ({
      name,
      says: "",
      picks: ["a1", "a2"].map((a) => ({ area: a, layout: i % 2 })),
      figures: [],
      patch: { heads: { [`h-${name}`]: head(i) } },
      label: `Arrange ${name}`,
    })),
    notes: [],
    caution: "",
    evaluations: "",
  };
}

type Answer = Outcome<ArrangeView> | null;

/** A panel whose search is answered by hand. */
async function panel(...areas: ArrangeArea[]) {
  const b = board();
  const asked: string[] = [];
  let tell: (t: Told) => void = () => {};
  let answer: (a: Answer) => void = () => {};
  const a = new Arranging(
    b,
    () => {},
    (url, off, t) => {
      asked.push(url);
      tell = t;
      return new Promise((done) => {
        answer = done;
        off.addEventListener("abort", () => done(null));
      });
    },
    async () => ({ ok: true, value: options(...areas) }),
  );
  await a.open([]);
  const tick = () => new Promise((r) => setImmediate(r));
  return { a, b, asked, tell: (t: Told) => tell(t), answer: (x: Answer) => answer(x), tick };
}

test("a wish says only what is not the usual", () => {
  assert.equal(question(usualWish), "");
  const wish = {
    ...usualWish,
    areas: ["a1", "a2"],
    families: ["spray"],
    limits: { hard: 0 },
    angle: "5",
    seed: 7,
  };
  assert.equal(decodeURIComponent(question(wish)), "areas=a1,a2&families=spray&hard=0&angle=5&seed=7");
});

test("the areas ticked at first are those selected, else the only one, else none: it is asked", () => {
  const two = [area("a1"), area("a2"), area("a3", { can: false, why: "Too narrow." })];
  assert.deepEqual(tickedFirst(two, ["a2", "a3"]), ["a2"]);
  assert.deepEqual(tickedFirst(two, []), []);
  assert.deepEqual(tickedFirst([area("a1"), area("a3", { can: false })], []), ["a1"]);
});

test("of a selection only planting areas are arranged", () => {
  const p = yard();
  const planting = Object.keys(p.areas ?? {}).filter((id) => p.areas?.[id]?.kind === "planting");
  const all = Object.keys(p.areas ?? {}).map((id) => `areas/${id}` as const);
  assert.deepEqual(areasChosen(p, [...all, "heads/h1"]), planting);
});

test("what stays and what makes room is told of the areas ticked", () => {
  const list = [area("a1", { heads: 4, stay: 2 }), area("a2", { heads: 1 })];
  assert.equal(roomSays(list, ["a1"]), "4 heads make room for new ones. 2 heads, locked or existing, stay.");
  assert.equal(roomSays(list, ["a2"]), "1 head makes room for new ones.");
  assert.equal(roomSays(list, []), "");
});

test("the shares to choose from hold the usual one and end at the most", () => {
  assert.deepEqual(shares({ id: "hard", words: "", usual: 2, most: 10 }), [0, 1, 2, 5, 10]);
  assert.deepEqual(shares({ id: "bare", words: "", usual: 3, most: 5 }), [0, 1, 2, 3, 5]);
});

test("the best of a row are marked, of equal ones none", () => {
  const least = { id: "heads", label: "", best: "least" };
  const figures = (...sorts: number[]) => sorts.map((sort) => ({ sort, text: sort.toFixed(0) }));
  assert.deepEqual([...bestOf(least, figures(7, 5, 5))], [1, 2]);
  assert.deepEqual([...bestOf({ ...least, best: "most" }, figures(7, 5))], [0]);
  assert.deepEqual([...bestOf(least, figures(5, 5))], []);
  assert.deepEqual([...bestOf(least, figures(5.2, 5, 7))], [0, 1], "what reads the same is marked alike");
  assert.deepEqual([...bestOf(least, figures(5.2, 5))], []);
  assert.deepEqual([...bestOf(least, [undefined, ...figures(5, 6)])], [1]);
  assert.deepEqual([...bestOf(least, [])], []);
});

test("nothing is sought before an area is ticked, and then for the plan that is stored", async () => {
  const { a, asked, tick } = await panel(area("a1"), area("a2"));
  assert.match(a.wants, /Tick the areas/);
  await a.seek();
  assert.deepEqual(asked, []);
  a.set({ areas: ["a2"] });
  void a.seek();
  await tick();
  assert.deepEqual(asked, ["/api/plans/x/arrange?rev=4&areas=a2"]);
});

test("better layouts take the place of those before, on the board too, and what was chosen stays chosen", async () => {
  const { a, b, tell, answer, tick } = await panel(area("a1"));
  const done = a.seek();
  await tick();
  tell({ step: "", share: 0.1, best: found(4, ["Tidy", "Few"], false) });
  assert.equal(a.phase, "seeking");
  assert.ok(b.plan.heads?.["h-Tidy"], "the first shows on the board");
  a.choose(1);
  assert.ok(b.plan.heads?.["h-Few"]);
  tell({ step: "", share: 0.5, best: found(4, ["Even", "Tidy", "Few"], false) });
  assert.equal(a.offer?.name, "Few");
  answer({ ok: true, value: found(4, ["Even", "Tidy"]) });
  await done;
  assert.equal(a.phase, "offered");
  assert.equal(a.offer?.name, "Even", "what is no longer offered gives way to the first");
  assert.equal(b.steps.length, 0, "nothing is changed before it is taken");
});

test("stopped, the search ends at once and the best so far stay, to be taken", async () => {
  const { a, b, tell, tick } = await panel(area("a1"));
  const done = a.seek();
  await tick();
  tell({ step: "", share: 0.1, best: found(4, ["Tidy"], false) });
  a.search.stop();
  await done;
  assert.deepEqual([a.phase, a.stopped, a.offer?.name], ["offered", true, "Tidy"]);
  assert.equal(b.longWork.works.length, 0);
  assert.equal(await a.take(), true);
  assert.equal(b.steps[0]?.label, "Arrange Tidy");
  assert.ok(b.committed.heads?.["h-Tidy"]);
});

test("stopped before anything was found, the question stands as it was", async () => {
  const { a, b, tick } = await panel(area("a1"));
  const done = a.seek();
  await tick();
  a.search.stop();
  await done;
  assert.deepEqual([a.phase, a.wish.areas], ["asking", ["a1"]]);
  assert.match(a.trouble, /was stopped. Nothing is changed/);
  assert.equal(b.drafting, false);
});

test("each area may have another layout than the offer's; then their own patches make the one step", async () => {
  const { a, b, answer, tick } = await panel(area("a1"), area("a2"));
  a.set({ areas: ["a1", "a2"] });
  const done = a.seek();
  await tick();
  answer({ ok: true, value: found(4, ["Tidy", "Few"]) });
  await done;
  assert.deepEqual(a.heads, { set: 2, stay: 2 });
  a.pick("a2", 1);
  assert.equal(a.mixed, true);
  assert.deepEqual(a.heads, { set: 3, stay: 2 });
  const shown = Object.keys(b.plan.heads ?? {});
  assert.ok(shown.includes("ha10") && shown.includes("ha21") && !shown.includes("ha20"));
  assert.equal(await a.take(), true);
  assert.equal(b.steps.length, 1);
  assert.equal(b.steps[0]?.label, "Arrange 3 heads");
});

test("what was found for another revision is neither shown nor taken, and that is said", async () => {
  const { a, b, answer, tick } = await panel(area("a1"));
  const done = a.seek();
  await tick();
  answer({ ok: true, value: found(4, ["Tidy"]) });
  await done;
  assert.equal(b.drafting, true);
  b.rev = 5;
  a.look();
  assert.equal(a.stale, true);
  assert.equal(b.drafting, false);
  assert.match(b.said.at(-1) ?? "", /has changed since/);
  assert.equal(await a.take(), false);
  assert.equal(b.steps.length, 0);
});

test("nothing is sought while the server is away", async () => {
  const { a, b, asked } = await panel(area("a1"));
  b.saved = { state: "no", count: 1, why: "away" };
  await a.seek();
  assert.deepEqual(asked, []);
  assert.match(a.trouble, /Ask again when it says Saved/);
  b.away = true;
  await a.seek();
  assert.match(a.trouble, /has stopped: start it again, then ask again/);
});

test("left while it seeks, the search ends and the board shows the plan", async () => {
  const { a, b, tell, tick } = await panel(area("a1"));
  const done = a.seek();
  await tick();
  tell({ step: "", share: 0.1, best: found(4, ["Tidy"], false) });
  a.leave();
  await done;
  assert.equal(b.longWork.works.length, 0);
  assert.equal(b.drafting, false);
  assert.equal(a.view, null);
});

test("a refusal is told, with nothing to choose", async () => {
  const { a, answer, tick } = await panel(area("a1"));
  const done = a.seek();
  await tick();
  answer({ ok: true, value: { ...found(4, []), says: "The strip is too narrow.", answers: [] } });
  await done;
  assert.deepEqual([a.phase, a.offer, a.view?.says], ["asking", null, "The strip is too narrow."]);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import { Search, takeStep } from "./asking";
import type { Told } from "./longwork";
import { board } from "./testboard";

interface Found {
  rev: number;
  says: string;
}

/** A search that is answered by hand, of a board whose plan is stored unless it is said otherwise. */
function searching() {
  const b = board();
  const asked: {
    url: string;
    off: AbortSignal;
    tell: (t: Told) => void;
    answer: (a: Outcome<Found> | null) => void;
  }[] = [];
  let drawn = 0;
  const s = new Search<Found>(
    b,
    { of: "mend", title: "Seeking mends", work: "Mends are sought" },
    () => drawn++,
    (url, off, tell) =>
      new Promise((answer) => {
        asked.push({ url, off, tell, answer });
        off.addEventListener("abort", () => answer(null));
      }),
  );
  const tick = () => new Promise((r) => setImmediate(r));
  return { b, s, asked, tick, drawn: () => drawn };
}

const found = (rev: number, says: string): Found => ({ rev, says });
const ended = (value: Found) => ({ ok: true, value }) as const;

test("a search is asked of the plan as it is stored, tells how far it is, and answers", async () => {
  const { s, asked, tick, drawn } = searching();
  const end = s.seek("areas=a1");
  assert.equal(s.underway, true);
  assert.equal(drawn(), 1, "that it has begun shows at once");
  await tick();
  assert.equal(asked[0]?.url, "/api/plans/x/mend?rev=4&areas=a1");
  asked[0]?.tell({ step: "Looking", share: 0.4 });
  assert.deepEqual([s.told, drawn()], [{ step: "Looking", share: 0.4 }, 2]);
  asked[0]?.answer(ended(found(4, "done")));
  assert.deepEqual(await end, { view: found(4, "done"), why: "", stopped: false });
  assert.equal(s.underway, false);
});

test("without a question the address has the revision only", async () => {
  const { s, asked, tick } = searching();
  void s.seek("");
  await tick();
  assert.equal(asked[0]?.url, "/api/plans/x/mend?rev=4");
});

test("stopped, it leaves the best so far; stopped before any, nothing, and says so", async () => {
  const { b, s, asked, tick } = searching();
  const better: string[] = [];
  const first = s.seek("", (v) => better.push(v.says));
  await tick();
  asked[0]?.tell({ step: "", share: 0.1, best: found(4, "fair") });
  asked[0]?.tell({ step: "", share: 0.2, best: found(4, "good") });
  s.stop();
  assert.deepEqual(await first, {
    view: found(4, "good"),
    why: "Seeking mends was stopped. Nothing is changed.",
    stopped: true,
  });
  assert.deepEqual(better, ["fair", "good"]);
  assert.equal(b.longWork.works.length, 0);
  const second = s.seek("");
  await tick();
  s.stop();
  assert.deepEqual([(await second)?.view, (await second)?.stopped], [null, true]);
});

test("stopped while the last step is still on its way, nothing is asked", async () => {
  const { b, s, asked, tick } = searching();
  b.saved = { state: "saving", count: 1 };
  const end = s.seek("");
  s.stop();
  b.store();
  assert.deepEqual([(await end)?.stopped, asked.length], [true, 0]);
  await tick();
});

test("what fails is told in the server's words, and leaves the best that was told", async () => {
  const { s, asked, tick } = searching();
  const end = s.seek("");
  await tick();
  asked[0]?.tell({ step: "", share: 0.1, best: found(4, "fair") });
  asked[0]?.answer({ ok: false, status: 500, error: "It broke.", problems: [] });
  assert.deepEqual(await end, { view: found(4, "fair"), why: "It broke.", stopped: false });
});

test("nothing is asked of a plan that is not stored, and that is said", async () => {
  const { b, s, asked } = searching();
  b.saved = { state: "no", count: 1, why: "away" };
  const end = await s.seek("");
  assert.deepEqual([end?.view, end?.stopped, asked.length], [null, false, 0]);
  assert.match(end?.why ?? "", /^Mends are sought on the plan as it is stored/);
});

test("asked again, the one before is called off and what it finds all the same is nobody's", async () => {
  const { s, asked, tick } = searching();
  const better: string[] = [];
  const first = s.seek("seed=1", (v) => better.push(v.says));
  await tick();
  const second = s.seek("seed=2", (v) => better.push(v.says));
  await tick();
  assert.equal(asked[0]?.off.aborted, true);
  asked[0]?.tell({ step: "late", share: 1, best: found(4, "late") });
  assert.deepEqual([better, s.told.step], [[], ""]);
  assert.equal(await first, null);
  asked[1]?.answer(ended(found(4, "second")));
  assert.equal((await second)?.view?.says, "second");
});

test("dropped, it ends with nothing", async () => {
  const { b, s, asked, tick } = searching();
  const end = s.seek("");
  await tick();
  s.drop();
  assert.equal(await end, null);
  assert.deepEqual([asked[0]?.off.aborted, s.underway, b.longWork.works.length], [true, false, 0]);
});

test("a plan changed meanwhile stops the search for what it was, at the first look", async () => {
  const { b, s, tick } = searching();
  const end = s.seek("");
  await tick();
  s.look();
  assert.equal(s.underway, true, "nothing was changed yet");
  b.saved = { state: "saving", count: 1 };
  s.look();
  assert.deepEqual(await end, {
    view: null,
    why: "Seeking mends was stopped: the plan was changed. Ask again.",
    stopped: true,
  });
  s.look();
  assert.equal(s.underway, false);
});

test("what was found is taken as one step of the plan it is of, else not, and that is said", async () => {
  const { b } = searching();
  const step = { label: "Mend it", plan: { ...b.committed, name: "Mended" }, says: "Mended." };
  assert.equal(await takeStep(b, 3, step), false);
  assert.match(b.notices[0]?.sentence ?? "", /has changed since/);
  assert.equal(await takeStep(b, 4, step), true);
  assert.deepEqual([b.steps.map((x) => x.label), b.said], [["Mend it"], ["Mended."]]);
});

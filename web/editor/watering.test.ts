import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import { board } from "./testboard";
import { type WaterOptions, WaterPlan, type WaterView } from "./watering";

const month = (name: string) => ({
  name,
  needed: true,
  fits: true,
  says: `${name}.`,
  gallons: "",
  percent: "",
  programs: [],
});

const view = (rev: number, says = "It fits."): WaterView => ({
  rev,
  offered: true,
  says,
  fits: true,
  assumed: [],
  peak: 1,
  months: ["January", "July"].map(month),
  why: [],
  eases: [],
  areas: [],
  saved: "",
  adjust: "",
  caution: "",
});

const options: WaterOptions = { zones: [], climate: "", months: [], needs: [], columns: "", usual: {} };

interface Asked {
  readonly url: string;
  readonly off: AbortSignal;
  answer(o: Outcome<WaterView> | null): Promise<void>;
}

/** A bench whose questions are answered by the test, and whose clock it turns. */
function bench() {
  const b = board();
  const asked: Asked[] = [];
  const clock: (() => void)[] = [];
  const w = new WaterPlan(
    b,
    () => {},
    async () => ({ ok: true, value: options }),
    (url, off) =>
      new Promise((done) => {
        off.addEventListener("abort", () => done(null));
        asked.push({
          url,
          off,
          answer: async (o) => {
            done(o);
            await turn();
          },
        });
      }),
    (fn) => clock.push(fn),
  );
  const tick = async (): Promise<void> => {
    for (const fn of clock.splice(0)) fn();
    await turn();
  };
  /** A step made on the board and, unless it stays unsent, stored. */
  const step = async (stored = true): Promise<void> => {
    b.saved = { state: "saving", count: 1 };
    w.look();
    if (!stored) return turn();
    b.rev++;
    b.store();
    await turn();
  };
  return { b, w, asked, tick, step };
}

const turn = (): Promise<void> => new Promise((r) => setTimeout(r, 0));
const ok = (rev: number, says?: string): Outcome<WaterView> => ({ ok: true, value: view(rev, says) });

test("it is worked out when the bench opens, and told once", async () => {
  const { b, w, asked } = bench();
  w.open();
  await turn();
  assert.deepEqual(
    asked.map((a) => a.url),
    ["/api/plans/x/water?rev=4"],
  );
  await asked[0]?.answer(ok(4));
  assert.equal(w.view?.says, "It fits.");
  assert.equal(w.month, 1, "the peak shows first");
  assert.deepEqual(b.said, ["It fits."]);
  assert.equal(w.options, options);
});

test("nothing is asked while the bench is closed", async () => {
  const { w, asked, tick, step } = bench();
  await step();
  await tick();
  assert.equal(asked.length, 0);
  w.open();
  await turn();
  w.leave();
  assert.equal(asked[0]?.off.aborted, true);
  await step();
  await tick();
  assert.equal(asked.length, 1);
});

test("a change is worked out once it is stored and stands still, and the old answer shows till then", async () => {
  const { w, asked, tick, step } = bench();
  w.open();
  await turn();
  await asked[0]?.answer(ok(4));
  await step(false);
  await tick();
  assert.equal(asked.length, 1, "not before it is stored");
  assert.equal(w.stale, true);
  assert.equal(w.view?.rev, 4);
  await step();
  await step();
  await tick();
  assert.deepEqual(
    asked.map((a) => a.url.split("rev=")[1]),
    ["4", "6"],
    "two steps soon after one another are one question",
  );
  await asked[1]?.answer(ok(6, "It does not fit."));
  assert.equal(w.stale, false);
  await tick();
  assert.equal(asked.length, 2, "and then it rests");
});

test("what is being worked out for a plan that has changed is called off and asked anew", async () => {
  const { w, asked, tick, step } = bench();
  w.open();
  await turn();
  await step(false);
  assert.equal(asked[0]?.off.aborted, true);
  assert.equal(w.trouble, "", "that is no trouble");
  await step();
  await tick();
  assert.equal(asked.length, 2);
  await asked[1]?.answer(ok(5));
  assert.equal(w.view?.rev, 5);
});

test("stopped, it stays so until it is asked for or the plan changes", async () => {
  const { w, asked, tick, step } = bench();
  w.open();
  await turn();
  w.search.stop();
  await turn();
  assert.match(w.trouble, /stopped/);
  assert.equal(w.stopped, true);
  await tick();
  assert.equal(asked.length, 1);
  void w.workOut();
  await turn();
  assert.equal(asked.length, 2);
  w.search.stop();
  await turn();
  await step();
  await tick();
  assert.equal(asked.length, 3);
});

test("why it cannot be worked out is told, and the last answer stays", async () => {
  const { w, asked, tick, step } = bench();
  w.open();
  await turn();
  await asked[0]?.answer(ok(4));
  await step();
  await tick();
  await asked[1]?.answer({ ok: false, status: 503, error: "Too much at once.", problems: [] });
  assert.equal(w.trouble, "Too much at once.");
  assert.equal(w.view?.rev, 4);
  assert.equal(w.stale, true);
});

test("opened again on the same plan it shows what it had", async () => {
  const { w, asked, tick } = bench();
  w.open();
  await turn();
  await asked[0]?.answer(ok(4));
  w.leave();
  w.open();
  await tick();
  assert.equal(asked.length, 1);
  assert.equal(w.view?.rev, 4);
});

test("a month once chosen stays; the peak goes with the answer", async () => {
  const { w, asked, tick, step } = bench();
  w.open();
  await turn();
  await asked[0]?.answer(ok(4));
  w.choose(0);
  assert.equal(w.month, 0);
  await step();
  await tick();
  await asked[1]?.answer(ok(5));
  assert.equal(w.month, 0);
  w.choose(1);
  await step();
  await tick();
  await asked[2]?.answer({ ok: true, value: { ...view(6), peak: 0 } });
  assert.equal(w.month, 0, "the peak was chosen, wherever it is");
  await step();
  await tick();
  w.choose(1);
  await asked[3]?.answer({ ok: true, value: { ...view(7), months: null, peak: 0 } });
  assert.equal(w.month, 0, "no such month");
});

test("what would help is taken as one step, and only of the plan it was found for", async () => {
  const { b, w, asked } = bench();
  w.open();
  await turn();
  await asked[0]?.answer(ok(4));
  const ease = {
    says: "A third day fits.",
    fits: true,
    label: "Allow Wednesday, too",
    patch: { watering: { days: ["mon", "wed", "fri"] } },
  };
  assert.equal(await w.ease({ ...ease, patch: undefined }), false);
  assert.equal(await w.ease(ease), true);
  assert.deepEqual(
    b.steps.map((s) => s.label),
    ["Allow Wednesday, too"],
  );
  assert.deepEqual(b.committed.watering?.days, ["mon", "wed", "fri"]);
  assert.equal(await w.ease(ease), false, "the plan has changed since");
  assert.equal(b.steps.length, 1);
});

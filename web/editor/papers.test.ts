import assert from "node:assert/strict";
import { test } from "node:test";
import type { Outcome } from "./api";
import { LongWork, type Told } from "./longwork";
import { type Choice, chosenIn, type PackView, Papers, packURL, pageURL, question } from "./papers";

const usual: Choice = { pack: "crew", paper: "letter", scale: 0, date: "2026-05-01" };
const can = { papers: ["letter", "a4"], scales: [0, 120, 240] };

test("what an address of the page asks for is taken as far as it can be", () => {
  assert.deepEqual(chosenIn("", usual, can), usual);
  assert.deepEqual(chosenIn("?pack=owner&paper=a4&scale=240&date=2025-12-31", usual, can), {
    pack: "owner",
    paper: "a4",
    scale: 240,
    date: "2025-12-31",
  });
  assert.deepEqual(chosenIn("?pack=cook&paper=napkin&scale=7&date=soon", usual, can), usual);
});

test("addresses of files and pages hold the whole question, and the revision", () => {
  assert.equal(question(usual), "paper=letter&scale=0&date=2026-05-01");
  assert.equal(question({ ...usual, date: "" }), "paper=letter&scale=0");
  assert.equal(
    packURL("p1", usual, 4),
    "/plans/p1/packs/crew.pdf?paper=letter&scale=0&date=2026-05-01&rev=4",
  );
  assert.equal(
    pageURL("a b", { ...usual, pack: "office" }, 4, 3, "svg"),
    "/plans/a%20b/packs/office/pages/3.svg?paper=letter&scale=0&date=2026-05-01&rev=4",
  );
});

const sheet = (code: string, first: number, pages: number) => ({
  code,
  title: code,
  holds: "",
  first,
  pages,
});
const pack = (rev: number, pages: number): PackView => ({
  rev,
  pack: "crew",
  title: "Crew pack",
  file: "yard-crew.pdf",
  says: "",
  notes: [],
  sheets: [sheet("C1", 1, 1), sheet("C2", 2, pages - 1)],
  pages: Array.from({ length: pages }, () => ({ name: "", wide_pt: 612, high_pt: 792 })),
  fits: [],
});

/** Papers whose questions are answered by hand. */
function papers() {
  const asked: {
    url: string;
    off: AbortSignal;
    tell: (t: Told) => void;
    answer: (a: Outcome<PackView> | null) => void;
  }[] = [];
  let changes = 0;
  const p = new Papers(
    "p1",
    3,
    usual,
    new LongWork(() => 0),
    (url, off, tell) =>
      new Promise((answer) => {
        asked.push({ url, off, tell, answer });
        off.addEventListener("abort", () => answer(null));
      }),
    () => changes++,
  );
  return { p, asked, changes: () => changes };
}

test("papers are made, tell how far they are, and show a page of a sheet", async () => {
  const { p, asked, changes } = papers();
  const done = p.make();
  assert.deepEqual([p.underway, p.made, changes()], [true, null, 1]);
  assert.equal(asked[0]?.url, "/api/plans/p1/packs/crew?paper=letter&scale=0&date=2026-05-01");
  asked[0]?.tell({ step: "Stake-out", share: 0.5 });
  assert.deepEqual([p.told.step, changes()], ["Stake-out", 2]);
  asked[0]?.answer({ ok: true, value: pack(3, 4) });
  assert.equal(await done, true);
  assert.deepEqual([p.underway, p.page, p.sheet?.code, p.stale], [false, 1, "C1", false]);
  p.turnTo(3);
  assert.deepEqual([p.page, p.sheet?.code], [3, "C2"]);
  p.turnTo(99);
  assert.equal(p.page, 4);
  p.turnTo(-1);
  assert.equal(p.page, 1);
});

test("a making that is called off, or fails, leaves nothing and says why", async () => {
  const { p, asked } = papers();
  const off = p.make();
  p.stop();
  assert.equal(await off, false);
  assert.deepEqual([p.made, p.why], [null, "Making the papers was called off."]);
  const failed = p.make();
  assert.equal(p.why, "");
  asked[1]?.answer({ ok: false, status: 400, error: "No paper is named so.", problems: [] });
  assert.equal(await failed, false);
  assert.deepEqual([p.made, p.why], [null, "No paper is named so."]);
});

test("another choice takes the place of the one being made", async () => {
  const { p, asked } = papers();
  const first = p.make();
  const second = p.choose({ paper: "a4" });
  assert.equal(asked[0]?.off.aborted, true);
  asked[1]?.answer({ ok: true, value: pack(3, 4) });
  assert.deepEqual(await Promise.all([first, second]), [false, true]);
  assert.equal(p.choice.paper, "a4");
  p.turnTo(4);
  const again = p.choose({ scale: 240 });
  assert.equal(p.made, null, "what was made is of another choice");
  asked[2]?.answer({ ok: true, value: pack(3, 3) });
  await again;
  assert.equal(p.page, 3, "the page stays as near as there is one");
  const owner = p.choose({ pack: "owner" });
  asked[3]?.answer({ ok: true, value: pack(3, 3) });
  await owner;
  assert.equal(p.page, 1, "another pack begins at its cover");
});

test("on other paper the sheet that was shown stays, wherever its pages are by then", async () => {
  const { p, asked } = papers();
  const first = p.make();
  asked[0]?.answer({ ok: true, value: { ...pack(3, 9), sheets: [sheet("C1", 1, 6), sheet("C2", 7, 3)] } });
  await first;
  p.turnTo(8);
  const large = p.choose({ paper: "a4" });
  asked[1]?.answer({ ok: true, value: pack(3, 5) });
  await large;
  assert.deepEqual([p.page, p.sheet?.code], [3, "C2"]);
  p.turnTo(1);
  const small = p.choose({ paper: "letter" });
  p.stop();
  await small;
  const again = p.make();
  asked[3]?.answer({ ok: true, value: pack(3, 9) });
  await again;
  assert.deepEqual([p.page, p.sheet?.code], [1, "C1"]);
});

test("a change of the plan makes the papers old until they are made anew", async () => {
  const { p, asked, changes } = papers();
  const made = p.make();
  p.pushed(4);
  asked[0]?.answer({ ok: true, value: pack(4, 2) });
  await made;
  assert.equal(p.stale, false);
  const before = changes();
  p.pushed(4);
  assert.equal(changes(), before, "the same revision is no news");
  p.pushed(5);
  assert.deepEqual([p.stale, p.made?.rev, changes()], [true, 4, before + 1]);
  const anew = p.make();
  asked[1]?.answer({ ok: true, value: pack(5, 2) });
  await anew;
  assert.equal(p.stale, false);
});

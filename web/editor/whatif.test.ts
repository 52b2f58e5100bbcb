import assert from "node:assert/strict";
import test from "node:test";
import type { Outcome } from "./api";
import type { Design } from "./design";
import { LongWork } from "./longwork";
import { type Answer, bytes, WhatIf } from "./whatif";

interface Asked {
  kind: string;
  rev: number;
  off: AbortSignal;
  answer(v: Outcome<Answer> | null): Promise<void>;
}

const answerOf = (kind: Answer["kind"], rev: number): Answer => ({
  kind,
  rev,
  says: `${kind} says`,
  frame: { x_ft: 0, y_ft: 0, cell_ft: 1, nx: 2, ny: 1 },
  readings: { evenness: { text: `${rev} %` }, driest: { text: "there" }, rate: { text: "1 in/h" } },
  gaps: [],
  cells: "AQI=",
});

function page() {
  const board = {
    rev: 1,
    away: false,
    drafting: false,
    earlier: null as unknown,
    saved: { state: "yes" },
    design: { gaps: [{ area: "a1" }] } as unknown as Design,
    longWork: new LongWork(() => 0),
  };
  const asked: Asked[] = [];
  const said: string[] = [];
  const told: string[] = [];
  const lives: string[] = [];
  const whatIf: WhatIf = new WhatIf(board, {
    ask: (kind, rev, off) =>
      new Promise((r) =>
        asked.push({
          kind,
          rev,
          off,
          answer: async (v) => {
            r(v);
            for (let i = 0; i < 10; i++) await Promise.resolve();
          },
        }),
      ),
    live: (as) => lives.push(as),
    changed: () =>
      told.push(`${whatIf.title}/${whatIf.shown?.kind ?? "drawn"} ${whatIf.shown?.rev ?? ""}`.trim()),
    say: (s) => said.push(s),
  });
  return { board, whatIf, asked, said, told, lives };
}

/** Read anew each time: the compiler would hold what was asserted before. */
const shown = (w: WhatIf): WhatIf["shown"] => w.shown;
const last = <T>(list: readonly T[]): T => list.at(-1) as T;

test("the switch shows the drawing until the other map is there, and then all of it at once", async () => {
  const { whatIf, asked, told } = page();
  assert.equal(whatIf.title, "As drawn");
  whatIf.show("windy");
  assert.equal(shown(whatIf), null);
  assert.equal(whatIf.title, "As drawn; “On a windy day” follows");
  await last(asked).answer({ ok: true, value: answerOf("windy", 1) });
  assert.equal(shown(whatIf)?.kind, "windy");
  assert.deepEqual([...(shown(whatIf)?.cells ?? [])], [1, 2]);
  assert.equal(whatIf.title, "On a windy day");
  assert.equal(whatIf.says, "windy says");
  whatIf.show("drawn");
  assert.equal(shown(whatIf), null);
  assert.match(whatIf.says, /Calm air, ideal nozzles/);
  whatIf.show("windy"); // known already: nothing is asked
  assert.equal(shown(whatIf)?.kind, "windy");
  assert.equal(asked.length, 1);
  assert.deepEqual(told, [
    "As drawn; “On a windy day” follows/drawn",
    "On a windy day/windy 1",
    "As drawn/drawn",
    "On a windy day/windy 1",
  ]);
});

test("while something is dragged the drawing shows; at rest the other map is worked out anew", async () => {
  const { board, whatIf, asked } = page();
  whatIf.show("field");
  await last(asked).answer({ ok: true, value: answerOf("field", 1) });
  board.drafting = true;
  whatIf.look();
  assert.equal(shown(whatIf), null);
  assert.equal(whatIf.title, "As drawn; “In the field” follows");
  board.drafting = false; // let go where it was: what was known holds
  whatIf.look();
  assert.equal(shown(whatIf)?.rev, 1);
  board.saved.state = "saving";
  whatIf.look();
  assert.equal(shown(whatIf), null);
  board.rev = 2;
  board.saved.state = "yes";
  whatIf.look();
  assert.equal(shown(whatIf), null, "the map of revision 1 is not shown under revision 2");
  assert.equal(asked.length, 2);
  assert.equal(last(asked).rev, 2);
  await last(asked).answer({ ok: true, value: answerOf("field", 2) });
  assert.equal(shown(whatIf)?.rev, 2);
});

test("row A25: an answer that the plan has moved on from is dropped, its request ended", async () => {
  const { board, whatIf, asked, said } = page();
  whatIf.show("windy");
  const [old] = asked;
  board.rev = 2;
  whatIf.look();
  assert.ok(old?.off.aborted);
  assert.equal(asked.length, 2);
  await old?.answer({ ok: true, value: answerOf("windy", 1) });
  assert.equal(shown(whatIf), null);
  await last(asked).answer({ ok: true, value: answerOf("windy", 2) });
  assert.equal(shown(whatIf)?.rev, 2);
  assert.deepEqual(said, []);
});

test("row A25: called off, switch and map go back to the drawing together, and it is said", async () => {
  const { board, whatIf, asked, said } = page();
  whatIf.show("field");
  board.longWork.stop();
  await last(asked).answer(null);
  assert.ok(last(asked).off.aborted);
  assert.equal(whatIf.kind, "drawn");
  assert.equal(shown(whatIf), null);
  assert.deepEqual(said, ["In the field: called off. The map shows the plan as drawn."]);
});

test("choosing another while one is worked out ends the first", async () => {
  const { whatIf, asked, said } = page();
  whatIf.show("field");
  whatIf.show("windy");
  assert.ok(asked[0]?.off.aborted);
  assert.equal(last(asked).kind, "windy");
  whatIf.show("drawn");
  assert.ok(asked[1]?.off.aborted);
  await asked[0]?.answer({ ok: true, value: answerOf("field", 1) });
  await asked[1]?.answer({ ok: true, value: answerOf("windy", 1) });
  assert.equal(shown(whatIf), null);
  assert.deepEqual(said, []);
});

test("row A17: away nothing is asked and nothing shown; back, it is asked for again", async () => {
  const { board, whatIf, asked } = page();
  whatIf.show("windy");
  await last(asked).answer({ ok: false, status: 0, error: "no answer", problems: [] });
  assert.equal(whatIf.kind, "windy");
  board.away = true;
  whatIf.look();
  assert.equal(asked.length, 1);
  board.away = false;
  whatIf.look();
  assert.equal(asked.length, 2);
  await last(asked).answer({ ok: true, value: answerOf("windy", 1) });
  assert.equal(shown(whatIf)?.kind, "windy");
  board.away = true;
  whatIf.look();
  assert.equal(shown(whatIf), null);
});

test("a failure is said and leaves the drawing on show", async () => {
  const { whatIf, asked, said } = page();
  whatIf.show("windy");
  await last(asked).answer({ ok: false, status: 500, error: "Evenfall met a fault.", problems: [] });
  assert.equal(whatIf.kind, "drawn");
  assert.deepEqual(said, ["Evenfall met a fault."]);
});

test("the dry places drawn are those of the map on show", async () => {
  const { board, whatIf, asked } = page();
  assert.equal(whatIf.pictured(board.design), board.design);
  whatIf.show("windy");
  await last(asked).answer({ ok: true, value: answerOf("windy", 1) });
  const pictured = whatIf.pictured(board.design);
  assert.deepEqual(pictured?.gaps, []);
  assert.equal(
    whatIf.pictured(board.design),
    pictured,
    "the same picture is the same thing, so that nothing is drawn twice",
  );
});

test("row A17: while the server is away no dry places are drawn", () => {
  const { board, whatIf } = page();
  board.away = true;
  assert.deepEqual(whatIf.pictured(board.design)?.gaps, []);
});

test("the running zones are live: nothing is asked, and the title follows the frames", () => {
  const { board, whatIf, asked, lives } = page();
  whatIf.show("running");
  assert.deepEqual(lives, ["running"]);
  assert.equal(whatIf.title, "As drawn; “Running” follows");
  assert.equal(whatIf.as, "");
  board.design = { gaps: [], as: "running", says: "At real pressures." } as unknown as Design;
  whatIf.look();
  assert.equal(whatIf.title, "Running");
  assert.equal(whatIf.says, "At real pressures.");
  assert.equal(whatIf.as, "running");
  board.drafting = true; // a drag changes nothing of that
  whatIf.look();
  assert.equal(whatIf.title, "Running");
  whatIf.show("drawn");
  assert.deepEqual(lives, ["running", ""]);
  assert.equal(whatIf.title, "Running; “As drawn” follows");
  board.design = { gaps: [] } as unknown as Design;
  whatIf.look();
  assert.equal(whatIf.title, "As drawn");
  assert.equal(asked.length, 0);
});

test("bytes come out of base64 as they are", () => {
  assert.deepEqual([...bytes("AAH/gA==")], [0, 1, 255, 128]);
  assert.equal(bytes("").length, 0);
});

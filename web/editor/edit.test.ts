import assert from "node:assert/strict";
import { test } from "node:test";
import type { Design } from "./design";
import {
  addCorner,
  addHole,
  copyThings,
  deleteThings,
  dropHole,
  moveThings,
  pasteThings,
  removeCorner,
  setLocked,
} from "./edit";
import { gripsOf } from "./grips";
import { diff, type Plan, type Ref } from "./model";
import { movedGrip } from "./nudge";
import { speechOf } from "./scene/speech";
import { outlinePath, patternPath } from "./scene/svg";
import { areaOf } from "./shape";
import { Board } from "./state";
import { empty, yard } from "./testplan";
import { areaAround, planBounds } from "./things";

test("edits leave the given plan as it was and change only what they say", () => {
  const p = yard();
  const before = JSON.stringify(p);
  const moved = moveThings(p, ["heads/h2"], [4, 3]);
  assert.equal(JSON.stringify(p), before);
  assert.deepEqual(diff(p, moved), { heads: { h2: { x_ft: 44, y_ft: 15 } } });
});

test("moving an area moves its holes and keeps its arcs", () => {
  const p: Plan = {
    ...empty(),
    areas: {
      a: {
        name: "",
        kind: "paving",
        outline: [
          [0, 0, 0.5],
          [9, 0],
          [9, 9],
        ],
        holes: [
          [
            [5, 1],
            [6, 1],
            [6, 2],
          ],
        ],
      },
    },
  };
  const a = moveThings(p, ["areas/a"], [1, 2]).areas?.a;
  assert.deepEqual(a?.outline, [
    [1, 2, 0.5],
    [10, 2],
    [10, 11],
  ]);
  assert.deepEqual(a?.holes, [
    [
      [6, 3],
      [7, 3],
      [7, 4],
    ],
  ]);
});

test("copies get ids and names of their own, and heads lose their tag", () => {
  const p = yard();
  const refs: Ref[] = ["areas/a1", "heads/h2"];
  const [next, made] = pasteThings(p, copyThings(p, refs), [100, 0]);
  assert.equal(made.length, 2);
  const area = next.areas?.[made[0]?.slice(6) ?? ""];
  const head = next.heads?.[made[1]?.slice(6) ?? ""];
  assert.equal(area?.name, "Lawn 2");
  assert.deepEqual(area?.outline[0], [100, 0]);
  assert.equal(head?.x_ft, 140);
  assert.equal(head?.tag, undefined);
  assert.equal(head?.zone, "z1");
});

test("a head pasted into another plan brings its rows and leaves its zone behind", () => {
  const [next, made] = pasteThings(empty(), copyThings(yard(), ["heads/h2"]), [0, 0]);
  const head = next.heads?.[made[0]?.slice(6) ?? ""];
  assert.equal(head?.zone, undefined);
  assert.equal(next.nozzles?.["stream-25"]?.name, "Stream 25");
});

test("deleting leaves what is locked, and no pipe joint pointing at a head that is gone", () => {
  const p: Plan = {
    ...setLocked(yard(), ["areas/a1"], true),
    nodes: {
      j1: { kind: "head", head: "h2", x_ft: 40, y_ft: 12 },
      j2: { kind: "joint", x_ft: 0, y_ft: 12 },
      j3: { kind: "joint", x_ft: 60, y_ft: 12 },
    },
    pipes: { p1: { from: "j2", to: "j1" }, p2: { from: "j1", to: "j3" } },
  };
  const next = deleteThings(p, ["areas/a1", "areas/a2", "heads/h2"]);
  assert.deepEqual(Object.keys(next.areas ?? {}), ["a1"]);
  assert.deepEqual(next.nodes?.j1, { kind: "joint", x_ft: 40, y_ft: 12 });
});

test("corners can be added and taken out down to three; an arc is split into two halves of itself", () => {
  const p: Plan = {
    ...empty(),
    areas: {
      a: {
        name: "",
        kind: "paving",
        outline: [
          [0, 0, 1],
          [10, 0],
          [10, 10],
          [0, 10],
        ],
      },
    },
  };
  const area = areaOf(p.areas?.a?.outline ?? []);
  const more = addCorner(p, "areas/a", 0, 0);
  assert.equal(more.areas?.a?.outline.length, 5);
  assert.ok(Math.abs(areaOf(more.areas?.a?.outline ?? []) - area) < 1e-9, "the shape is the same");
  const less = removeCorner(yard(), "areas/a2", 0, 1);
  assert.deepEqual(less?.areas?.a2?.outline, [
    [20, 20],
    [30, 28],
    [20, 28],
  ]);
  assert.equal(removeCorner(less as Plan, "areas/a2", 0, 0), null);
});

test("holes are added and closed", () => {
  const p = addHole(yard(), "a1", [
    [5, 5],
    [8, 5],
    [8, 8],
  ]);
  assert.equal(p.areas?.a1?.holes?.length, 1);
  assert.equal("holes" in (dropHole(p, "a1", 0).areas?.a1 ?? {}), false);
  assert.equal(areaAround(yard(), yard().areas?.a2?.outline ?? [], "areas/a2"), "areas/a1");
});

test("the bounds of a plan hold everything drawn", () => {
  assert.deepEqual(planBounds(yard()), { minX: 0, minY: 0, maxX: 60, maxY: 44 });
  assert.equal(planBounds(empty()), null);
});

const board = (doc: Plan): Board =>
  new Board({
    id: "p",
    rev: 1,
    doc,
    undo: "",
    redo: "",
    api: {
      load: async () => ({ ok: false, status: 404, error: "gone", problems: [] }),
      commit: async (_id, rev) => ({ ok: true, value: { rev: rev + 1, undo: "", redo: "" } }),
      undo: async () => ({ ok: false, status: 0, error: "", problems: [] }),
      redo: async () => ({ ok: false, status: 0, error: "", problems: [] }),
      create: async () => ({ ok: false, status: 0, error: "", problems: [] }),
    },
  });

test("rowA8: nudges in quick succession are one step", () => {
  const b = board(yard());
  for (let i = 0; i < 12; i++) {
    void b.commit("Move head 1-2", moveThings(b.committed, ["heads/h2"], [1 / 12, 0]), "nudge heads/h2");
  }
  assert.ok(Math.abs((b.committed.heads?.h2?.x_ft ?? 0) - 41) < 1e-9);
  assert.equal(b.saved.state === "saving" ? b.saved.count : 0, 1, "one step waits");
  b.flush();
});

test("arrows turn arc ends and lengthen throws", () => {
  const p = yard();
  const b = board(p);
  const grips = gripsOf(p, "heads/h1", null);
  const grip = (kind: string) => grips.find((g) => g.kind === kind) as never;
  assert.equal(movedGrip(p, grip("end"), [0, 1], false, { board: b }).heads?.h1?.sweep_deg, 95);
  assert.equal(movedGrip(p, grip("end"), [0, 1], true, { board: b }).heads?.h1?.sweep_deg, 105);
  assert.deepEqual(movedGrip(p, grip("start"), [1, 0], false, { board: b }).heads?.h1?.start_deg, 355);
  assert.equal(movedGrip(p, grip("throw"), [0, -1], false, { board: b }).heads?.h1?.throw_ft, 24);
  const edge = gripsOf(p, "areas/a2", null).find((g) => g.kind === "middle" && g.index === 0);
  assert.deepEqual(movedGrip(p, edge as never, [0, -1], true, { board: b }).areas?.a2?.outline.slice(0, 2), [
    [20, 19],
    [30, 19],
  ]);
});

test("rowA20: every thing has a name that says what and where it is", () => {
  const p = yard();
  const said = (r: Ref, d: Design | null = null) => speechOf(p, r, d);
  assert.equal(said("heads/h2"), `Head 1-2, stream, 25' 0", 360°, zone 1, at 40' 0", 12' 0"`);
  assert.equal(said("areas/a1"), "Lawn, planting, 2,400 ft²");
  assert.equal(said("barriers/b1"), `Fence 1, fence, 60' 0" long, 6' 0" high`);
  assert.equal(said("trees/t1"), `Oak, tree, trunk 12 in, root zone 8' 0", at 50' 0", 30' 0"`);
  const off = { heads: {}, off_target: [{ rank: "stop", heads: ["h2"] }] } as unknown as Design;
  assert.match(said("heads/h2", off), /waters off target$/);
});

test("path data keeps arcs as arcs and turns them the right way", () => {
  assert.equal(
    outlinePath(
      [
        [0, 0, 1],
        [10, 0],
      ],
      true,
    ),
    "M0 0A5 5 0 0 1 10 0L0 0Z",
  );
  assert.equal(
    outlinePath(
      [
        [0, 0, -1],
        [10, 0],
      ],
      false,
    ),
    "M0 0A5 5 0 0 0 10 0",
  );
  assert.equal(
    patternPath({ shape: "sector", startDeg: 0, sweepDeg: 90, throwFt: 10 }, [0, 0]),
    "M0 0L10 0A10 10 0 0 1 0 10Z",
  );
});

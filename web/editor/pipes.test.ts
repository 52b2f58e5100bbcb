import assert from "node:assert/strict";
import { test } from "node:test";
import { clipFor } from "./clipboard";
import {
  addCorner,
  copyThings,
  layThings,
  moveCorner,
  moveEdge,
  moveThings,
  pasteThings,
  removeCorner,
} from "./edit";
import { dragGrip, gripsOf } from "./grips";
import { type Head, type Pipe, type PipeNode, type Plan, put, type Ref } from "./model";
import { laid, mirrorIn } from "./motions";
import { nameOf } from "./names";
import { networkAt, pipesAt } from "./pipenet";
import { withPipesFollowing, withPipesJoined } from "./pipewhole";
import { speechOf } from "./scene/speech";
import { long, nodeOfKind, nodes, piped, pipes, pipeTo, watered, whole } from "./testpipes";
import { catalog, Hand, kit, yard } from "./testplan";
import { allThings, boxed, thingAt } from "./things";

test("row A1: one line from the connection to the heads is pipes from thing to thing, the main up to the valve and the zone's after it", () => {
  const p = whole(piped());
  assert.equal(pipes(p).length, 4);
  assert.deepEqual(
    nodes(p)
      .map((n) => n.kind)
      .sort(),
    ["backflow", "connection", "head", "head", "valve"],
  );
  const water = (kind: string, more: Partial<PipeNode> = {}) =>
    p.pipes?.[pipeTo(p, nodeOfKind(p, kind, more))]?.zone;
  assert.equal(water("backflow"), undefined);
  assert.equal(water("valve", { zone: "z1" }), undefined);
  assert.equal(water("head", { head: "h1" }), "z1");
  assert.equal(water("head", { head: "h2" }), "z1");
  assert.deepEqual(p.pipes?.[pipeTo(p, nodeOfKind(p, "head", { head: "h2" }))]?.via, [[10, 6]]);
});

test("row A1: drawn from the heads back, between a valve and nothing, and by choice, a pipe carries the right water", () => {
  const from = (
    points: readonly (readonly [number, number])[],
    p: Plan,
    wish = {},
  ): (string | undefined)[] => {
    const hand = new Hand("pipe", p);
    hand.kit = { ...kit, ...wish };
    for (const at of points) hand.click(at);
    hand.do("finish");
    return pipes(hand.plan)
      .filter((q) => !pipes(p).includes(q))
      .map((q) => q.zone);
  };
  assert.deepEqual(
    from(
      [
        [1, 1],
        [-2, 5],
        [-10, 5],
      ],
      watered(),
    ).sort(),
    ["z1", undefined],
  );
  assert.deepEqual(
    from(
      [
        [-2, 5],
        [-2, 20],
      ],
      watered(),
    ),
    ["z1"],
  );
  assert.deepEqual(
    from(
      [
        [-2, 5],
        [-2, 20],
      ],
      piped(),
    ),
    ["z1"],
  );
  assert.deepEqual(
    from(
      [
        [-10, 5],
        [-10, 20],
      ],
      watered(),
    ),
    [undefined],
  );
  assert.deepEqual(
    from(
      [
        [5, 30],
        [5, 35],
      ],
      watered(),
      { pipeFor: "z1" },
    ),
    ["z1"],
  );
  assert.deepEqual(
    from(
      [
        [1, 1],
        [5, 35],
      ],
      watered(),
      { pipeFor: "main" },
    ),
    [undefined],
  );
});

test("row A1: a branch begun anywhere on a pipe parts it there; both parts stay what it was", () => {
  const before = piped();
  const on = pipeTo(before, nodeOfKind(before, "head", { head: "h2" }));
  const sized = put(before, "pipes", on, {
    ...(before.pipes?.[on] as Pipe),
    nominal_in: 0.75,
    class: "x",
    status: "existing",
  });
  const hand = new Hand("pipe", sized);
  hand.click([25, 9]).click([25, 14]);
  hand.do("finish");
  const p = whole(hand.plan);
  assert.equal(pipes(p).length, 6);
  const tee = nodeOfKind(p, "joint", { x_ft: 25, y_ft: 9 });
  assert.equal(pipesAt(p, tee).length, 3);
  const parts = pipes(p).filter((q) => q.nominal_in === 0.75);
  assert.equal(parts.length, 2);
  for (const q of parts) assert.deepEqual([q.class, q.zone, q.status], ["x", "z1", "existing"]);
  assert.ok(Math.abs(long(p) - long(before) - 5) < 1e-9, "no foot is lost or gained but the branch's own");
  const branch = pipes(p).find((q) => q.from === tee && q.nominal_in === undefined);
  assert.equal(branch?.zone, "z1");
});

test("row A1: near a head, valve or pipe the pipe tool means that, before corners of areas; Alt means none", () => {
  const p = put(watered(), "heads", "h3", { ...(watered().heads?.h1 as Head), x_ft: 0.3, y_ft: 0.3 });
  const hand = new Hand("pipe", p);
  hand.click([-2, 5]).click([0.1, 0.1]);
  hand.do("finish");
  assert.equal(nodes(hand.plan).filter((n) => n.head === "h3").length, 1);
  const other = new Hand("barrier", p);
  assert.deepEqual(other.aim([0.1, 0.1]).at, [0, 0], "other tools still mean the corner");
});

test("row A1: what was drawn is one step, taken back corner by corner, and refused in words where it cannot be", () => {
  const hand = new Hand("pipe", watered());
  hand.click([-10, 5]).click([-2, 5]).click([1, 1]);
  assert.ok(hand.do("back"));
  hand.do("finish");
  assert.equal(pipes(hand.plan).length, 1);
  assert.equal(hand.steps[0]?.label, "Draw a pipe");
  const again = new Hand("pipe", watered());
  again.place([-10, 5]);
  assert.match(again.said.at(-1) ?? "", /^Corner 1 at .*: the point of connection\.$/);
  again.type({ length: 8, angle: 0 });
  assert.match(again.said.at(-1) ?? "", /valve of zone 1/);
  again.click([-10, 20]).click([-10, 5], 1);
  again.do("finish");
  whole(again.plan);
  const loop = new Hand("pipe", watered());
  loop.click([-10, 5]).click([-10, 20]).click([-15, 20]).click([-10, 5]);
  assert.ok(loop.do("finish"));
  assert.equal(loop.steps.length, 0);
  assert.match(loop.said.at(-1) ?? "", /end where it begins/);
});

test("row A1: a corner of a pipe is moved, added and taken out; its end at a head comes off for this pipe alone, a joint goes with all", () => {
  const p = piped();
  const id = pipeTo(p, nodeOfKind(p, "head", { head: "h2" }));
  const r: Ref = `pipes/${id}`;
  assert.deepEqual(moveCorner(p, r, 0, 1, [12, 8]).pipes?.[id]?.via, [[12, 8]]);
  assert.equal(addCorner(p, r, 0, 0).pipes?.[id]?.via?.length, 2);
  assert.equal(removeCorner(p, r, 0, 1)?.pipes?.[id]?.via, undefined);
  assert.equal(removeCorner(p, r, 0, 0), null, "its ends are no corners to take out");
  const off = whole(moveCorner(p, r, 0, 2, [40, 20]));
  assert.deepEqual([off.heads?.h2?.x_ft, off.heads?.h2?.y_ft], [40, 12], "the head stays");
  assert.equal(
    nodes(off).some((n) => n.head === "h2"),
    false,
  );
  const back = whole(withPipesJoined(off, withPipesFollowing(off, moveCorner(off, r, 0, 2, [40, 12]))));
  assert.equal(
    nodes(back).filter((n) => n.head === "h2").length,
    1,
    "let go on the head, it is joined again",
  );
  const edge = moveEdge(p, r, 0, 1, [0, 3]);
  assert.deepEqual(edge.pipes?.[id]?.via, [[10, 9]]);
  assert.equal(edge.heads?.h2?.y_ft, 12, "moving a stretch leaves its head");
  const mid = gripsOf(p, r, null).find((g) => g.kind === "middle" && g.index === 0);
  assert.ok(mid);
  const bent = dragGrip(p, mid, { to: [4, 9], exact: true, coarse: false, free: true }, null);
  assert.deepEqual(
    bent.pipes?.[id]?.via,
    [
      [4, 9],
      [10, 6],
    ],
    "with Alt, too: pipes do not bow",
  );
});

test("row A10: pipes copied with their heads are joined among the copies; without, and in another plan, they end in joints", () => {
  const p = piped();
  const refs = [
    ...Object.keys(p.pipes ?? {}).map((id): Ref => `pipes/${id}`),
    "heads/h1",
    "heads/h2",
  ] as Ref[];
  const [next, made] = pasteThings(p, copyThings(p, refs), [100, 0]);
  whole(next);
  assert.equal(pipes(next).length, 8);
  assert.ok(
    made.every((r) => !r.startsWith("nodes/")),
    "joints come along unselected",
  );
  const heads = Object.keys(next.heads ?? {}).filter((id) => !p.heads?.[id]);
  assert.equal(heads.length, 2);
  for (const id of heads) assert.equal(nodes(next).filter((n) => n.head === id).length, 1);
  assert.equal(
    nodes(next).filter((n) => n.kind === "valve" || n.kind === "connection").length,
    2,
    "of these there is one",
  );
  const [bare] = pasteThings(p, copyThings(p, refs.slice(0, 4)), [100, 0]);
  assert.equal(nodes(whole(bare)).filter((n) => n.kind === "head").length, 2);
  const other = { ...yard(), zones: {}, heads: {} };
  const [there] = pasteThings(other, clipFor(other, copyThings(p, refs)), [0, 0]);
  whole(there);
  assert.ok(pipes(there).length === 4 && pipes(there).every((q) => q.zone === undefined));
  assert.deepEqual(copyThings(p, [`nodes/${nodeOfKind(p, "valve")}`]).things, []);
});

test("row A10: mirrored with their heads, pipes go along; a pipe alone keeps hold of the heads that stay", () => {
  const p = piped();
  const m = mirrorIn([0, 0], 90);
  const refs = allThings(p).filter((r) =>
    ["pipes", "heads", "valves", "supply"].includes(r.split("/")[0] ?? ""),
  );
  const turned = whole(layThings(p, refs, (c, t) => laid(c, t, m)));
  assert.ok(Math.abs(long(turned) - long(p)) < 1e-9);
  assert.ok(Math.abs((turned.nodes?.[nodeOfKind(turned, "head", { head: "h2" })]?.x_ft ?? 0) + 40) < 1e-9);
  const id = pipeTo(p, nodeOfKind(p, "head", { head: "h2" }));
  const alone = whole(moveThings(p, [`pipes/${id}`], [0, 2]));
  assert.deepEqual(alone.pipes?.[id]?.via, [[10, 8]]);
  assert.equal(alone.heads?.h2?.y_ft, 12);
});

test("row A1: where pipes join a head the head is meant, by click and by box; between, the pipe", () => {
  const p = piped();
  assert.equal(thingAt(p, [40, 12], 0.8), "heads/h2");
  assert.equal(thingAt(p, [-4, 5.2], 0.8)?.split("/")[0], "pipes");
  assert.equal(networkAt(p, [-4, 5])?.is, "pipe");
  const taken = boxed(p, [-20, -5], [70, 50]);
  assert.equal(taken.filter((r) => r.startsWith("nodes/")).length, 0);
  assert.equal(taken.filter((r) => r.startsWith("pipes/")).length, 4);
});

test("row A20: a pipe says its zone, what it joins, size, length, status and lock", () => {
  const p = piped();
  const id = pipeTo(p, nodeOfKind(p, "head", { head: "h1" }));
  const q = put(p, "pipes", id, {
    ...(p.pipes?.[id] as Pipe),
    nominal_in: 1.25,
    status: "existing",
    locked: true,
  });
  assert.equal(nameOf(q, `pipes/${id}`), "pipe of zone 1 to head 1-1");
  assert.equal(
    speechOf(q, `pipes/${id}`, null),
    `Pipe of zone 1 to head 1-1, 1-1/4 in, 5' 0" long, from valve of zone 1 to head 1-1, existing, locked`,
  );
  assert.ok(catalog.nozzles.length > 0);
});

import assert from "node:assert/strict";
import { test } from "node:test";
import { clipFor } from "./clipboard";
import {
  addCorner,
  copyThings,
  deleteThings,
  layThings,
  moveCorner,
  moveEdge,
  moveThings,
  pasteThings,
  placeThing,
  removeCorner,
  setLocked,
} from "./edit";
import { dragGrip, gripsOf } from "./grips";
import { type Head, type Pipe, type PipeNode, type Plan, put, type Ref } from "./model";
import { laid, mirrorIn } from "./motions";
import { nameOf } from "./names";
import { pipeSizeText } from "./pipenames";
import { networkAt, pipesAt, standsApart } from "./pipenet";
import { withoutNodes } from "./pipesgone";
import { withPipesFollowing, withPipesJoined } from "./pipewhole";
import { speechOf } from "./scene/speech";
import { lengthOf } from "./shape";
import { catalog, Hand, kit, yard } from "./testplan";
import { allThings, boxed, pipeLine, thingAt } from "./things";
import { removeZone } from "./zoning";

/** The yard with a connection in the west, a valve beside it, and the two heads of zone 1. */
function watered(): Plan {
  let p = yard();
  p = put(p, "supply", "connection", { x_ft: -10, y_ft: 5 });
  p = put(p, "supply", "backflow_at", { x_ft: -6, y_ft: 5 });
  return put(p, "valves", "z1", { x_ft: -2, y_ft: 5 });
}

/** Drawn in one line from the connection through backflow device and valve to both heads. */
function piped(): Plan {
  const hand = new Hand("pipe", watered());
  hand.click([-10, 5]).click([-6, 5]).click([-2, 5]).click([1, 1]).click([10, 6]).click([40, 12]);
  hand.do("finish");
  assert.equal(hand.steps.length, 1, hand.said.join(" "));
  return hand.plan;
}

const pipes = (p: Plan): Pipe[] => Object.values(p.pipes ?? {});
const nodes = (p: Plan): PipeNode[] => Object.values(p.nodes ?? {});
const nodeOfKind = (p: Plan, kind: string, more: Partial<PipeNode> = {}): string => {
  const found = Object.entries(p.nodes ?? {}).filter(
    ([, n]) => n.kind === kind && Object.entries(more).every(([k, v]) => n[k as keyof PipeNode] === v),
  );
  assert.equal(found.length, 1, `${kind}: ${JSON.stringify(p.nodes)}`);
  return found[0]?.[0] ?? "";
};
const pipeTo = (p: Plan, node: string): string => {
  const id = Object.keys(p.pipes ?? {}).find((k) => p.pipes?.[k]?.to === node);
  assert.ok(id);
  return id;
};
const long = (p: Plan): number => pipes(p).reduce((sum, q) => sum + lengthOf(pipeLine(p, q)), 0);
/** What every plan here must hold: no pipe without its nodes, no node at nothing. */
function whole(p: Plan): Plan {
  for (const [id, q] of Object.entries(p.pipes ?? {})) {
    assert.ok(p.nodes?.[q.from] && p.nodes?.[q.to], `${id} has both ends`);
    assert.notEqual(q.from, q.to);
  }
  for (const [id, n] of Object.entries(p.nodes ?? {})) {
    assert.ok(pipesAt(p, id).length > 0, `${id} joins something`);
    if (n.kind === "head") assert.ok(p.heads?.[n.head ?? ""], `${id} has its head`);
  }
  return p;
}

test("row A10: one line from the connection to the heads is pipes from thing to thing, the main up to the valve and the zone's after it", () => {
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

test("row A10: drawn from the heads back, between a valve and nothing, and by choice, a pipe carries the right water", () => {
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

test("row A10: a branch begun anywhere on a pipe parts it there; both parts stay what it was", () => {
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

test("row A10: near a head, valve or pipe the pipe tool means that, before corners of areas; Alt means none", () => {
  const p = put(watered(), "heads", "h3", { ...(watered().heads?.h1 as Head), x_ft: 0.3, y_ft: 0.3 });
  const hand = new Hand("pipe", p);
  hand.click([-2, 5]).click([0.1, 0.1]);
  hand.do("finish");
  assert.equal(nodes(hand.plan).filter((n) => n.head === "h3").length, 1);
  const other = new Hand("barrier", p);
  assert.deepEqual(other.aim([0.1, 0.1]).at, [0, 0], "other tools still mean the corner");
});

test("row A10: what was drawn is one step, taken back corner by corner, and refused in words where it cannot be", () => {
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

test("row A10: head, valve, connection and backflow device take their nodes along, and a node its thing", () => {
  const p = piped();
  const places: [Ref, string, Partial<PipeNode>][] = [
    ["heads/h2", "head", { head: "h2" }],
    ["valves/z1", "valve", {}],
    ["supply/connection", "connection", {}],
    ["supply/backflow_at", "backflow", {}],
  ];
  for (const [r, kind, more] of places) {
    for (const next of [moveThings(p, [r], [1, 2]), placeThing(p, r, [3, 33])]) {
      const n = next.nodes?.[nodeOfKind(next, kind, more)];
      const [c, id] = r.split("/") as ["heads", string];
      const at = c === "heads" ? next.heads?.[id] : undefined;
      if (at) assert.deepEqual([n?.x_ft, n?.y_ft], [at.x_ft, at.y_ft]);
      assert.notDeepEqual(n, p.nodes?.[nodeOfKind(p, kind, more)], `${r} moved its node`);
      assert.equal(standsApart(next, nodeOfKind(next, kind, more)), false);
      whole(next);
    }
  }
  const node = nodeOfKind(p, "valve");
  const pulled = withPipesFollowing(p, put(p, "nodes", node, { ...(p.nodes?.[node] as PipeNode), x_ft: -3 }));
  assert.equal(pulled.zones?.z1?.valve_at?.x_ft, -3);
  const locked = setLocked(p, ["heads/h1"], true);
  const at = nodeOfKind(locked, "head", { head: "h1" });
  const held = withPipesFollowing(
    locked,
    put(locked, "nodes", at, { ...(locked.nodes?.[at] as PipeNode), x_ft: 30 }),
  );
  assert.equal(held.nodes?.[at]?.x_ft, 1, "a locked head keeps its node");
});

test("row A10: a plan whose node stands away from its head is left alone until one of them is moved", () => {
  const p = piped();
  const id = nodeOfKind(p, "head", { head: "h1" });
  const apart = { ...p, nodes: { ...p.nodes, [id]: { ...(p.nodes?.[id] as PipeNode), x_ft: 5 } } };
  const other = withPipesFollowing(apart, put(apart, "notes", "m", { x_ft: 0, y_ft: 0, text: "x" }));
  assert.equal(other.nodes?.[id]?.x_ft, 5);
  assert.ok(allThings(apart).includes(`nodes/${id}`), "it can be seen and chosen");
  assert.equal(moveThings(apart, ["heads/h1"], [1, 0]).nodes?.[id]?.x_ft, 2);
});

test("row A10: deleting a head in a run leaves a joint; at an end the dead pipe goes, back to where something else joins", () => {
  const p = piped();
  const mid = whole(deleteThings(p, ["heads/h1"]));
  assert.equal(pipes(mid).length, 4);
  assert.equal(nodes(mid).filter((n) => n.kind === "joint").length, 1);
  const end = whole(deleteThings(p, ["heads/h2"]));
  assert.equal(pipes(end).length, 3);
  assert.equal(
    whole(deleteThings(p, ["heads/h1", "heads/h2"])).nodes?.[nodeOfKind(p, "valve")]?.kind,
    "valve",
  );
  const kept = setLocked(p, [`pipes/${pipeTo(p, nodeOfKind(p, "head", { head: "h2" }))}`], true);
  assert.equal(pipes(deleteThings(kept, ["heads/h2"])).length, 4, "a locked pipe stays");
});

test("row A10: a branch deleted leaves the pipe whole again, and nothing loose", () => {
  const before = piped();
  const hand = new Hand("pipe", before);
  hand.click([25, 9]).click([25, 14]).click([30, 20]);
  hand.do("finish");
  const branch = Object.entries(hand.plan.pipes ?? {}).find(
    ([, q]) => hand.plan.nodes?.[q.to]?.y_ft === 20,
  )?.[0];
  const p = whole(deleteThings(hand.plan, [`pipes/${branch}`]));
  assert.equal(pipes(p).length, 4);
  assert.ok(Math.abs(long(p) - long(before)) < 1e-9);
  assert.deepEqual(
    nodes(p)
      .map((n) => n.kind)
      .sort(),
    nodes(before)
      .map((n) => n.kind)
      .sort(),
  );
  const all = Object.keys(before.pipes ?? {}).map((id): Ref => `pipes/${id}`);
  const bare = deleteThings(before, all);
  assert.deepEqual([bare.pipes, bare.nodes], [{}, {}]);
  assert.equal(Object.keys(bare.heads ?? {}).length, 2, "heads stay");
});

test("row A10: a joint taken out makes one pipe of two; where three meet it stays, and why is said", () => {
  const hand = new Hand("pipe", piped());
  hand.click([25, 9]).click([25, 14]);
  hand.do("finish");
  const tee = nodeOfKind(hand.plan, "joint", { y_ft: 9 });
  assert.deepEqual(withoutNodes(hand.plan, [tee]).nodes?.[tee], hand.plan.nodes?.[tee]);
  const end = nodeOfKind(hand.plan, "joint", { y_ft: 14 });
  assert.equal(
    pipes(whole(deleteThings(hand.plan, [`nodes/${end}`]))).length,
    4,
    "an open end takes its pipe",
  );
  const two = new Hand("pipe", watered());
  two.click([-10, 5]).click([-10, 20]);
  two.do("finish");
  two.click([-10, 20]).click([0, 20]);
  two.do("finish");
  const joint = nodeOfKind(two.plan, "joint", { x_ft: -10 });
  const one = whole(deleteThings(two.plan, [`nodes/${joint}`]));
  assert.deepEqual(
    pipes(one).map((q) => q.via),
    [[[-10, 20]]],
  );
});

test("row A10: a corner of a pipe is moved, added and taken out; its end at a head comes off for this pipe alone, a joint goes with all", () => {
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

test("row A10: a joint let go on a joint, a head or a pipe is joined to it", () => {
  const hand = new Hand("pipe", piped());
  hand.click([5, 30]).click([5, 35]);
  hand.do("finish");
  const end = nodeOfKind(hand.plan, "joint", { y_ft: 30 });
  const drop = (at: readonly [number, number]): Plan => {
    const moved = moveThings(hand.plan, [`nodes/${end}`], [at[0] - 5, at[1] - 30]);
    return whole(withPipesJoined(hand.plan, moved));
  };
  const onHead = drop([40, 12]);
  assert.equal(pipesAt(onHead, nodeOfKind(onHead, "head", { head: "h2" })).length, 2);
  const onPipe = drop([25, 9]);
  assert.equal(pipesAt(onPipe, end).length, 3);
  const bare = watered();
  const free = new Hand("pipe", bare);
  free.click([5, 30]).click([5, 35]);
  free.do("finish");
  const first = nodeOfKind(free.plan, "joint", { y_ft: 30 });
  const onto = withPipesJoined(free.plan, moveThings(free.plan, [`nodes/${first}`], [35, -18]));
  assert.equal(onto.nodes?.[first]?.head, "h2");
});

test("row A10: a valve or a head set on a pipe of its zone stands in it; a head of no zone or another does not", () => {
  const p = piped();
  const set = (zone: string | undefined): Plan => {
    const h = { ...(p.heads?.h1 as object), x_ft: 25, y_ft: 9, zone } as never;
    const next = put(p, "heads", "h9", h);
    return whole(withPipesJoined(p, withPipesFollowing(p, next)));
  };
  assert.equal(nodes(set("z1")).filter((n) => n.head === "h9").length, 1);
  assert.equal(nodes(set(undefined)).filter((n) => n.head === "h9").length, 0);
  const bare = new Hand("pipe", put(yard(), "supply", "connection", { x_ft: -10, y_ft: 5 }));
  bare.click([-10, 5]).click([10, 5]);
  bare.do("finish");
  const valve = put(bare.plan, "valves", "z1", { x_ft: 0, y_ft: 5 });
  const q = whole(withPipesJoined(bare.plan, withPipesFollowing(bare.plan, valve)));
  assert.equal(pipes(q).length, 2);
  assert.equal(pipesAt(q, nodeOfKind(q, "valve", { zone: "z1" })).length, 2);
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

test("row A10: where pipes join a head the head is meant, by click and by box; between, the pipe", () => {
  const p = piped();
  assert.equal(thingAt(p, [40, 12], 0.8), "heads/h2");
  assert.equal(thingAt(p, [-4, 5.2], 0.8)?.split("/")[0], "pipes");
  assert.equal(networkAt(p, [-4, 5])?.is, "pipe");
  const taken = boxed(p, [-20, -5], [70, 50]);
  assert.equal(taken.filter((r) => r.startsWith("nodes/")).length, 0);
  assert.equal(taken.filter((r) => r.startsWith("pipes/")).length, 4);
});

test("row A10: a zone that is removed leaves its pipes, pointing at nothing that is gone", () => {
  const p = piped();
  const next = whole(withPipesFollowing(p, removeZone(p, "z1")));
  assert.equal(pipes(next).length, 4);
  assert.ok(pipes(next).every((q) => q.zone === undefined));
  assert.equal(
    nodes(next).some((n) => n.zone !== undefined || n.kind === "valve"),
    false,
  );
});

test("row A24: a pipe says its zone, what it joins, size, length, status and lock", () => {
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
    `Pipe of zone 1 to head 1-1, 1 1/4 in, 5' 0" long, from valve of zone 1 to head 1-1, existing, locked`,
  );
  assert.deepEqual([0.5, 0.75, 1, 1.5, 2.5].map(pipeSizeText), [
    "1/2 in",
    "3/4 in",
    "1 in",
    "1 1/2 in",
    "2 1/2 in",
  ]);
  assert.ok(catalog.nozzles.length > 0);
});

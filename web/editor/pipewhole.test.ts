import assert from "node:assert/strict";
import { test } from "node:test";
import { deleteThings, moveThings, placeThing, setLocked } from "./edit";
import { type PipeNode, type Plan, put, type Ref } from "./model";
import { pipesAt, standsApart } from "./pipenet";
import { whyNeeded, withoutNodes } from "./pipesgone";
import { withPipesFollowing, withPipesJoined } from "./pipewhole";
import { long, nodeOfKind, nodes, piped, pipes, pipeTo, watered, whole } from "./testpipes";
import { Hand, yard } from "./testplan";
import { allThings } from "./things";
import { removeZone } from "./zoning";

test("row A1: head, valve, connection and backflow device take their nodes along, and a node its thing", () => {
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

test("row A1: a plan whose node stands away from its head is left alone until one of them is moved", () => {
  const p = piped();
  const id = nodeOfKind(p, "head", { head: "h1" });
  const apart = { ...p, nodes: { ...p.nodes, [id]: { ...(p.nodes?.[id] as PipeNode), x_ft: 5 } } };
  const other = withPipesFollowing(apart, put(apart, "notes", "m", { x_ft: 0, y_ft: 0, text: "x" }));
  assert.equal(other.nodes?.[id]?.x_ft, 5);
  assert.ok(allThings(apart).includes(`nodes/${id}`), "it can be seen and chosen");
  assert.equal(moveThings(apart, ["heads/h1"], [1, 0]).nodes?.[id]?.x_ft, 2);
});

test("row A1: deleting a head in a run leaves a joint; at an end the dead pipe goes, back to where something else joins", () => {
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

test("row A1: a branch deleted leaves the pipe whole again, and nothing loose", () => {
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

test("row A1: a joint taken out makes one pipe of two; where three meet it stays, and why is said", () => {
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
  assert.match(whyNeeded(hand.plan, tee) ?? "", /3 pipes meet/);
  assert.equal(whyNeeded(hand.plan, end), null);
  const held = setLocked(hand.plan, [`pipes/${pipesAt(hand.plan, end)[0]}`], true);
  assert.match(whyNeeded(held, end) ?? "", /locked pipe ends at this joint/);
  assert.equal(deleteThings(held, [`nodes/${end}`]).pipes, held.pipes);
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

test("row A1: a joint let go on a joint, a head or a pipe is joined to it", () => {
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

test("row A1: a valve or a head set on a pipe of its zone stands in it; a head of no zone or another does not", () => {
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

test("row A1: a zone that is removed leaves its pipes, pointing at nothing that is gone", () => {
  const p = piped();
  const next = whole(withPipesFollowing(p, removeZone(p, "z1")));
  assert.equal(pipes(next).length, 4);
  assert.ok(pipes(next).every((q) => q.zone === undefined));
  assert.equal(
    nodes(next).some((n) => n.zone !== undefined || n.kind === "valve"),
    false,
  );
});

test("many heads deleted at once leave what deleting them one by one leaves", () => {
  const hand = new Hand("pipe", piped());
  hand.click([25, 9]).click([25, 14]).click([30, 20]);
  hand.do("finish");
  const { plan } = hand;
  const heads: Ref[] = ["heads/h1", "heads/h2"];
  const one = heads.reduce((p, r) => deleteThings(p, [r]), plan);
  const shape = (p: Plan): unknown[] => [Object.keys(p.nodes ?? {}).sort(), pipes(p).map((q) => q.via)];
  const both = whole(deleteThings(plan, heads));
  assert.deepEqual(shape(both), shape(one));
  assert.equal(deleteThings(both, []).pipes, both.pipes, "what nothing goes out of stays the same object");
});

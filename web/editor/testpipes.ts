// Pipes in the yard of the tests, and what every network must hold.

import assert from "node:assert/strict";
import { type Pipe, type PipeNode, type Plan, put } from "./model";
import { pipesAt } from "./pipenet";
import { lengthOf } from "./shape";
import { Hand, yard } from "./testplan";
import { pipeLine } from "./things";

/** The yard with a connection in the west, a valve beside it, and the two heads of zone 1. */
export function watered(): Plan {
  let p = yard();
  p = put(p, "supply", "connection", { x_ft: -10, y_ft: 5 });
  p = put(p, "supply", "backflow_at", { x_ft: -6, y_ft: 5 });
  return put(p, "valves", "z1", { x_ft: -2, y_ft: 5 });
}

/** Drawn in one line from the connection through backflow device and valve to both heads. */
export function piped(): Plan {
  const hand = new Hand("pipe", watered());
  hand.click([-10, 5]).click([-6, 5]).click([-2, 5]).click([1, 1]).click([10, 6]).click([40, 12]);
  hand.do("finish");
  assert.equal(hand.steps.length, 1, hand.said.join(" "));
  return hand.plan;
}

export const pipes = (p: Plan): Pipe[] => Object.values(p.pipes ?? {});
export const nodes = (p: Plan): PipeNode[] => Object.values(p.nodes ?? {});
export const nodeOfKind = (p: Plan, kind: string, more: Partial<PipeNode> = {}): string => {
  const found = Object.entries(p.nodes ?? {}).filter(
    ([, n]) => n.kind === kind && Object.entries(more).every(([k, v]) => n[k as keyof PipeNode] === v),
  );
  assert.equal(found.length, 1, `${kind}: ${JSON.stringify(p.nodes)}`);
  return found[0]?.[0] ?? "";
};
export const pipeTo = (p: Plan, node: string): string => {
  const id = Object.keys(p.pipes ?? {}).find((k) => p.pipes?.[k]?.to === node);
  assert.ok(id);
  return id;
};
export const long = (p: Plan): number => pipes(p).reduce((sum, q) => sum + lengthOf(pipeLine(p, q)), 0);
/** What every plan here must hold: no pipe without its nodes, no node at nothing. */
export function whole(p: Plan): Plan {
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

// What goes out of the pipe network, and what then goes with it: joints that join
// nothing any more, pipes that lead nowhere, and joints where one pipe is left of two.

import { cross, minus, type Point } from "./geometry";
import { find, type Line, type Pipe, type Plan } from "./model";
import { withVia } from "./pipechange";
import { Draft } from "./pipedraft";
import { isJoint, pipesAt, pointOf } from "./pipenet";
import { LATTICE, place, turnedLine } from "./shape";

const alike = (a: Pipe, b: Pipe): boolean =>
  (["class", "material", "nominal_in", "zone", "status"] as const).every(
    (k) => (a[k] ?? (k === "status" ? "new" : undefined)) === (b[k] ?? (k === "status" ? "new" : undefined)),
  );

/** The two pipes that meet at a joint and nothing else does. */
function twoAt(d: Draft, node: string): [string, string] | null {
  const [a, b, more] = d.at(node);
  return a && b && !more ? [a, b] : null;
}

/** Makes one pipe of the two at a joint, where that can be. The longer says class, size and zone. */
function joinTwo(d: Draft, node: string): void {
  const two = twoAt(d, node);
  const n = d.node(node);
  if (!two || !n) return;
  const [one, other] = two.map((id) => d.pipe(id) as Pipe) as [Pipe, Pipe];
  const second = d.long(other) > d.long(one) + LATTICE;
  const [keep, gone] = second ? [two[1], two[0]] : two;
  const [a, b] = second ? [other, one] : [one, other];
  const far = b.from === node ? b.to : b.from;
  const on = b.from === node ? (b.via ?? []) : (turnedLine(b.via ?? []) as Line);
  const back = b.from === node ? (turnedLine(b.via ?? []) as Line) : (b.via ?? []);
  const whole = a.to === node ? { ...a, to: far } : { ...a, from: far };
  if (whole.from === whole.to) return;
  const own = a.via ?? [];
  const at = (id: string): [number, number] => {
    const k = d.node(id);
    return k ? [k.x_ft, k.y_ft] : [0, 0];
  };
  const before = a.to === node ? (own.at(-1) ?? at(a.from)) : (back.at(-1) ?? at(far));
  const after = a.to === node ? (on[0] ?? at(far)) : (own[0] ?? at(a.to));
  const bend: Line = straight(place(before), pointOf(n), place(after)) ? [] : [[n.x_ft, n.y_ft]];
  const via = a.to === node ? [...own, ...bend, ...on] : [...back, ...bend, ...own];
  d.dropPipe(gone);
  d.putPipe(keep, withVia(whole, via));
  d.dropNode(node);
}

/** Whether a place lies on the straight way between two others, to an eighth of an inch. */
function straight(a: Point, at: Point, b: Point): boolean {
  const way = minus(b, a);
  const len = Math.hypot(...way);
  return len > 0 && Math.abs(cross(way, minus(at, a))) / len < 1 / 96;
}

/** Takes out those of the joints given where two alike pipes are left, or none. */
function tidy(d: Draft, nodes: Iterable<string>): void {
  for (const id of nodes) {
    const n = d.node(id);
    if (!n) continue;
    if (d.at(id).length === 0) d.dropNode(id);
    if (n.kind !== "joint" || n.locked) continue;
    const [a, b] = (twoAt(d, id) ?? []).map((q) => d.pipe(q) as Pipe);
    if (a && b && !a.locked && !b.locked && alike(a, b)) joinTwo(d, id);
  }
}

/** Takes pipes out, and the joints that then join nothing. */
function dropPipes(d: Draft, pipes: readonly string[]): void {
  const ends = nodesOf(pipes.map((id) => d.pipe(id)));
  for (const id of pipes) d.dropPipe(id);
  tidy(d, ends);
}

/** The nodes at the ends of pipes, each once. */
const nodesOf = (pipes: readonly (Pipe | undefined)[]): string[] => [
  ...new Set(pipes.flatMap((q) => (q ? [q.from, q.to] : []))),
];

export function withoutPipes(p: Plan, pipes: readonly string[]): Plan {
  const d = new Draft(p);
  dropPipes(d, pipes);
  return d.done();
}

/** Takes joints out: one pipe is made of two, a pipe to nowhere goes with its end; where three meet the joint stays. */
export function withoutNodes(p: Plan, nodes: readonly string[]): Plan {
  const d = new Draft(p);
  for (const id of nodes) {
    const at = d.at(id);
    if (at.some((q) => d.pipe(q)?.locked)) continue;
    if (at.length === 0) d.dropNode(id);
    else if (at.length === 1) dropPipes(d, at);
    else joinTwo(d, id);
  }
  return d.done();
}

/** Why a node cannot be taken out by itself; null where it can. */
export function whyNeeded(p: Plan, id: string): string | null {
  const meet = pipesAt(p, id);
  if (meet.some((q) => find(p, "pipes", q)?.locked))
    return "A locked pipe ends at this joint. Unlock the pipe (L), then delete the joint.";
  return meet.length > 2
    ? `${meet.length} pipes meet at this joint. Delete the pipes, and it goes with the last.`
    : null;
}

/** The ends of pipes that went, tidied. */
export function tidiedAfter(p: Plan, gone: readonly Pipe[]): Plan {
  const d = new Draft(p);
  tidy(d, nodesOf(gone));
  return d.done();
}

/**
 * Nodes whose head, valve or supply point went become joints; where that leaves a
 * dead end at a head, the pipe goes too, back to where something else joins.
 */
export function released(p: Plan, nodes: readonly string[]): Plan {
  const d = new Draft(p);
  for (const id of nodes) {
    const n = d.node(id);
    if (!n) continue;
    const { head: _head, zone: _zone, ...rest } = n;
    d.putNode(id, { ...rest, kind: "joint" });
    if (n.kind === "head") dropDeadEnd(d, id);
    else if (d.at(id).length === 0) d.dropNode(id);
  }
  return d.done();
}

function dropDeadEnd(d: Draft, end: string): void {
  for (let at = end; ; ) {
    const n = d.node(at);
    const [only, more] = d.at(at);
    const q = only ? d.pipe(only) : undefined;
    if (!n || n.locked || more || !isJoint(n) || q?.locked) return;
    d.dropNode(at);
    if (!only || !q) return;
    d.dropPipe(only);
    const far = q.from === at ? q.to : q.from;
    if (d.at(far).length !== 1 || d.node(far)?.kind !== "joint") {
      tidy(d, [far]);
      return;
    }
    at = far;
  }
}

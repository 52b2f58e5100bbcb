// Changes to the pipe network: a branch parts the pipe it begins on, what is
// deleted leaves no loose joint, an end or a corner goes elsewhere.

import { cross, distance, minus, type Point } from "./geometry";
import {
  drop,
  dropMany,
  find,
  type Line,
  newID,
  type Pipe,
  type PipeNode,
  type Plan,
  parts,
  put,
  type Ref,
  ref,
} from "./model";
import { edgeAt, networkAt, ownerPlace, pipesAt, pointOf, standsApart } from "./pipenet";
import { LATTICE, lengthOf, place, turnedLine } from "./shape";
import { isLocked, pipeLine } from "./things";

export const spot = ([x_ft, y_ft]: Point) => ({ x_ft, y_ft });
export const isJoint = (n: PipeNode | undefined): boolean => n?.kind === "joint" || n?.kind === "drain";

/** A pipe with other corners on its way. */
export function withVia(q: Pipe, via: Line): Pipe {
  const { via: _old, ...rest } = q;
  return via.length > 0 ? { ...rest, via } : rest;
}

/** A new joint at a place, with the status of what it is put into. */
export function addJoint(p: Plan, at: Point, like?: Pipe): [Plan, string] {
  const id = newID(p, "nodes");
  const node: PipeNode = { kind: "joint", ...spot(at), status: like?.status ?? "new" };
  return [put(p, "nodes", id, node), id];
}

/** The node of a thing that has none yet. */
export function addOwned(p: Plan, owner: Ref): [Plan, string] {
  const id = newID(p, "nodes");
  const at = ownerPlace(p, owner) ?? [0, 0];
  return [put(p, "nodes", id, owned({ kind: "joint", ...spot(at), status: "new" }, owner)), id];
}

/** A node that belongs to a thing from now on. */
export function owned(n: PipeNode, owner: Ref): PipeNode {
  const [c, id] = parts(owner);
  const { head: _head, zone: _zone, ...rest } = n;
  if (c === "heads") return { ...rest, kind: "head", head: id };
  if (c === "valves") return { ...rest, kind: "valve", zone: id };
  return { ...rest, kind: id === "connection" ? "connection" : "backflow" };
}

/** Parts a pipe at a place on its way; both parts are alike. The joint there is the one given, or a new one. */
export function splitPipe(p: Plan, id: string, at: Point, joint?: string): [Plan, string] {
  const q = find(p, "pipes", id) as Pipe;
  const edge = edgeAt(p, id, at) ?? 0;
  const [base, node] = joint ? [p, joint] : addJoint(p, at, q);
  const via = q.via ?? [];
  // Corner i of the way is via i - 1; one that lies at the place becomes the joint.
  const before = via.slice(0, edge).filter((v) => distance(place(v), at) > LATTICE);
  const after = via.slice(edge).filter((v) => distance(place(v), at) > LATTICE);
  const first = withVia({ ...q, to: node }, before);
  const second = withVia({ ...q, from: node }, after);
  const more = newID(base, "pipes");
  return [put(put(base, "pipes", id, first), "pipes", more, second), node];
}

/** The node at a place: the one there, that of what stands there, one that parts a pipe, or a new joint. */
export function nodeAt(p: Plan, at: Point): [Plan, string] {
  const here = networkAt(p, at);
  if (here?.is === "node") return [p, here.id];
  if (here?.is === "owner") return addOwned(p, here.ref);
  return here ? splitPipe(p, here.id, at) : addJoint(p, at);
}

const alike = (a: Pipe, b: Pipe): boolean =>
  (["class", "material", "nominal_in", "zone", "status"] as const).every(
    (k) => (a[k] ?? (k === "status" ? "new" : undefined)) === (b[k] ?? (k === "status" ? "new" : undefined)),
  );

/** The two pipes that meet at a joint and nothing else does. */
function twoAt(p: Plan, node: string): [string, string] | null {
  const [a, b, more] = pipesAt(p, node);
  return a && b && !more ? [a, b] : null;
}

/** Makes one pipe of the two at a joint; null where that cannot be. The longer says class, size and zone. */
export function withoutJoint(p: Plan, node: string): Plan | null {
  const two = twoAt(p, node);
  const n = find(p, "nodes", node);
  if (!two || !n) return null;
  const long = (id: string) => lengthOf(pipeLine(p, find(p, "pipes", id) as Pipe));
  const [keep, gone] = long(two[1]) > long(two[0]) + LATTICE ? [two[1], two[0]] : two;
  const [a, b] = [find(p, "pipes", keep) as Pipe, find(p, "pipes", gone) as Pipe];
  const far = b.from === node ? b.to : b.from;
  const on = b.from === node ? (b.via ?? []) : (turnedLine(b.via ?? []) as Line);
  const back = b.from === node ? (turnedLine(b.via ?? []) as Line) : (b.via ?? []);
  const whole = a.to === node ? { ...a, to: far } : { ...a, from: far };
  if (whole.from === whole.to) return null;
  const own = a.via ?? [];
  const before =
    a.to === node ? (own.at(-1) ?? placeOfNode(p, a.from)) : (back.at(-1) ?? placeOfNode(p, far));
  const after = a.to === node ? (on[0] ?? placeOfNode(p, far)) : (own[0] ?? placeOfNode(p, a.to));
  const bend: Line = straight(place(before), pointOf(n), place(after)) ? [] : [[n.x_ft, n.y_ft]];
  const via = a.to === node ? [...own, ...bend, ...on] : [...back, ...bend, ...own];
  return drop(drop(put(p, "pipes", keep, withVia(whole, via)), "pipes", gone), "nodes", node);
}

const placeOfNode = (p: Plan, id: string): [number, number] => {
  const n = find(p, "nodes", id);
  return n ? [n.x_ft, n.y_ft] : [0, 0];
};

/** Whether a place lies on the straight way between two others, to an eighth of an inch. */
function straight(a: Point, at: Point, b: Point): boolean {
  const way = minus(b, a);
  const len = Math.hypot(...way);
  return len > 0 && Math.abs(cross(way, minus(at, a))) / len < 1 / 96;
}

/** Takes out joints where two alike pipes are left, or none, of those given. */
export function tidied(p: Plan, nodes: Iterable<string>): Plan {
  let next = p;
  for (const id of nodes) {
    const n = find(next, "nodes", id);
    if (!n) continue;
    const at = pipesAt(next, id);
    if (at.length === 0) next = drop(next, "nodes", id);
    if (n.kind !== "joint" || n.locked) continue;
    const two = twoAt(next, id)?.map((q) => find(next, "pipes", q) as Pipe);
    if (two && !two.some((q) => q.locked) && alike(two[0] as Pipe, two[1] as Pipe)) {
      next = withoutJoint(next, id) ?? next;
    }
  }
  return next;
}

export const nodesOf = (pipes: readonly (Pipe | undefined)[]): string[] => [
  ...new Set(pipes.flatMap((q) => (q ? [q.from, q.to] : []))),
];

/** Takes pipes out, and the joints that then join nothing. */
export function withoutPipes(p: Plan, pipes: readonly string[]): Plan {
  const ends = nodesOf(pipes.map((id) => find(p, "pipes", id)));
  return tidied(
    dropMany(
      p,
      pipes.map((id) => ref("pipes", id)),
    ),
    ends,
  );
}

/** Takes joints out: one pipe is made of two, a pipe to nowhere goes with its end; where three meet the joint stays. */
export function withoutNodes(p: Plan, nodes: readonly string[]): Plan {
  let next = p;
  for (const id of nodes) {
    const at = pipesAt(next, id);
    if (at.some((q) => find(next, "pipes", q)?.locked)) continue;
    if (at.length === 0) next = drop(next, "nodes", id);
    else if (at.length === 1) next = withoutPipes(next, at);
    else next = withoutJoint(next, id) ?? next;
  }
  return next;
}

/** Whether a node can be taken out by itself; else why not. */
export function whyNeeded(p: Plan, id: string): string | null {
  const n = pipesAt(p, id).length;
  return n > 2 ? `${n} pipes meet at this joint. Delete the pipes, and it goes with the last.` : null;
}

/** The corners of a pipe set anew: inner ones are its own, an end is its node's, which goes there with all its pipes. */
export function setPipeLine(p: Plan, id: string, line: Line): Plan {
  const q = find(p, "pipes", id);
  const [first, last] = [line[0], line.at(-1)];
  if (!q || !first || !last || line.length < 2) return p;
  const next = put(p, "pipes", id, withVia(q, line.slice(1, -1)));
  const one = moveEnd(p, next, id, "from", place(first));
  return moveEnd(p, one, id, "to", place(last));
}

const pulled = new WeakMap<Plan, Map<string, string>>();

/** One new id for one end of a pipe, however often a drag asks anew. */
function endID(p: Plan, pipe: string, end: "from" | "to"): string {
  const known = pulled.get(p) ?? new Map<string, string>();
  pulled.set(p, known);
  const key = `${pipe} ${end}`;
  const id = known.get(key) ?? newID(p, "nodes");
  known.set(key, id);
  return id;
}

/** Brings an end of a pipe to a place. A joint goes there with all its pipes; off a head or a valve only this pipe is taken. */
function moveEnd(base: Plan, p: Plan, id: string, end: "from" | "to", to: Point): Plan {
  const q = find(p, "pipes", id) as Pipe;
  const n = find(p, "nodes", q[end]);
  if (!n || distance(pointOf(n), to) === 0) return p;
  if (standsApart(p, q[end])) return n.locked ? p : put(p, "nodes", q[end], { ...n, ...spot(to) });
  const node = endID(base, id, end);
  const joint: PipeNode = { kind: "joint", ...spot(to), status: q.status ?? "new" };
  const next = put(put(p, "nodes", node, joint), "pipes", id, { ...q, [end]: node });
  return tidied(
    next,
    [q[end]].filter((k) => pipesAt(next, k).length === 0),
  );
}

/** The refs with the free joints of the pipes among them, so that a pipe is moved whole. */
export function withJoints(p: Plan, refs: Iterable<Ref>): Ref[] {
  const all = new Set(refs);
  for (const r of [...all]) {
    const [c, id] = parts(r);
    const q = c === "pipes" && !isLocked(p, r) ? find(p, "pipes", id) : undefined;
    for (const n of q ? [q.from, q.to] : []) if (standsApart(p, n)) all.add(ref("nodes", n));
  }
  return [...all];
}

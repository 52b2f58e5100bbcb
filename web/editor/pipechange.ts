// Changes to the pipe network: joints are put in, a branch parts the pipe it
// begins on, an end or a corner goes elsewhere.

import { distance, type Point } from "./geometry";
import {
  drop,
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
import { LATTICE, place } from "./shape";
import { isLocked } from "./things";

export const spot = ([x_ft, y_ft]: Point) => ({ x_ft, y_ft });

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
  return pipesAt(next, q[end]).length === 0 ? drop(next, "nodes", q[end]) : next;
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

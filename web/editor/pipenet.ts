// The pipe network of a plan as it is read: which node stands at which thing,
// which pipes meet at a node, and what of it lies at a place.

import { distance, nearestOnSegment, type Point } from "./geometry";
import { find, ids, items, type PipeNode, type Plan, parts, type Ref, ref, type Spot } from "./model";
import { LATTICE, place } from "./shape";
import { pipeLine } from "./things";

/** A node stands at its head, valve or point of the supply when no farther from it than this, in feet. */
const AT_FT = 0.5;

export const pointOf = (s: Spot): Point => [s.x_ft, s.y_ft];

/** Whether a node belongs to no head, valve or point of the supply. */
export const isJoint = (n: PipeNode | undefined): boolean => n?.kind === "joint" || n?.kind === "drain";

/** The head, valve or point of the supply a node belongs to; null for a joint, a drain or where there is none. */
export function ownerOf(p: Plan, n: PipeNode): Ref | null {
  const [c, id] = ownerName(n);
  return c && placeIn(p, c, id) ? ref(c, id) : null;
}

function ownerName(n: PipeNode): ["heads" | "valves" | "supply", string] | [null, ""] {
  switch (n.kind) {
    case "head":
      return n.head ? ["heads", n.head] : [null, ""];
    case "valve":
      return n.zone ? ["valves", n.zone] : [null, ""];
    case "connection":
      return ["supply", "connection"];
    case "backflow":
      return ["supply", "backflow_at"];
    default:
      return [null, ""];
  }
}

/** Where a thing that nodes belong to stands. */
export function ownerPlace(p: Plan, r: Ref): Point | null {
  const [c, id] = parts(r);
  const it = c === "heads" || c === "valves" || c === "supply" ? placeIn(p, c, id) : undefined;
  return it ? pointOf(it) : null;
}

/** A valve is looked up in its zone: this is asked of every node with every move of a drag. */
const placeIn = (p: Plan, c: "heads" | "valves" | "supply", id: string): Spot | undefined =>
  c === "valves" ? p.zones?.[id]?.valve_at : find(p, c, id);

/** Whether a node is a thing by itself, and not just where pipes join a head, a valve or the supply. */
export function standsApart(p: Plan, id: string): boolean {
  const n = find(p, "nodes", id);
  const owner = n && ownerOf(p, n);
  const at = owner && ownerPlace(p, owner);
  return !n || !at || distance(at, pointOf(n)) > AT_FT;
}

const kept = new WeakMap<object, ReadonlyMap<string, readonly string[]>>();
const none: ReadonlyMap<string, readonly string[]> = new Map();

/** The pipes at every node, by id. */
export function pipesAtNodes(p: Plan): ReadonlyMap<string, readonly string[]> {
  if (!p.pipes) return none;
  const known = kept.get(p.pipes);
  if (known) return known;
  const out = new Map<string, string[]>();
  for (const id of ids(p, "pipes")) {
    const q = p.pipes[id];
    for (const end of q ? new Set([q.from, q.to]) : []) out.set(end, [...(out.get(end) ?? []), id]);
  }
  kept.set(p.pipes, out);
  return out;
}

export const pipesAt = (p: Plan, node: string): readonly string[] => pipesAtNodes(p).get(node) ?? [];

/** What of the network, or of what can be joined to it, lies at a place. */
export type Here =
  | { readonly is: "node"; readonly id: string }
  | { readonly is: "owner"; readonly ref: Ref }
  | { readonly is: "pipe"; readonly id: string; readonly edge: number };

/** Nodes before what has no node yet, and that before the way of a pipe. skip: ids of nodes and pipes not meant. */
export function networkAt(p: Plan, at: Point, skip: ReadonlySet<string> = new Set()): Here | null {
  const near = (s: Spot) => distance(pointOf(s), at) <= LATTICE;
  const owner = joinable(p).find((r) => {
    const place = ownerPlace(p, r);
    return place !== null && distance(place, at) <= LATTICE;
  });
  const nodes = items(p, "nodes");
  for (const id of ids(p, "nodes")) {
    const n = nodes[id] as PipeNode;
    if (!skip.has(id) && (near(n) || (owner && ownerOf(p, n) === owner))) return { is: "node", id };
  }
  if (owner) return { is: "owner", ref: owner };
  for (const id of ids(p, "pipes")) {
    if (skip.has(id)) continue;
    const edge = edgeAt(p, id, at);
    if (edge !== null) return { is: "pipe", id, edge };
  }
  return null;
}

/** Heads, valves and points of the supply. */
const joinable = (p: Plan): Ref[] =>
  (["supply", "valves", "heads"] as const).flatMap((c) => ids(p, c).map((id) => ref(c, id)));

/** The stretch of a pipe that passes a place, counted from 0; null where it does not. */
export function edgeAt(p: Plan, pipe: string, at: Point): number | null {
  const q = find(p, "pipes", pipe);
  const line = q ? pipeLine(p, q).map(place) : [];
  for (let i = 0; i + 1 < line.length; i++) {
    if (distance(nearestOnSegment(at, line[i] as Point, line[i + 1] as Point), at) <= LATTICE) return i;
  }
  return null;
}

const owned = new WeakMap<object, ReadonlyMap<Ref, string>>();

/** The node of every thing that has one; of several, the first. */
function nodesOfOwners(p: Plan): ReadonlyMap<Ref, string> {
  const nodes = items(p, "nodes");
  const known = owned.get(nodes);
  if (known) return known;
  const out = new Map<Ref, string>();
  for (const id of ids(p, "nodes")) {
    const [c, of] = ownerName(nodes[id] as PipeNode);
    if (c && !out.has(ref(c, of))) out.set(ref(c, of), id);
  }
  owned.set(nodes, out);
  return out;
}

/** The node a thing's pipes join at; null while it has none. */
export const nodeOf = (p: Plan, owner: Ref): string | null =>
  ownerPlace(p, owner) ? (nodesOfOwners(p).get(owner) ?? null) : null;

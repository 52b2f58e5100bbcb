// The pipe network kept whole after every change, whoever made it: nodes go with
// what they stand at, nothing loose is left, what is let go on something is joined
// to it. The board asks for it with every move of a drag, and at its end.

import { distance, type Point } from "./geometry";
import {
  type Change,
  drop,
  find,
  ids,
  items,
  type Pipe,
  type PipeNode,
  type Plan,
  parts,
  put,
  putMany,
  type Ref,
  ref,
} from "./model";
import { addOwned, owned, splitPipe, spot } from "./pipechange";
import { joins } from "./pipenames";
import { edgeAt, isJoint, networkAt, nodeOf, ownerOf, ownerPlace, pipesAt, pointOf } from "./pipenet";
import { released, tidiedAfter } from "./pipesgone";
import { LATTICE } from "./shape";
import { indexOf, type Source } from "./snapindex";
import { isLocked } from "./things";

const members = ["nodes", "pipes", "heads", "zones", "supply"] as const;

/**
 * The plan after a change with its network whole: nodes stand at what they belong
 * to, whichever of the two was moved; nothing points at a head or a zone that is
 * gone; pipes that went leave no loose joint.
 */
export function withPipesFollowing(was: Plan, next: Plan): Plan {
  if (!next.nodes || members.every((m) => was[m] === next[m])) return next;
  return withoutLoose(was, withZonesKnown(was, placed(was, next)));
}

/** Brings nodes and what they belong to together again. */
function placed(was: Plan, next: Plan): Plan {
  const changes: Change[] = [];
  const gone: string[] = [];
  const nodes = items(next, "nodes");
  const before = items(was, "nodes");
  for (const id in nodes) {
    const n = nodes[id] as PipeNode;
    if (isJoint(n)) continue;
    const old = before[id];
    const owner = ownerOf(next, n);
    if (!owner) {
      if (n.head || (old && ownerOf(was, old))) gone.push(id);
      continue;
    }
    const at = ownerPlace(next, owner) as Point;
    if (distance(at, pointOf(n)) === 0) continue;
    const from = ownerPlace(was, owner);
    const ownerMoved = !from || distance(from, at) > 0;
    if (!ownerMoved && old === n) continue; // they stood apart before: a finding says so
    const follows = ownerMoved || !old || isLocked(next, owner);
    if (follows) changes.push({ in: "nodes", id, thing: { ...n, ...spot(at) } });
    else {
      const [c, of] = parts(owner);
      const thing = { ...find(next, c, of), ...spot(pointOf(n)) } as Change["thing"];
      changes.push({ in: c, id: of, thing });
    }
  }
  const one = changes.length > 0 ? putMany(next, changes) : next;
  return gone.length > 0 ? released(one, gone) : one;
}

/** Pipes and nodes of a zone that is gone are of none. */
function withZonesKnown(was: Plan, next: Plan): Plan {
  if (was.zones === next.zones) return next;
  const lost = (zone: string | undefined): boolean => zone !== undefined && !find(next, "zones", zone);
  const changes: Change[] = [];
  for (const c of ["nodes", "pipes"] as const) {
    for (const id of ids(next, c)) {
      const { zone, ...rest } = find(next, c, id) as Pipe | PipeNode;
      if (lost(zone)) changes.push({ in: c, id, thing: rest as Change["thing"] });
    }
  }
  return changes.length > 0 ? putMany(next, changes) : next;
}

/** Joints left over by pipes that went. */
function withoutLoose(was: Plan, next: Plan): Plan {
  if (was.pipes === next.pipes) return next;
  const now = items(next, "pipes");
  const gone = Object.entries(items(was, "pipes")).filter(([id]) => now[id] === undefined);
  return gone.length > 0
    ? tidiedAfter(
        next,
        gone.map(([, q]) => q),
      )
    : next;
}

/** Joints that a change put exactly on something of the network are joined to it. For the end of a gesture. */
export function withPipesJoined(was: Plan, change: Plan): Plan {
  let next = change;
  if (!next.nodes || (was.nodes === next.nodes && was.heads === next.heads && was.zones === next.zones)) {
    return next;
  }
  for (const id of ids(change, "nodes")) {
    const [n, old] = [find(next, "nodes", id), find(was, "nodes", id)];
    if (!n || !isJoint(n) || !meetsOther(change, id)) continue;
    const stayed = old && distance(pointOf(old), pointOf(n)) === 0;
    const here = networkAt(next, pointOf(n), new Set([id, ...pipesAt(next, id)]));
    if (!here || (stayed && here.is !== "owner")) continue;
    if (here.is === "owner") next = put(next, "nodes", id, owned(n, here.ref));
    else if (here.is === "node") next = withNodesOne(next, id, here.id);
    else [next] = splitPipe(next, here.id, pointOf(n), id);
  }
  return withOwnersJoined(was, next);
}

/** Whether a joint lies on anything but its own pipes: few do, and a plan has thousands. */
function meetsOther(p: Plan, id: string): boolean {
  const n = find(p, "nodes", id);
  const own = new Set<Ref>([ref("nodes", id), ...pipesAt(p, id).map((q) => ref("pipes", q))]);
  const other = (s: Source): boolean => !own.has(s.ref) && joins.has(parts(s.ref)[0]);
  return n !== undefined && lyingAt(p, pointOf(n)).some(other);
}

const lyingAt = (p: Plan, at: Point): Source[] => {
  const index = indexOf(p);
  return [...index.pointsNear(at, LATTICE), ...index.edgesNear(at, LATTICE)];
};

/** A valve, supply point or head newly put on the way of a pipe parts it; a head only a pipe of its own zone. */
function withOwnersJoined(was: Plan, change: Plan): Plan {
  let next = change;
  for (const c of ["supply", "valves", "heads"] as const) {
    for (const id of ids(change, c)) {
      const owner = ref(c, id);
      const [at, from] = [ownerPlace(change, owner), ownerPlace(was, owner)];
      if (!at || (from && distance(from, at) === 0)) continue;
      if (!lyingAt(change, at).some((s) => parts(s.ref)[0] === "pipes") || nodeOf(next, owner)) continue;
      const zone = c === "heads" ? (find(change, "heads", id)?.zone ?? "") : null;
      const pipe = ids(next, "pipes").find((q) => {
        const on = zone === null || (zone !== "" && find(next, "pipes", q)?.zone === zone);
        return on && edgeAt(next, q, at) !== null;
      });
      if (!pipe) continue;
      const [plan, node] = addOwned(next, owner);
      [next] = splitPipe(plan, pipe, at, node);
    }
  }
  return next;
}

/** Two nodes at one place are one; a pipe between them goes. */
function withNodesOne(p: Plan, gone: string, keep: string): Plan {
  let next = p;
  for (const id of pipesAt(p, gone)) {
    const q = find(next, "pipes", id) as Pipe;
    const moved = { ...q, from: q.from === gone ? keep : q.from, to: q.to === gone ? keep : q.to };
    next = moved.from === moved.to ? drop(next, "pipes", id) : put(next, "pipes", id, moved);
  }
  return drop(next, "nodes", gone);
}

// Pipes copied: their nodes come along, and copies are joined among themselves
// as the originals are.

import { type Change, find, type Pipe, type PipeNode, type Plan, parts, type Ref, ref } from "./model";

/** What is copied of a selection: pipes with both their nodes; a node without a pipe is nothing to copy. */
export function withNodesOfPipes(p: Plan, refs: Iterable<Ref>): Ref[] {
  const plain: Ref[] = [];
  const nodes = new Set<Ref>();
  for (const r of refs) {
    const [c, id] = parts(r);
    if (c !== "nodes") plain.push(r);
    const q = c === "pipes" ? find(p, "pipes", id) : undefined;
    for (const n of q ? [q.from, q.to] : []) nodes.add(ref("nodes", n));
  }
  return [...plain, ...nodes];
}

/**
 * Copies of one laying with what they point at among themselves: pipes at their
 * nodes, nodes at their heads. A node whose head was not copied is a joint, and so
 * is one at a valve or at the supply, of which there is only one.
 */
export function joinedAnew(made: readonly (Change & { readonly was?: string })[]): Change[] {
  const now = new Map(made.flatMap((m) => (m.was ? [[`${m.in}/${m.was}`, m.id] as const] : [])));
  return made.flatMap(({ in: c, id, thing }): Change[] => {
    if (c === "nodes") return [{ in: c, id, thing: joint(thing as PipeNode, now) }];
    if (c !== "pipes") return [{ in: c, id, thing }];
    const q = thing as Pipe;
    const [from, to] = [now.get(`nodes/${q.from}`), now.get(`nodes/${q.to}`)];
    return from && to ? [{ in: c, id, thing: { ...q, from, to } }] : [];
  });
}

function joint(n: PipeNode, now: ReadonlyMap<string, string>): PipeNode {
  const head = n.head === undefined ? undefined : now.get(`heads/${n.head}`);
  const { head: _head, zone: _zone, ...rest } = n;
  if (n.kind === "head" && head) return { ...rest, head };
  return { ...rest, kind: n.kind === "drain" ? "drain" : "joint" };
}

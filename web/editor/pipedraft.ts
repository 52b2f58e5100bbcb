// A pipe network while much of it is changed: its nodes and pipes by id, and the
// pipes that meet at every node, so that a step costs what it touches and not the
// whole plan.

import { items, type Pipe, type PipeNode, type Plan } from "./model";
import { lengthOf } from "./shape";
import { lineThrough } from "./things";

export class Draft {
  readonly #nodes: Map<string, PipeNode>;
  readonly #pipes: Map<string, Pipe>;
  readonly #at = new Map<string, Set<string>>();
  #changed = { nodes: false, pipes: false };

  constructor(readonly plan: Plan) {
    this.#nodes = new Map(Object.entries(items(plan, "nodes")));
    this.#pipes = new Map(Object.entries(items(plan, "pipes")));
    for (const [id, q] of this.#pipes) this.#meet(id, q);
  }

  node(id: string): PipeNode | undefined {
    return this.#nodes.get(id);
  }

  pipe(id: string): Pipe | undefined {
    return this.#pipes.get(id);
  }

  /** The pipes at a node, by id. */
  at(node: string): string[] {
    return [...(this.#at.get(node) ?? [])].sort();
  }

  long(q: Pipe): number {
    return lengthOf(lineThrough(q, (id) => this.#nodes.get(id)));
  }

  putNode(id: string, n: PipeNode): void {
    this.#changed.nodes = true;
    this.#nodes.set(id, n);
  }

  dropNode(id: string): void {
    this.#changed.nodes = this.#nodes.delete(id) || this.#changed.nodes;
  }

  putPipe(id: string, q: Pipe): void {
    this.#leave(id);
    this.#changed.pipes = true;
    this.#pipes.set(id, q);
    this.#meet(id, q);
  }

  dropPipe(id: string): void {
    this.#leave(id);
    this.#changed.pipes = this.#pipes.delete(id) || this.#changed.pipes;
  }

  /** The plan with the network as it is now. */
  done(): Plan {
    const { nodes, pipes } = this.#changed;
    return {
      ...this.plan,
      ...(nodes ? { nodes: Object.fromEntries(this.#nodes) } : {}),
      ...(pipes ? { pipes: Object.fromEntries(this.#pipes) } : {}),
    };
  }

  #meet(id: string, q: Pipe): void {
    for (const end of [q.from, q.to]) this.#at.set(end, (this.#at.get(end) ?? new Set()).add(id));
  }

  #leave(id: string): void {
    const q = this.#pipes.get(id);
    for (const end of q ? [q.from, q.to] : []) this.#at.get(end)?.delete(id);
  }
}

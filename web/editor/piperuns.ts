// Putting pipes on a plan.

import { type Line, newID, type Pipe, type Plan, put } from "./model";
import { nodeAt, withVia } from "./pipechange";
import { type Corner, place } from "./shape";

/** A pipe wanted: its way, and what it is. Empty: not chosen yet; a zone of "" is the main. */
export interface NewPipe {
  readonly line: readonly Corner[];
  readonly zone: string;
  readonly class: string;
  readonly sizeIn: number;
}

/** A plan with pipes joined to what lies at their ends, and their ids. */
export function addPipes(p: Plan, wanted: readonly NewPipe[]): [Plan, string[]] {
  let next = p;
  const ends = wanted.map(({ line }) => {
    const at = [line[0], line.at(-1)].map((c) => {
      const [plan, id] = nodeAt(next, place(c as Corner));
      next = plan;
      return id;
    });
    return at as [string, string];
  });
  const made = wanted.map((w, i) => {
    const id = newID(next, "pipes");
    const [from, to] = ends[i] as [string, string];
    next = put(next, "pipes", id, pipeOf(w, from, to));
    return id;
  });
  return [next, made];
}

function pipeOf(w: NewPipe, from: string, to: string): Pipe {
  const via = w.line.slice(1, -1).map(place) as Line;
  const pipe: Pipe = { from, to, status: "new" };
  if (w.class) pipe.class = w.class;
  if (w.sizeIn > 0) pipe.nominal_in = w.sizeIn;
  if (w.zone) pipe.zone = w.zone;
  return withVia(pipe, via);
}

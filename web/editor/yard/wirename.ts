// How wires are spoken of: by colour or tape, else by the terminal they are on.

import { recordsOf } from "./records";
import type { Yard } from "./session";
import type { Option } from "./ui";

/** The name of a wire as one speaks of it. */
export function wireName(yard: Yard, id: string): string {
  const w = yard.plan.proof?.wires?.[id];
  if (!w) return "a wire no longer here";
  if (w.mark) return w.mark;
  return w.terminal ? `the wire on ${w.terminal}` : `wire ${w.order ?? "without a mark"}`;
}

export const wireOptions = (yard: Yard): Option[] =>
  recordsOf(yard.plan, "wires").map(([value]) => ({ value, label: wireName(yard, value) }));

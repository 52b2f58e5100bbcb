// The list of everything that can be told, in the order a search gives it.

import type { Command } from "./commands";
import { matches } from "./matching";

/** A command or a page action as the list has it. */
export interface Told {
  readonly key: string;
  readonly title: string;
  readonly detail: string;
  /** Other words it is found by. */
  readonly more: string;
  readonly keys: readonly string[];
  /** "on" or "off" for what is either; "in hand" for the tool that is. */
  readonly state: string;
  /** Why it cannot run now. */
  readonly off: string | null;
}

export function toldOf(c: Command): Told {
  const can = c.enabled();
  const state = c.on ? stateOf(c.id.startsWith("tool."), c.on()) : "";
  return {
    key: c.id,
    title: c.title,
    detail: c.says,
    more: `${c.says} ${c.also ?? ""} ${c.group} ${c.keys.join(" ")}`,
    keys: c.keys,
    state,
    off: can === true ? null : can,
  };
}

function stateOf(tool: boolean, on: boolean): string {
  if (tool) return on ? "in hand" : "";
  return on ? "on" : "off";
}

export interface Ranked {
  readonly told: Told;
  readonly marks: readonly number[];
}

/** A command used lately comes before others that match as well. */
const LATELY = 5;

/** What a query finds, best first; without a query everything, what was used lately first. */
export function searchCommands(all: readonly Told[], query: string, lately: readonly string[]): Ranked[] {
  const late = (t: Told): number => (lately.includes(t.key) ? lately.length - lately.indexOf(t.key) : 0);
  if (query.trim() === "") {
    return [...all].sort((a, b) => late(b) - late(a)).map((told) => ({ told, marks: [] }));
  }
  const found = all.flatMap((told) => {
    const m = matches(query, told.title, told.more, true);
    if (!m) return [];
    // What cannot run now comes after what can and matches as well.
    const score = m.score + (late(told) > 0 ? LATELY : 0) - (told.off ? LATELY : 0);
    return [{ told, marks: m.marks, score }];
  });
  return found.sort((a, b) => b.score - a.score);
}

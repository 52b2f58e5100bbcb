// Whose water a drawn pipe carries: the main's before a zone valve, the zone's
// after it. Read off what the pipe joins, unless it was chosen.

import type { Point } from "./geometry";
import { find, type Plan, parts, type Ref } from "./model";
import { networkAt, nodeOf, ownerOf, pipesAt } from "./pipenet";
import { type Corner, place } from "./shape";
import type { Kit } from "./tools/tool";

/** A zone, "" for the main, or null where nothing tells. A valve has the main on one side and its zone on the other. */
type Water = string | null;

interface End {
  readonly water: Water;
  /** The zone of the valve that stands there. */
  readonly valve?: string;
}

/** The water of each piece of one drawn line: a zone, or "" for the main. */
export function watersOf(
  p: Plan,
  pieces: readonly (readonly Corner[])[],
  kit: Pick<Kit, "pipeFor">,
): string[] {
  if (kit.pipeFor === "main") return pieces.map(() => "");
  if (find(p, "zones", kit.pipeFor)) return pieces.map(() => kit.pipeFor);
  const ends = [...pieces.map((l) => l[0]), pieces.at(-1)?.at(-1)].map((c) => endAt(p, place(c as Corner)));
  const out: Water[] = pieces.map((_, i) => ends[i]?.water ?? ends[i + 1]?.water ?? null);
  spread(out, ends);
  out.forEach((w, i) => {
    out[i] = w ?? besideValve(p, ends[i], ends[i + 1]);
    spread(out, ends);
  });
  return out.map((w) => w ?? "");
}

/** What is known goes on to the pieces beside it, and changes sides at a valve. */
function spread(out: Water[], ends: readonly End[]): void {
  const go = (i: number, from: number, through: End | undefined): void => {
    const w = out[from];
    if (out[i] !== null || w === null || w === undefined) return;
    out[i] = through?.valve === undefined ? w : w === "" ? through.valve : "";
  };
  for (let i = 1; i < out.length; i++) go(i, i - 1, ends[i]);
  for (let i = out.length - 2; i >= 0; i--) go(i, i + 1, ends[i + 1]);
}

/** Of a pipe at a valve: the main where only the zone's pipe is there yet, or between two valves; else the zone. */
function besideValve(p: Plan, a: End | undefined, b: End | undefined): Water {
  if (a?.valve !== undefined && b?.valve !== undefined) return "";
  const zone = a?.valve ?? b?.valve;
  if (zone === undefined) return null;
  const node = nodeOf(p, `valves/${zone}`);
  const there = node ? pipesAt(p, node).map((id) => find(p, "pipes", id)?.zone ?? "") : [];
  return there.length > 0 && !there.includes("") ? "" : zone;
}

function endAt(p: Plan, at: Point): End {
  const here = networkAt(p, at);
  if (!here) return { water: null };
  if (here.is === "pipe") return { water: find(p, "pipes", here.id)?.zone ?? "" };
  if (here.is === "owner") return ofOwner(p, here.ref);
  const n = find(p, "nodes", here.id);
  const owner = n ? ownerOf(p, n) : null;
  if (owner) return ofOwner(p, owner);
  const waters = new Set(pipesAt(p, here.id).map((id) => find(p, "pipes", id)?.zone ?? ""));
  const [only] = waters;
  return { water: waters.size === 1 && only !== undefined ? only : null };
}

function ofOwner(p: Plan, owner: Ref): End {
  const [c, id] = parts(owner);
  if (c === "valves") return { water: null, valve: id };
  return { water: c === "heads" ? (find(p, "heads", id)?.zone ?? null) : "" };
}

// Where a paste goes: its middle to the pointer, on the corner or the grid there;
// pasted again without pointing elsewhere, on by the same way, so that copies
// never lie on each other unseen.

import { type Clip, pasteThings } from "./edit";
import { minus, type Point, samePoint, times } from "./geometry";
import { has, type Plan, type Ref } from "./model";
import { type SnapKind, snaps } from "./snap";
import { indexOf } from "./snapindex";
import { boundsOfAll } from "./things";

/** What was pasted last. */
export interface Pasted {
  readonly clip: Clip;
  /** The way of the first of these pastes. */
  readonly by: Point;
  readonly times: number;
  readonly made: readonly Ref[];
}

export interface PasteAsk {
  readonly clip: Clip;
  /** The pointer and how near counts as on, in feet; null when it is off the board. */
  readonly pointer: { readonly raw: Point; readonly reach: number } | null;
  /** Whether corners draw it, and whether the grid does. */
  readonly snap: boolean;
  readonly gridSnap: boolean;
  readonly step: number;
  readonly last: Pasted | null;
}

/** The places that draw the middle of a paste: an edge would be too many. */
const drawing: readonly SnapKind[] = ["end", "crossing", "middle", "centre"];

/** The way a paste is moved from where it was copied, and the how-manieth in a row it is. */
export function pasteWay(p: Plan, q: PasteAsk): { by: Point; times: number } {
  const by = firstWay(p, q);
  const again =
    q.last && q.last.clip === q.clip && samePoint(q.last.by, by) && q.last.made.some((r) => has(p, r));
  const n = again && q.last ? q.last.times + 1 : 1;
  return { by, times: n };
}

function firstWay(p: Plan, q: PasteAsk): Point {
  const beside: Point = [2 * q.step, -2 * q.step];
  const [trial, there] = pasteThings(p, q.clip, [0, 0]);
  const b = boundsOfAll(trial, there);
  if (!b || !q.pointer) return beside;
  const middle: Point = [(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2];
  const { raw, reach } = q.pointer;
  const corner = q.snap
    ? snaps(indexOf(p), { pointer: raw, reach }).find((s) => drawing.includes(s.kind))
    : undefined;
  const way = minus(corner?.at ?? raw, middle);
  // By whole steps, so that what was drawn on the grid lies on it again.
  const tidy: Point =
    corner || !q.gridSnap ? way : times([Math.round(way[0] / q.step), Math.round(way[1] / q.step)], q.step);
  return samePoint(tidy, [0, 0]) ? beside : tidy;
}

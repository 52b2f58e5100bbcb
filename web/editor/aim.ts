// From where the pointer is to the place it means: holds first, then snaps.

import { add, distance, type Point } from "./geometry";
import { type Anchor, type Held, hold } from "./holds";
import { raySnaps, type Snap, snaps } from "./snap";
import type { SnapIndex, Source } from "./snapindex";
import type { Aim } from "./tools/tool";

/** Screen tolerance in pixels: a mouse is sure to 8, a fingertip to 18. */
export const MOUSE_PX = 8;
export const TOUCH_PX = 18;

/** The aids that may be on. */
export interface AidsOn {
  readonly snap: boolean;
  readonly gridSnap: boolean;
  readonly ortho: boolean;
}

export interface Keys {
  readonly shift: boolean;
  readonly alt: boolean;
  readonly ctrl: boolean;
}

export interface AimAsk {
  readonly raw: Point;
  /** From the pointer to the place being moved. */
  readonly lead: Point | null;
  readonly anchor: Anchor | null;
  readonly own: readonly Point[];
  readonly skip: ((s: Source) => boolean) | null;
  /** What is meant before all else near the pointer. */
  readonly prefers?: ((s: Source) => boolean) | null;
  readonly index: SnapIndex;
  readonly aids: AidsOn;
  readonly gridStep: number;
  readonly reach: number;
  readonly keys: Keys;
  /** Which of the candidates, counted by Tab. */
  readonly cycle: number;
  /** Whether the tool wants snapping at all now. */
  readonly snaps: boolean;
  /** The crosshair stands where the arrows put it: it snaps only when Tab asks. */
  readonly steady?: boolean;
}

/** A pointer place is kept to a ten-thousandth of a foot: finer is noise of the screen. */
const tidy = (p: Point): Point => [Math.round(p[0] * 1e4) / 1e4, Math.round(p[1] * 1e4) / 1e4];

/** The places the pointer may mean, best first. */
export function candidates(q: AimAsk): { held: Held | null; found: Snap[] } {
  const pointer = q.lead ? add(q.raw, q.lead) : q.raw;
  const held = q.anchor ? hold(q.anchor, pointer, { fine: q.keys.shift, square: q.aids.ortho }) : null;
  if (!q.snaps || q.keys.alt) return { held, found: [] };
  const ask = {
    pointer: held?.at ?? pointer,
    reach: q.reach,
    anchor: q.anchor?.at ?? null,
    own: q.aids.snap ? q.own : [],
    grid: q.aids.gridSnap && !q.steady ? q.gridStep : null,
    skip: q.aids.snap ? (q.skip ?? undefined) : () => true,
    prefers: q.prefers ?? undefined,
  };
  if (held && q.anchor)
    return { held, found: raySnaps(q.index, { ...ask, anchor: q.anchor.at, deg: held.deg }) };
  return { held, found: snaps(q.index, ask) };
}

export function aimFor(q: AimAsk): Aim {
  const { held, found } = candidates(q);
  const pointer = q.lead ? add(q.raw, q.lead) : q.raw;
  const pick =
    q.steady && q.cycle === 0 ? null : (found[wrap(q.cycle - (q.steady ? 1 : 0), found.length)] ?? null);
  const at = pick?.at ?? held?.at ?? tidy(pointer);
  return { at, raw: q.raw, snap: pick, held, reach: q.reach, ...q.keys };
}

const wrap = (k: number, n: number): number => (n === 0 ? 0 : ((k % n) + n) % n);

/** Whether two aims mean the same place, so that a crosshair need not be read out again. */
export const sameAim = (a: Aim | null, b: Aim | null): boolean =>
  a !== null && b !== null && distance(a.at, b.at) === 0 && a.snap?.kind === b.snap?.kind;

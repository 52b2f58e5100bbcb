// Where the user points: the pointer's pixel or the keyboard's crosshair, what
// is held with it, and the place that is aimed at.

import { type Aids, keepAids, loadAids, type Shelf } from "./aids";
import { type AimAsk, aimFor, candidates, type Keys, MOUSE_PX, TOUCH_PX } from "./aim";
import type { Point } from "./geometry";
import type { Grid } from "./grid";
import type { Sight } from "./layers";
import type { Snap } from "./snap";
import { indexOf, type Source } from "./snapindex";
import type { Aim, Around, Running } from "./tools/tool";
import { type Pixel, pixel, toFeet, type View } from "./view";

type Skip = ((s: Source) => boolean) | null;

/** What pointing is done on. */
export interface Ground {
  readonly view: View;
  readonly tool: Running;
  readonly around: Around;
  readonly grid: Grid;
}

const noKeys: Keys = { shift: false, alt: false, ctrl: false };

export class Pointing {
  aids: Aids;
  keys: Keys = noKeys;
  /** A button or finger is down, so that moves are drags. */
  stroke = false;
  /** The place aimed at, as of the last look. */
  aim: Aim | null = null;
  #at: Pixel | null = null;
  #coarse = false;
  #crosshair: Point | null = null;
  #placed: Point | null = null;
  #cycle = 0;

  constructor(
    readonly ground: Ground,
    readonly shelf: Shelf | null,
  ) {
    this.aids = loadAids(shelf);
  }

  setAids(part: Partial<Aids>): void {
    this.aids = { ...this.aids, ...part };
    keepAids(this.shelf, this.aids);
  }

  get crosshair(): Point | null {
    return this.#crosshair;
  }

  /** Where a finger is at work; null when none is. */
  get finger(): Pixel | null {
    return this.stroke && this.#coarse ? this.#at : null;
  }

  /** Whether there is anything to aim with. */
  get present(): boolean {
    return this.#crosshair !== null || this.#at !== null;
  }

  /** Where the crosshair starts: at the pointer, else at what was typed last. */
  get start(): Point | null {
    return this.#crosshair ?? (this.#at ? (this.aim?.at ?? null) : this.#placed);
  }

  /** The pointer is at a pixel; null when it left the board. */
  to(at: Pixel | null, coarse: boolean): void {
    this.#at = at;
    this.#coarse = coarse;
    this.#crosshair = null;
    this.#cycle = 0;
  }

  /** The crosshair is put at a place, or away. */
  setCrosshair(p: Point | null): void {
    this.#crosshair = p;
    this.#cycle = 0;
  }

  /** A place was typed: the crosshair goes there, or will start there. */
  setPlaced(p: Point | null): void {
    if (!p) return;
    this.#placed = p;
    if (this.#crosshair) this.#crosshair = p;
  }

  /** What was chosen by Tab is used up. */
  forgetCycle(): void {
    this.#cycle = 0;
  }

  /** Goes to the next place the pointer may mean; false when there is no other. */
  cycle(by: number): boolean {
    const q = this.#ask();
    if (!q) return false;
    const { found } = candidates(q);
    if (found.length < (q.steady ? 1 : 2)) return false;
    this.#cycle += by;
    return true;
  }

  /** Works out what is aimed at. */
  look(): Aim | null {
    const q = this.#ask();
    this.aim = q ? aimFor(q) : null;
    return this.aim;
  }

  /** The aim, or the middle of the board when nothing points. */
  get aimOrMiddle(): Aim {
    if (this.aim) return this.aim;
    const { view } = this.ground;
    const at = toFeet(view, pixel(view.width / 2, view.height / 2));
    return { at, raw: at, snap: null, held: null, reach: MOUSE_PX / view.scale, ...this.keys };
  }

  /** The snap to show a sign for. What is being moved covers the sign of the grid. */
  get sign(): Snap | null {
    const { tool } = this.ground;
    const snap = tool.aims() ? (this.aim?.snap ?? null) : null;
    return snap?.kind === "grid" && tool.lead() ? null : snap;
  }

  #ask(): AimAsk | null {
    const { view, tool, around, grid } = this.ground;
    const raw = this.#crosshair ?? (this.#at ? toFeet(view, this.#at) : null);
    if (!raw) return null;
    return {
      raw,
      lead: this.#crosshair ? null : tool.lead(),
      anchor: tool.anchor(around),
      own: tool.own(),
      skip: unseen(tool.skip(), around.sight),
      prefers: tool.prefers(),
      index: indexOf(around.plan),
      aids: this.aids,
      gridStep: grid.snap,
      reach: (this.#coarse ? TOUCH_PX : MOUSE_PX) / view.scale,
      keys: this.keys,
      cycle: this.#cycle,
      snaps: tool.aims(),
      steady: this.#crosshair !== null,
    };
  }
}

/** What is hidden is never snapped to. */
function unseen(skip: Skip, sight: Sight | undefined): Skip {
  if (!sight) return skip;
  return (s) => sight.hides(s.ref) || (skip?.(s) ?? false);
}

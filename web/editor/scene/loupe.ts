// A loupe beside the finger while it places a point or pulls a handle: what lies
// under the fingertip, magnified, with a cross at the place meant.

import type { Point } from "../geometry";
import type { Plan, Ref } from "../model";
import { parts } from "../model";
import type { Corner } from "../shape";
import { indexOf } from "../snapindex";
import { isClosed, ringsOf } from "../things";
import type { Pixel, View } from "../view";
import { attr, outlinePath, s } from "./svg";

export interface Under {
  readonly view: View;
  /** Where the finger is; null: no finger is placing anything. */
  readonly finger: Pixel | null;
  /** The place meant. */
  readonly at: Point;
  /** Something is snapped to. */
  readonly snapped: boolean;
  /** The document before the gesture, and as the gesture has it. */
  readonly still: Plan;
  readonly plan: Plan;
  readonly selection: ReadonlySet<Ref>;
  readonly draft: readonly Corner[];
}

const RADIUS = 58;
/** From the finger to the middle of the loupe: clear of the hand. */
const AWAY = 104;
const TIMES = 2;
const CROSS = `M-${RADIUS} 0H-6M6 0H${RADIUS}M0 -${RADIUS}V-6M0 6V${RADIUS}`;
/** The shapes of more selected things than this are not followed in the loupe. */
const MOST_FOLLOWED = 3;

export class Loupe {
  readonly el = s("g", { class: "loupe", "aria-hidden": "true", visibility: "hidden" });
  readonly #world = s("g");
  readonly #lines = s("path", { class: "loupe-line" });
  readonly #dots = s("path", { class: "loupe-dots" });
  readonly #draft = s("path", { class: "draft-line" });
  readonly #cross = s("path", { class: "loupe-cross", d: CROSS });

  constructor() {
    const round = s("clipPath", { id: "loupe-round" }, s("circle", { r: RADIUS }));
    const inside = s("g", { "clip-path": "url(#loupe-round)" });
    this.#world.append(this.#lines, this.#draft);
    inside.append(s("circle", { class: "loupe-glass", r: RADIUS }), this.#world, this.#dots, this.#cross);
    this.el.append(round, inside, s("circle", { class: "loupe-rim", r: RADIUS }));
  }

  show(u: Under): void {
    attr(this.el, { visibility: u.finger ? null : "hidden" });
    if (!u.finger) return;
    const { px, py } = loupeAt(u.finger, u.view);
    attr(this.el, { transform: `translate(${px} ${py})` });
    this.el.classList.toggle("snapped", u.snapped);
    const k = u.view.scale * TIMES;
    const [x, y] = u.at;
    attr(this.#world, { transform: `matrix(${k} 0 0 ${-k} ${-x * k} ${y * k})` });
    attr(this.#draft, { d: u.draft.length > 1 ? outlinePath(u.draft, false) : "" });
    const reach = RADIUS / k;
    attr(this.#lines, { d: shapesNear(u, reach) });
    const spots = indexOf(u.still).pointsNear(u.at, reach);
    const dot = (p: Point) => `M${(p[0] - x) * k - 3} ${-(p[1] - y) * k - 3}h6v6h-6Z`;
    attr(this.#dots, {
      d: spots
        .filter((p) => !u.selection.has(p.ref))
        .map((p) => dot(p.at))
        .join(""),
    });
  }
}

/** Above the finger; beside it where there is no room above. */
export function loupeAt(finger: Pixel, view: Pick<View, "width">): Pixel {
  const above = finger.py - AWAY;
  if (above >= RADIUS + 4) return { px: within(finger.px, view.width), py: above };
  const left = finger.px > view.width / 2;
  return { px: finger.px + (left ? -AWAY : AWAY), py: Math.max(finger.py, RADIUS + 4) };
}

const within = (px: number, width: number): number =>
  Math.min(Math.max(px, RADIUS + 4), Math.max(width - RADIUS - 4, RADIUS + 4));

/** The outlines and lines that pass through the loupe: what is pulled as it is now, the rest as it stands. */
function shapesNear(u: Under, reach: number): string {
  const near = new Set(
    indexOf(u.still)
      .edgesNear(u.at, reach)
      .map((e) => e.ref),
  );
  const followed = u.selection.size <= MOST_FOLLOWED ? [...u.selection] : [];
  for (const r of followed) near.add(r);
  return [...near]
    .flatMap((r) => ringsOf(u.selection.has(r) ? u.plan : u.still, r).map((ring) => ringPath(r, ring)))
    .join("");
}

const ringPath = (r: Ref, ring: readonly Corner[]): string => outlinePath(ring, isClosed(parts(r)[0]));

// The hatches that tell the kinds of ground apart without their colours. Each
// is drawn in pixels and kept at that size by its transform.

import type { Area, Kind } from "../model";
import { attr, s } from "./svg";

interface Hatch {
  readonly size: number;
  readonly d: string;
  readonly turn?: number;
  readonly dots?: boolean;
}

/** What has a hatch: kinds of ground, the unusual ways of watering, and what is to be removed. */
export type Sign = Exclude<Kind, "planting"> | "point" | "by_hand" | "none" | "remove";

/** Planting watered by sprinklers has none: the map of its water shows there. */
const hatches: Readonly<Record<Sign, Hatch>> = {
  building: { size: 7, d: "M0 3.5H7", turn: 45 },
  paving: { size: 14, d: "M0 0.5H14M0 7.5H14M3.5 0V7.5M10.5 7.5V14.5" },
  ground: { size: 10, d: "M2 2h.01M7 4h.01M4.5 7.5h.01M9 8.8h.01", dots: true },
  right_of_way: { size: 12, d: "M0 6H6", turn: -45 },
  no_dig: { size: 12, d: "M0 6H12M6 0V12", turn: 45 },
  point: { size: 14, d: "M3.5 3.5h.01M10.5 10.5h.01", dots: true },
  by_hand: { size: 14, d: "M3.5 1.5V5.5M1.5 3.5H5.5" },
  none: { size: 16, d: "M0 4H5" },
  remove: { size: 22, d: "M4 4L10 10M10 4L4 10" },
  water: { size: 16, d: "M0 4Q4 0 8 4T16 4M-8 12Q-4 8 0 12T8 12T16 12" },
};

export const hatchID = (sign: Sign, of = ""): string => `hatch-${of}${sign}`;

/** The hatch of an area; null for planting under sprinklers. */
export function hatchOf(a: Pick<Area, "kind" | "watering">): Sign | null {
  if (a.kind !== "planting") return a.kind;
  return !a.watering || a.watering === "overhead" ? null : a.watering;
}

export class Hatches {
  readonly el: SVGDefsElement;
  readonly #patterns: { el: SVGPatternElement; turn: number }[] = [];

  /** of: what tells the ids of these from those of another picture on the page. */
  constructor(of = "") {
    this.el = s("defs");
    for (const [sign, h] of Object.entries(hatches)) {
      const line = s("path", { d: h.d, class: `hatch-line hatch-${sign}${h.dots ? " hatch-dots" : ""}` });
      const el = s(
        "pattern",
        { id: hatchID(sign as Sign, of), patternUnits: "userSpaceOnUse", width: h.size, height: h.size },
        line,
      );
      this.#patterns.push({ el, turn: h.turn ?? 0 });
      this.el.append(el);
    }
  }

  /** Keeps the hatch at its size on the screen. */
  scale(pixelsPerFoot: number): void {
    const k = 1 / pixelsPerFoot;
    for (const { el, turn } of this.#patterns)
      attr(el, { patternTransform: `scale(${k} ${-k}) rotate(${turn})` });
  }
}

// The ground between the spot heights, as lines of one level each. The server
// works them out: they lie on the ground that the levels of pipes and heads are
// taken from.

import type { Contour, Design, XY } from "../design";
import { type Row, Rows, setText } from "../dom";
import { attr, pointsPath, s, translate } from "./svg";

interface Item {
  readonly level: string;
  readonly line: readonly XY[];
}

export class Contours {
  readonly el = s("g", { class: "contours", "aria-hidden": "true" }); // the heights themselves are named
  readonly #rows = new Rows<Item>(this.el, (i, n) => `${i.level} ${n}`, contourRow);

  show(design: Design | null): void {
    const all = (design?.ground ?? []).flatMap(({ level, lines }: Contour) =>
      lines.map((line) => ({ level, line })),
    );
    this.#rows.show(all);
  }
}

/** A line shorter than this, in feet, has no level written on it. */
const LEAST_FT = 8;

function contourRow(): Row<Item> {
  const under = s("path", { class: "contour-under" });
  const path = s("path", { class: "contour" });
  const text = s("text", { class: "contour-text", y: 3 });
  const at = s("g", {}, s("g", { class: "fixed" }, text));
  const el = s("g", {}, under, path, at);
  let before: Item["line"] | null = null;
  return {
    el,
    update({ level, line }) {
      if (before === line) return;
      before = line;
      for (const p of [under, path]) attr(p, { d: pointsPath(line, false) });
      const { place, long } = half(line);
      attr(at, { transform: translate(place) });
      setText(text, long >= LEAST_FT ? level : "");
    },
  };
}

/** The length of a line, and the place half-way along it. */
export function half(line: readonly XY[]): { place: XY; long: number } {
  const steps = line.slice(1).map((b, i) => {
    const a = line[i] as XY;
    return { a, b, far: Math.hypot(b[0] - a[0], b[1] - a[1]) };
  });
  const long = steps.reduce((sum, k) => sum + k.far, 0);
  let left = long / 2;
  for (const { a, b, far } of steps) {
    if (left <= far && far > 0) {
      const share = left / far;
      return { place: [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])], long };
    }
    left -= far;
  }
  return { place: line[0] ?? [0, 0], long };
}

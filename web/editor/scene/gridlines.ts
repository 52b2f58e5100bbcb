// The grid, as two paths in pixels made anew when the view changes.

import type { Grid } from "../grid";
import { shown, toPixel, type View } from "../view";
import { attr, s } from "./svg";

export class GridLines {
  readonly el = s("g", { class: "grid-lines", "aria-hidden": "true" });
  readonly #fine = s("path", { class: "grid-fine" });
  readonly #strong = s("path", { class: "grid-strong" });
  readonly #axes = s("path", { class: "grid-axes" });

  constructor() {
    this.el.append(this.#fine, this.#strong, this.#axes);
  }

  show(view: View, grid: Grid | null): void {
    if (!grid) {
      attr(this.#fine, { d: "" });
      attr(this.#strong, { d: "" });
      attr(this.#axes, { d: "" });
      return;
    }
    const lines = { fine: "", strong: "", axes: "" };
    // One board more on every side, for when the picture is carried along by a moving view.
    const own = shown(view);
    const [w, h] = [own.maxX - own.minX, own.maxY - own.minY];
    const b = { minX: own.minX - w, maxX: own.maxX + w, minY: own.minY - h, maxY: own.maxY + h };
    const add = (k: number, d: string) => {
      lines[k === 0 ? "axes" : k % grid.every === 0 ? "strong" : "fine"] += d;
    };
    for (let k = Math.ceil(b.minX / grid.step); k * grid.step <= b.maxX; k++) {
      add(k, `M${crisp(toPixel(view, [k * grid.step, 0]).px)} ${-view.height}V${2 * view.height}`);
    }
    for (let k = Math.ceil(b.minY / grid.step); k * grid.step <= b.maxY; k++) {
      add(k, `M${-view.width} ${crisp(toPixel(view, [0, k * grid.step]).py)}H${2 * view.width}`);
    }
    attr(this.#fine, { d: lines.fine });
    attr(this.#strong, { d: lines.strong });
    attr(this.#axes, { d: lines.axes });
  }
}

/** The middle of a pixel, where a line one pixel wide is sharp. */
const crisp = (n: number): number => Math.round(n) + 0.5;

// The map under the drawing. The canvas has one pixel a cell and is placed by a
// CSS transform, so panning and zooming repaint nothing, and a dragged head
// repaints only the rectangle its water changed.

import type { Frame } from "./design";
import type { MapFrame } from "./live";
import { hatched, type Pixels, pixels, type Theme } from "./palette";
import { toPixel, type View } from "./view";

interface Rect {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

const join = (a: Rect | null, b: Rect): Rect =>
  a
    ? {
        x0: Math.min(a.x0, b.x0),
        y0: Math.min(a.y0, b.y0),
        x1: Math.max(a.x1, b.x1),
        y1: Math.max(a.y1, b.y1),
      }
    : b;

interface Picture {
  readonly frame: Frame;
  readonly cells: Uint8Array;
}

export class Heat {
  /** What the live channel brings, shown or not. */
  #live: Picture | null = null;
  /** What is shown in its place. */
  #other: Picture | null = null;
  /** What the canvas is laid out for. */
  #laid: Frame | null = null;
  #look: Pixels;
  #dirty: Rect | null = null;
  #view: View | null = null;
  #on = true;

  constructor(
    readonly canvas: HTMLCanvasElement,
    theme: Theme,
  ) {
    this.#look = pixels(theme);
  }

  get on(): boolean {
    return this.#on;
  }

  /** Shows or hides the map. */
  toggle(on = !this.#on): void {
    this.#on = on;
    this.canvas.hidden = !on;
  }

  setTheme(theme: Theme): void {
    this.#look = pixels(theme);
    this.#anew();
    this.paint();
  }

  /**
   * Takes the cells of a frame. Frames come in order and each builds on the one
   * before, so every one is taken, painted or not.
   */
  take(f: MapFrame): void {
    const g = f.design.frame;
    let live = this.#live;
    const fits = live !== null && sameFrame(live.frame, g);
    if (!live || !fits) {
      live = { frame: g, cells: new Uint8Array(g.nx * g.ny) };
      this.#live = live;
    }
    for (let row = 0; row < f.h; row++) {
      const from = row * f.w;
      live.cells.set(f.cells.subarray(from, from + f.w), (f.y + row) * g.nx + f.x);
    }
    if (this.#other) return;
    if (!fits) this.#anew();
    else if (f.w > 0 && f.h > 0)
      this.#dirty = join(this.#dirty, { x0: f.x, y0: f.y, x1: f.x + f.w, y1: f.y + f.h });
  }

  /** Shows another map in place of the live one, which goes on below it; null brings that back. */
  showInstead(other: Picture | null): void {
    if (other === this.#other) return;
    this.#other = other;
    this.#anew();
    this.paint();
  }

  get #shown(): Picture | null {
    return this.#other ?? this.#live;
  }

  /** Lays the canvas out for what is shown and has all of it painted. */
  #anew(): void {
    const g = this.#shown?.frame;
    if (!g) return;
    if (!this.#laid || !sameFrame(this.#laid, g)) {
      this.canvas.width = Math.max(1, g.nx);
      this.canvas.height = Math.max(1, g.ny);
      this.#laid = g;
      this.#place();
    }
    this.#dirty = { x0: 0, y0: 0, x1: g.nx, y1: g.ny };
  }

  /** Paints what changed since the last painting. */
  paint(): void {
    const d = this.#dirty;
    const shown = this.#shown;
    const g = shown?.frame;
    const pen = this.canvas.getContext("2d");
    if (!d || !shown || !g || !pen || d.x1 <= d.x0 || d.y1 <= d.y0) return;
    const w = d.x1 - d.x0;
    const h = d.y1 - d.y0;
    const image = new ImageData(w, h);
    const out = new Uint32Array(image.data.buffer);
    for (let y = d.y0; y < d.y1; y++) {
      const to = (d.y1 - 1 - y) * w; // the picture's first row is the northernmost
      const from = y * g.nx;
      for (let x = d.x0; x < d.x1; x++) {
        const b = shown.cells[from + x] as number;
        out[to + x - d.x0] = (b > 200 && hatched(x, y) ? this.#look.hatch[b] : this.#look.plain[b]) as number;
      }
    }
    pen.putImageData(image, d.x0, g.ny - d.y1);
    this.#dirty = null;
  }

  /** Puts the canvas where the view wants it. */
  follow(view: View): void {
    this.#view = view;
    this.#place();
  }

  #place(): void {
    const g = this.#laid;
    const v = this.#view;
    if (!g || !v) return;
    const { px, py } = toPixel(v, [g.x_ft, g.y_ft + g.ny * g.cell_ft]);
    const k = v.scale * g.cell_ft;
    this.canvas.style.transform = `matrix(${k}, 0, 0, ${k}, ${px}, ${py})`;
  }
}

const sameFrame = (a: Frame, b: Frame): boolean =>
  a.x_ft === b.x_ft && a.y_ft === b.y_ft && a.cell_ft === b.cell_ft && a.nx === b.nx && a.ny === b.ny;

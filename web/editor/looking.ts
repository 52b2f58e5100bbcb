// Moving the view: zooming with its short pause for labels, panning, fitting,
// and bringing into view what something on the page asks for.

import type { Drawing } from "./drawing";
import { type Bounds, boundsOf, inside, joinBounds, type Point } from "./geometry";
import type { Ref } from "./model";
import { boundsOfAll, roomAround } from "./things";
import { fit, lookAt, type Pixel, panBy, pixel, shown, zoomAt } from "./view";

/** The view rests when wheel and fingers have this long, in ms: then it is drawn sharp and labels come back. */
const SETTLE_MS = 110;

/** What one press of + or - zooms by. */
const PRESS = 1.25;

export class Looking {
  #timer: ReturnType<typeof setTimeout> | null = null;

  constructor(readonly drawing: Drawing) {
    drawing.board.subscribe("look", () => this.#asked());
  }

  zoom(at: Pixel, factor: number): void {
    this.drawing.zooming = true;
    this.#moving();
    this.drawing.setView(zoomAt(this.drawing.view, at, factor));
  }

  /** Moves the ground by pixels as part of a gesture. */
  slide(dx: number, dy: number): void {
    this.#moving();
    this.pan(dx, dy);
  }

  #moving(): void {
    this.drawing.moving = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.settle(), SETTLE_MS);
  }

  /** The view rests. */
  settle(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    this.drawing.zooming = false;
    this.drawing.moving = false;
    this.drawing.board.emit("view");
    this.drawing.redraw();
  }

  /** One step in or out, about the pointer if it is over the board. */
  press(way: 1 | -1, at: Pixel | null): void {
    const { view } = this.drawing;
    this.zoom(at ?? pixel(view.width / 2, view.height / 2), way === 1 ? PRESS : 1 / PRESS);
    this.settle();
  }

  pan(dx: number, dy: number): void {
    this.drawing.setView(panBy(this.drawing.view, dx, dy));
  }

  fitPlan(): void {
    const b = this.drawing.content();
    if (b) this.#show(b);
  }

  fitThings(refs: Iterable<Ref>): void {
    const b = boundsOfAll(this.drawing.board.plan, refs);
    if (b) this.#show(roomAround(b));
  }

  #show(b: Bounds): void {
    this.drawing.setView(fit(this.drawing.view, b));
    this.settle();
  }

  /** Brings a place into view by the shortest move, if it is out of it. */
  keepInView(p: Point): void {
    const { view } = this.drawing;
    const edge = 40 / view.scale;
    const s = shown(view);
    const x = Math.min(0, p[0] - edge - s.minX) + Math.max(0, p[0] + edge - s.maxX);
    const y = Math.min(0, p[1] - edge - s.minY) + Math.max(0, p[1] + edge - s.maxY);
    if (x !== 0 || y !== 0) this.drawing.setView({ ...view, left: view.left + x, top: view.top + y });
  }

  // What is wholly in view stays where it is; else the view goes there, and
  // closer only when what is asked for would be a speck.
  #asked(): void {
    const d = this.drawing;
    const look = d.board.look;
    if (!look) return;
    if (!look.gentle) d.dom.board.scrollIntoView({ block: "nearest" }); // on a narrow page it may be scrolled away
    const things = boundsOfAll(d.board.plan, look.about);
    const b = joinBounds(things, look.at ? boundsOf([look.at]) : null);
    if (!b) return;
    const room = roomAround(b);
    if (look.gentle && inside(b, shown(d.view))) return;
    const fits =
      (room.maxX - room.minX) * d.view.scale < d.view.width &&
      (room.maxY - room.minY) * d.view.scale < d.view.height;
    if (!fits) {
      this.#show(room);
      return;
    }
    const middle: Point = look.at ?? [(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2];
    const scale = look.gentle ? d.view.scale : Math.max(d.view.scale, 8);
    d.setView(lookAt({ ...d.view, scale }, middle));
    this.settle();
  }
}

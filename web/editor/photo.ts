// The picture under the drawing as it is shown: one image under the map, put
// where the plan has it by a CSS transform, so that panning, zooming and
// dragging repaint nothing. Its colours are the photograph's own in both themes.

import { pictureThere, pictureURL } from "./api";
import { h } from "./dom";
import type { Drawing } from "./drawing";
import type { Underlay } from "./model";
import { isSized, onPlan } from "./picture";
import type { Board } from "./state";
import { allThings, PICTURE } from "./things";
import { toPixel, type View, zoomAt } from "./view";

/** How the picture stands: none named, on its way, on show, not on this machine, or no answer. */
export type PhotoState = "none" | "loading" | "shown" | "missing" | "away";

const missing = "The picture under this plan is not on this machine: choose it again.";

/** How long a picture that got no answer waits to be asked for again, in ms. */
const AGAIN_MS = 3000;

export class Photo {
  readonly el = h("img", {
    class: "underlay",
    id: "underlay",
    alt: "",
    draggable: "false",
    decoding: "async",
    hidden: true,
  });
  state: PhotoState = "none";
  #sha = "";
  #was: Underlay | undefined;

  /** changed is called when the state changes. */
  constructor(
    readonly board: Board,
    readonly drawing: Drawing,
    over: Element,
    public changed: () => void = () => {},
  ) {
    over.before(this.el);
    this.el.addEventListener("load", () => this.#loaded());
    this.el.addEventListener("error", () => void this.#failed());
    board.subscribe("plan", () => this.#follow());
    board.subscribe("view", () => this.#place());
    this.#follow();
  }

  #follow(): void {
    const u = this.board.plan.underlay;
    const was = this.#was;
    this.#was = u;
    if ((u?.sha256 ?? "") !== this.#sha) this.#ask(u?.sha256 ?? "");
    if (u === was) return;
    this.#place();
    this.#noteSize();
    if (u && was && u.sha256 === was.sha256 && u.ft_per_px !== was.ft_per_px) this.#rescaled(was, u);
  }

  #ask(sha: string): void {
    this.#sha = sha;
    this.el.hidden = true;
    if (sha) this.el.src = pictureURL(sha);
    else this.el.removeAttribute("src");
    this.#turn(sha ? "loading" : "none");
  }

  #turn(state: PhotoState): void {
    if (state === this.state) return;
    this.state = state;
    this.el.dataset.state = state;
    this.changed();
  }

  #loaded(): void {
    this.#turn("shown");
    this.el.hidden = false;
    this.#noteSize();
    this.#place();
  }

  /** A plan file from elsewhere need not say the size; without it nothing can be pointed at. */
  #noteSize(): void {
    const u = this.board.committed.underlay;
    if (this.state !== "shown" || this.board.earlier || u?.sha256 !== this.#sha || isSized(u)) return;
    const { naturalWidth: width_px, naturalHeight: height_px } = this.el;
    const underlay = { ...u, width_px, height_px };
    void this.board.commit("Note the size of the picture", { ...this.board.committed, underlay });
  }

  async #failed(): Promise<void> {
    const sha = this.#sha;
    if (!sha) return;
    const there = await pictureThere(sha);
    if (sha !== this.#sha) return;
    if (there === "no") {
      this.#turn("missing");
      if (!this.board.notice) this.board.show({ kind: "hint", sentence: missing });
      return;
    }
    this.#turn("away");
    setTimeout(() => {
      if (sha === this.#sha && this.state === "away") this.#ask(sha);
    }, AGAIN_MS);
  }

  /** Asks again for a picture that was just sent. */
  again(): void {
    if (this.state === "missing" || this.state === "away") this.#ask(this.#sha);
  }

  #place(): void {
    const u = this.board.plan.underlay;
    if (!u || !isSized(u)) return;
    const { style } = this.el;
    style.width = `${u.width_px}px`;
    style.height = `${u.height_px}px`;
    style.opacity = String(u.opacity ?? 1);
    style.transform = matrix(u, this.drawing.view);
  }

  /** Scaled anew, what was on show stays in view: on an empty plan the view follows the picture. */
  #rescaled(was: Underlay, u: Underlay): void {
    const { drawing, board } = this;
    if (allThings(board.plan).length > 0) {
      board.lookAt({ about: [PICTURE], gentle: true });
      return;
    }
    if (!isSized(u)) return;
    const still = onPlan(u, u.scaled_by?.from ?? was.scaled_by?.from ?? { x_px: 0, y_px: u.height_px });
    drawing.setView(zoomAt(drawing.view, toPixel(drawing.view, still), was.ft_per_px / u.ft_per_px));
    drawing.looking.settle();
  }
}

/** The CSS transform that lays pixels of the picture, right and down, on the board. */
function matrix(u: Underlay & { width_px: number; height_px: number }, view: View): string {
  const k = u.ft_per_px * view.scale;
  const turn = ((u.rotate_deg ?? 0) * Math.PI) / 180;
  const [c, s] = [k * Math.cos(turn), k * Math.sin(turn)];
  const { px, py } = toPixel(view, onPlan(u, { x_px: 0, y_px: 0 }));
  return `matrix(${c}, ${-s}, ${s}, ${c}, ${px}, ${py})`;
}

// The SVG scene: the plan in feet under one transform, and what lies over it in
// pixels. Each part is drawn again only when what it is made from has changed.

import type { Design } from "../design";
import type { Grid } from "../grid";
import type { Plan, Ref } from "../model";
import { transformOf } from "../view";
import { Grounds } from "./grounds";
import { GridLines } from "./gridlines";
import { Hatches } from "./hatches";
import { Heads } from "./heads";
import { Objects } from "./objects";
import { type Over, Overlay } from "./overlay";
import { attr, s } from "./svg";
import type { Shown } from "./thing";

export interface Picture extends Over {
  readonly plan: Plan;
  readonly design: Design | null;
  readonly selection: ReadonlySet<Ref>;
  readonly hover: Ref | null;
  readonly stop: Ref | null;
  readonly grid: Grid | null;
  /** A zoom is under way: labels are hidden and hatches left as they are. */
  readonly zooming: boolean;
}

/** Pixels a foot below which the tags of heads, and the numbers in their marks, are left out. */
const TAGS_FROM = 5;
const NUMBERS_FROM = 2;
/** Below this a mark is drawn smaller, so that a whole park is not a heap of marks. */
const FULL_MARKS_FROM = 4;

export class Scene {
  readonly #hatches = new Hatches();
  readonly #grid = new GridLines();
  readonly #grounds = new Grounds();
  readonly #objects = new Objects();
  readonly #heads = new Heads();
  readonly #overlay = new Overlay();
  readonly #world = s("g", { class: "world" });
  #before: Picture | null = null;

  constructor(readonly svg: SVGSVGElement) {
    this.#world.append(
      this.#grounds.el,
      this.#heads.wedges,
      this.#objects.el,
      this.#grounds.names,
      this.#heads.el,
      this.#overlay.world,
    );
    svg.replaceChildren(this.#hatches.el, this.#grid.el, this.#world, this.#overlay.el);
  }

  draw(p: Picture): void {
    const was = this.#before;
    this.#look(p, was);
    const shown: Shown = p;
    const state = !was || was.selection !== p.selection || was.hover !== p.hover || was.stop !== p.stop;
    const differs = (...keys: (keyof Plan)[]) => !was || keys.some((k) => was.plan[k] !== p.plan[k]);
    if (state || differs("areas", "site", "show")) this.#grounds.show(p.plan, shown);
    if (state || differs("trees", "barriers", "keep_dry", "notes", "show")) this.#objects.show(shown);
    if (state || differs("heads", "nozzles", "zones", "show") || was?.design !== p.design) this.#heads.show(shown);
    if (was?.design !== p.design) this.#grounds.showGaps(p.design);
    if (!p.zooming && (differs("areas") || was?.view.scale !== p.view.scale || was?.zooming)) {
      this.#grounds.fitNames(p.plan, p.view.scale);
    }
    this.#overlay.show(p);
    this.#before = p;
  }

  /** The view, and what depends on nothing else. */
  #look(p: Picture, was: Picture | null): void {
    if (was?.view !== p.view) attr(this.#world, { transform: transformOf(p.view) });
    if (was?.view !== p.view || was?.grid !== p.grid) this.#grid.show(p.view, p.grid);
    const { scale } = p.view;
    if (was?.view.scale !== scale) {
      const size = scale >= FULL_MARKS_FROM ? 1 : Math.max(0.45, scale / FULL_MARKS_FROM);
      this.svg.style.setProperty("--px", String(1 / scale));
      this.svg.style.setProperty("--mark", String(size / scale));
      this.svg.classList.toggle("no-tags", scale < TAGS_FROM);
      this.svg.classList.toggle("no-numbers", scale < NUMBERS_FROM);
    }
    if (was?.zooming !== p.zooming) this.svg.classList.toggle("zooming", p.zooming);
    if (!p.zooming && (was?.view.scale !== scale || was?.zooming)) this.#hatches.scale(scale);
  }
}

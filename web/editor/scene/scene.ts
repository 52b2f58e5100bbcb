// The SVG scene: the plan in feet under one transform, and over it, in a layer
// of its own, what changes with every move of the pointer. Each part is drawn
// again only when what it is made from has changed; while the view moves
// nothing is drawn again, the whole picture is moved by the compositor.

import type { Design } from "../design";
import type { Grid } from "../grid";
import type { Plan, Ref } from "../model";
import { toPixel, transformOf, type View } from "../view";
import { type AuditLook, Cans } from "./cans";
import { Contours } from "./contours";
import { Fixtures, fixtureKeys } from "./fixtures";
import { type FlowLook, Flows } from "./flows";
import { Frame } from "./frame";
import { GridLines } from "./gridlines";
import { Grounds } from "./grounds";
import { Hatches } from "./hatches";
import { Heads, type Lifted, noneLifted } from "./heads";
import { Loupe, type Under } from "./loupe";
import { Objects } from "./objects";
import { type Over, Overlay } from "./overlay";
import { Pipes, pipeKeys } from "./pipes";
import { placePipeWords } from "./pipewords";
import { attr, s } from "./svg";
import type { Shown } from "./thing";
import { Trenches } from "./trenches";
import { Wiring, wiringKeys } from "./wiring";

export interface Picture extends Over {
  readonly plan: Plan;
  readonly design: Design | null;
  readonly selection: ReadonlySet<Ref>;
  readonly hover: Ref | null;
  readonly stop: Ref | null;
  readonly grid: Grid | null;
  /** The document before the gesture under way; the same as plan when there is none. */
  readonly still: Plan;
  /** The view is on the move: the picture is carried along as it is and drawn sharp when it rests. */
  readonly moving: boolean;
  /** It is being zoomed: labels are hidden. */
  readonly zooming: boolean;
  /** How the water in the pipes is shown. */
  readonly flows: FlowLook;
  /** The audit whose cans are shown. */
  readonly audit: AuditLook;
  /** What lies under a finger that places something. */
  readonly under: Pick<Under, "finger" | "at" | "snapped">;
}

/** Pixels a foot below which the tags of heads, and the numbers in their marks, are left out. */
const TAGS_FROM = 5;
const NUMBERS_FROM = 2;

/** A carried picture is drawn anew when it has grown or shrunk by this factor, or slid by this share of the board. */
const MOST_GROWN = 2.5;
const MOST_SLID = 0.7;

/** What names and the words of pipes are made of and keep clear of. */
const wordKeys = ["areas", "heads", "trees", "keep_dry", "notes", "nodes", "pipes", ...fixtureKeys] as const;

export class Scene {
  readonly #hatches = new Hatches();
  readonly #grid = new GridLines();
  readonly #frame = new Frame();
  readonly #grounds = new Grounds();
  readonly #objects = new Objects();
  readonly #contours = new Contours();
  readonly #trenches = new Trenches();
  readonly #wiring = new Wiring();
  readonly #pipes = new Pipes();
  readonly #fixtures = new Fixtures();
  readonly #cans = new Cans();
  readonly #flows = new Flows();
  readonly #heads = new Heads();
  readonly #overlay = new Overlay();
  readonly #loupe = new Loupe();
  readonly #world = s("g", { class: "world" });
  readonly #aloft = s("g", { class: "world" });
  readonly #live = s("svg", { class: "scene scene-live", "aria-hidden": "true" });
  #before: Picture | null = null;
  /** The view the picture was drawn for. */
  #base: View | null = null;
  /** What the names of areas and the words of pipes were last placed for. */
  #written: { plan: Plan; scale: number } | null = null;
  /** The water in the pipes has changed since. */
  #flowed = false;

  constructor(readonly svg: SVGSVGElement) {
    this.#world.append(
      this.#frame.el,
      this.#grounds.el,
      this.#contours.el,
      this.#heads.wedges,
      this.#objects.el,
      this.#trenches.el,
      this.#wiring.el,
      this.#pipes.el,
      this.#flows.el,
      this.#fixtures.el,
      this.#grounds.names,
      this.#cans.el,
    );
    this.#aloft.append(this.#heads.upWedges, this.#overlay.world);
    svg.replaceChildren(this.#hatches.el, this.#grid.el, this.#world, this.#heads.el);
    this.#live.append(this.#aloft, this.#heads.upMarks, this.#overlay.el, this.#loupe.el);
    svg.after(this.#live);
  }

  draw(p: Picture): void {
    const was = this.#before;
    const base = this.#base;
    this.#look(p, was);
    const shown: Shown = p;
    const state = !was || was.selection !== p.selection || was.hover !== p.hover || was.stop !== p.stop;
    const differs = (...keys: (keyof Plan)[]) => !was || keys.some((k) => was.plan[k] !== p.plan[k]);
    if (state || differs("underlay", "show")) this.#frame.show(shown);
    if (state || differs("areas", "site", "show")) this.#grounds.show(p.plan, shown);
    if (state || differs("trees", "barriers", "keep_dry", "notes", "show")) this.#objects.show(shown);
    if (state || differs(...wiringKeys, "show")) this.#wiring.show(shown);
    if (state || differs(...pipeKeys, "pipe_classes", "show")) this.#pipes.show(shown);
    if (state || differs(...fixtureKeys, "show")) this.#fixtures.show(shown);
    const { audit, view } = p.audit;
    if (state || was?.audit.audit !== audit || was.audit.view !== view || differs("proof", "show"))
      this.#cans.show(shown, p.audit);
    const heads = state || this.#base !== base || differs("heads", "nozzles", "zones", "show");
    if (heads || was?.design !== p.design || was.still !== p.still) {
      this.#heads.show(shown, liftedOf(p), this.#base ?? p.view, p.view, performance.now());
    }
    if (was?.design !== p.design) this.#grounds.showGaps(p.design);
    this.#trenches.show(p.design?.digs ?? null);
    if (was?.design?.ground !== p.design?.ground) this.#contours.show(p.design);
    const { by, zone } = p.flows;
    const flows = was?.flows.by !== by || was.flows.zone !== zone || was.design?.pipes !== p.design?.pipes;
    if (flows || this.#base !== base || differs("pipes", "nodes"))
      this.#flows.show(p.plan, p.design, p.flows, (this.#base ?? p.view).scale);
    this.#write(p, flows && (by !== "plain" || was?.flows.by !== by));
    this.#overlay.show(p);
    this.#loupe.show({ ...p, ...p.under, draft: p.sketch.line ?? [] });
    this.#before = p;
  }

  /** Names, sizes and figures find their places when plan and view rest, not while something is dragged. */
  #write(p: Picture, flows: boolean): void {
    const scale = this.#base?.scale;
    this.#flowed ||= flows;
    if (scale === undefined || p.moving || p.still !== p.plan) return;
    const was = this.#written;
    if (!this.#flowed && was?.scale === scale && wordKeys.every((k) => was.plan[k] === p.plan[k])) return;
    this.#written = { plan: p.plan, scale };
    this.#flowed = false;
    const words = placePipeWords(p.plan, scale, this.#flows.figures());
    this.#grounds.writeNames(p.plan, words.names);
    this.#pipes.place(words.sizes, p);
    this.#flows.place(words.figures);
  }

  /** The view, and what depends on nothing else. */
  #look(p: Picture, was: Picture | null): void {
    const base = this.#base;
    const fresh = !base || !p.moving || tooFar(base, p.view);
    if (fresh && base !== p.view) this.#settle(p);
    else if (!fresh) this.svg.style.transform = carried(base, p.view);
    if (was?.grid?.step !== p.grid?.step && fresh) this.#grid.show(p.view, p.grid);
    if (was?.view !== p.view) attr(this.#aloft, { transform: transformOf(p.view) });
    if (was?.view.scale !== p.view.scale) sized(this.#live, p.view.scale);
    if (was?.zooming !== p.zooming) this.svg.classList.toggle("zooming", p.zooming);
    if (was?.sketch.faulty !== p.sketch.faulty) this.svg.classList.toggle("faulty", p.sketch.faulty ?? false);
  }

  /** Draws the picture for the view it now has. */
  #settle(p: Picture): void {
    const scale = this.#base?.scale;
    this.#base = p.view;
    this.svg.style.transform = "";
    attr(this.#world, { transform: transformOf(p.view) });
    this.#grid.show(p.view, p.grid);
    if (scale === p.view.scale) return;
    sized(this.svg, p.view.scale);
    this.#hatches.scale(p.view.scale);
  }
}

/** Sizes and labels that follow the scale. */
function sized(svg: SVGSVGElement, scale: number): void {
  svg.style.setProperty("--px", String(1 / scale));
  svg.classList.toggle("no-tags", scale < TAGS_FROM);
  svg.classList.toggle("no-numbers", scale < NUMBERS_FROM);
}

/** The transform that carries a picture drawn for one view to where another has it. */
function carried(base: View, view: View): string {
  const { px, py } = toPixel(view, [base.left, base.top]);
  const k = view.scale / base.scale;
  return `matrix(${k}, 0, 0, ${k}, ${px}, ${py})`;
}

function tooFar(base: View, view: View): boolean {
  const k = view.scale / base.scale;
  const { px, py } = toPixel(view, [base.left, base.top]);
  const slid = Math.max(Math.abs(px) / view.width, Math.abs(py) / view.height);
  const resized = base.width !== view.width || base.height !== view.height;
  return resized || k > MOST_GROWN || k < 1 / MOST_GROWN || slid > MOST_SLID * Math.max(1, k);
}

/** More heads than this are drawn where they are: lifting them would cost as much. */
const MOST_LIFTED = 60;

/**
 * The heads a gesture moves: drawn in the layer that is redrawn with every move.
 * Where some are new, none is lifted: below they would stand as first drawn.
 */
function liftedOf(p: Picture): Lifted {
  if (p.still === p.plan || p.still.heads === p.plan.heads) return noneLifted;
  const out = new Set<string>();
  for (const [id, h] of Object.entries(p.plan.heads ?? {})) {
    const was = p.still.heads?.[id];
    if (!was) return noneLifted;
    if (was !== h) out.add(id);
    if (out.size > MOST_LIFTED) return noneLifted;
  }
  return out;
}

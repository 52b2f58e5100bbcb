// Ways for pipes and wire through the ground, sought by the server and offered: shown
// on the board itself, compared, and one taken by one step.

import { type AskLong, isOf, Search, type Stage, takeStep } from "./asking";
import type { XY } from "./design";
import type { FigureView } from "./figures";
import { askLong } from "./longwork";
import { apply, type Patch, type Ref } from "./model";

/** What the server answers; the Go type is web.RouteView. */
export interface RouteView {
  rev: number;
  offered: boolean;
  says: string;
  at?: Ref;
  /** What the figures of each offer are, in their order. */
  rows: string[];
  offers: RouteOffer[];
  blocked: { what: Ref; name: string; at: XY; why: string }[];
  notes: string[];
  caution: string;
  evaluations: string;
}

/** One set of routes. */
export interface RouteOffer {
  name: string;
  says: string;
  /** None: the plan has these routes. */
  patch?: Patch;
  label: string;
  figures: string[];
  /** By figure: no offer has less. */
  least: boolean[];
  notes: string[];
}

/** What the page needs before it asks; the Go type is web.RouteOptions. */
export interface RouteOptions {
  zones: { id: string; name: string; says: string; can: boolean }[];
  figures: FigureView[];
  /** Why wire cannot be laid yet; "" where it can. */
  wire: string;
  caution: string;
}

/** What the user asks for. */
export interface RouteWish {
  /** These only; none: all that stand. */
  zones: readonly string[];
  wire: boolean;
  /** All that is drawn stays, and what is not joined yet is joined to it. */
  keep: boolean;
  valves: "as_placed" | "weighed";
}

export function question(w: RouteWish): string {
  const q = new URLSearchParams();
  if (w.zones.length > 0) q.set("zones", w.zones.join(","));
  q.set("wire", w.wire ? "yes" : "no");
  if (w.keep) q.set("keep", "yes");
  q.set("valves", w.valves);
  return q.toString();
}

/** taken: the routes are laid, and their pipes are to be sized. */
export type Phase = "asking" | "seeking" | "offered" | "taken";

export class Routing {
  phase: Phase = "asking";
  wish: RouteWish = { zones: [], wire: true, keep: false, valves: "as_placed" };
  view: RouteView | null = null;
  /** Of view.offers: what the board shows and what would be taken. */
  chosen = 0;
  trouble = "";
  #shown = false;
  readonly search: Search<RouteView>;

  constructor(
    readonly board: Stage,
    readonly changed: () => void,
    ask: AskLong<RouteView> = askLong,
  ) {
    const words = { of: "route", title: "Routing pipes", work: "Routes are sought" };
    this.search = new Search(board, words, changed, ask);
  }

  get offer(): RouteOffer | null {
    return this.view?.offers[this.chosen] ?? null;
  }

  set(part: Partial<RouteWish>): void {
    this.wish = { ...this.wish, ...part };
    this.changed();
  }

  async seek(): Promise<void> {
    if (this.phase === "seeking") return;
    this.#drop();
    this.trouble = "";
    this.phase = "seeking";
    const end = await this.search.seek(question(this.wish));
    if (!end) return; // left, or asked again
    const { view } = end;
    this.view = view;
    this.chosen = 0;
    // What blocks is shown even where nothing else can be offered.
    if (view && (view.offered || view.blocked.length > 0)) {
      this.phase = "offered";
      this.#preview();
    } else {
      this.phase = "asking";
      this.trouble = view?.says ?? end.why;
    }
    this.board.announce(view?.says ?? end.why);
    this.changed();
  }

  get stale(): boolean {
    return this.phase === "offered" && this.view !== null && this.view.rev !== this.board.rev;
  }

  /** Shows another of the offers. */
  choose(n: number): void {
    if (n === this.chosen || !this.view?.offers[n]) return;
    this.chosen = n;
    this.#preview();
    this.changed();
  }

  #preview(): void {
    const { view, offer } = this;
    if (!view || !isOf(view.rev, this.board)) return;
    if (offer?.patch) {
      this.#shown = true;
      this.board.preview(apply(this.board.committed, offer.patch));
    } else this.#unshow();
  }

  #unshow(): void {
    if (this.#shown) this.board.cancel();
    this.#shown = false;
  }

  /** To be called when the plan was changed: what is out of date is no longer shown. */
  look(): void {
    this.search.look();
    if (!this.stale) return;
    this.#unshow();
    this.changed();
  }

  async take(): Promise<boolean> {
    const { view, offer } = this;
    if (!view || !offer?.patch || this.phase !== "offered") return false;
    if (isOf(view.rev, this.board)) this.#shown = false;
    const took = await takeStep(this.board, view.rev, {
      label: offer.label,
      plan: apply(this.board.committed, offer.patch),
      says: `${offer.says} Undo takes it back. Next, size the pipes.`,
    });
    if (took) {
      this.#drop();
      this.phase = "taken";
      this.changed();
    }
    return took;
  }

  again(): void {
    this.#drop();
    this.phase = "asking";
    this.changed();
  }

  leave(): void {
    this.#drop();
    this.phase = "asking";
    this.trouble = "";
  }

  #drop(): void {
    this.search.drop();
    this.#unshow();
    this.view = null;
  }
}

// Layouts of heads for planting areas, sought by the server and offered while it
// seeks. What is chosen shows on the board as a drag does, water and all; nothing
// is changed until it is taken, and then by one step.

import { ask as get, type Outcome, planURL } from "./api";
import { type AskLong, isOf, notStored, Search, type Stage, stale, takeStep, whenStored } from "./asking";
import type { Frame } from "./design";
import { askLong } from "./longwork";
import { apply, find, type Patch, type Plan, parts, type Ref } from "./model";
import { count } from "./names";

/** What the server answers; the Go type is web.ArrangeView. */
export interface ArrangeView {
  rev: number;
  /** False: there are none, and says tells why. */
  offered: boolean;
  says: string;
  /** What stands in the way, of a refusal. */
  at?: Ref;
  /** The search has come to its end. */
  whole: boolean;
  columns: Column[];
  offers: OfferView[];
  answers: AnswerView[];
  notes: string[];
  caution: string;
  evaluations: string;
}

/** A measure by which layouts are compared. */
export interface Column {
  id: string;
  label: string;
  best: string;
}

/** One measure in words, with what it is sorted by. */
export interface Figure {
  text: string;
  sort: number;
  rank?: "good" | "fair" | "poor";
}

/** One layout for every area, all taken by one step. */
export interface OfferView {
  name: string;
  says: string;
  picks: PickView[];
  figures: Figure[];
  patch: Patch;
  label: string;
}

export interface PickView {
  area: string;
  layout: number;
}

/** What can be offered for one area. */
export interface AnswerView {
  area: string;
  name: string;
  rings: [number, number][][];
  layouts: LayoutView[];
  why?: string;
}

export interface LayoutView {
  family: string;
  kind: string;
  tidy: boolean;
  says: string;
  heads: StandView[];
  figures: Figure[];
  past: { label: string; text: string }[];
  map?: MapView;
  patch: Patch;
  label: string;
}

/** A head of a layout, to be drawn. */
export interface StandView {
  id: string;
  x_ft: number;
  y_ft: number;
  start_deg: number;
  /** 0 for strips. */
  sweep_deg: number;
  throw_ft: number;
  strip?: { ahead: boolean; back: boolean; left_ft: number; right_ft: number };
  stays?: boolean;
  nozzle: string;
  says: string;
}

/** A small map; the bytes in base64, the southernmost row first. */
export interface MapView extends Frame {
  cells: string;
}

/** What is asked before; the Go type is web.ArrangeOptions. */
export interface ArrangeOptions {
  rev: number;
  areas: ArrangeArea[];
  families: StockFamily[];
  limits: PastLimit[];
  angles: Choice[];
  throws: Choice[];
  efforts: Choice[];
  seed: number;
  seed_most: number;
  rules: LocalRuleView[];
  group: { limit: string; gpm: number; days: number; hours: number; need_in: number; need: string };
}

export interface ArrangeArea {
  id: string;
  name: string;
  cover: string;
  size: string;
  width: string;
  family?: string;
  suggests?: string;
  /** That make room, and that stay. */
  heads: number;
  stay: number;
  says: string;
  can: boolean;
  why?: string;
}

export interface StockFamily {
  id: string;
  name: string;
  says: string;
  nozzles: { id: string; name: string; says: string; own: boolean; used: number }[];
}

export interface PastLimit {
  id: "hard" | "bare" | "other";
  words: string;
  usual: number;
  most: number;
}

export interface Choice {
  value: string;
  words: string;
  usual?: boolean;
}

export interface LocalRuleView {
  id: string;
  words: string;
  value: string;
  feet: number;
  usual: string;
  source: string;
  edited: boolean;
}

/** Which of some figures are the best by a column; none where all read alike. */
export function bestOf(c: Column, figures: readonly (Figure | undefined)[]): Set<number> {
  const known = figures.filter((f) => f !== undefined);
  const sorts = known.map((f) => f.sort);
  const best = c.best === "most" ? Math.max(...sorts) : Math.min(...sorts);
  // What reads the same is as good: a tenth of a percent is no better layout.
  const text = known.find((f) => f.sort === best)?.text;
  if (known.every((f) => f.text === text)) return new Set();
  return new Set(figures.flatMap((f, i) => (f?.text === text ? [i] : [])));
}

/** What the user asks for; what is left out is the usual. */
export interface Wish {
  areas: readonly string[];
  /** Empty: every one. */
  families: readonly string[];
  nozzles: readonly string[];
  /** Percent of the flow, by limit. */
  limits: Readonly<Partial<Record<PastLimit["id"], number>>>;
  angle?: string;
  throw?: string;
  effort?: string;
  seed?: number;
}

export const usualWish: Wish = { areas: [], families: [], nozzles: [], limits: {} };

/** A wish as the server reads it. */
export function question(w: Wish): string {
  const q = new URLSearchParams();
  const list = (name: string, of: readonly string[]): void => {
    if (of.length > 0) q.set(name, of.join(","));
  };
  list("areas", w.areas);
  list("families", w.families);
  list("nozzles", w.nozzles);
  for (const [id, percent] of Object.entries(w.limits)) q.set(id, String(percent));
  for (const name of ["angle", "throw", "effort", "seed"] as const) {
    const v = w[name];
    if (v !== undefined && v !== "") q.set(name, String(v));
  }
  return q.toString();
}

/** What a limit can be set to, in percent: none, the usual share and a few besides. */
export function shares(l: PastLimit): number[] {
  const all = [0, 1, 2, 5, 10, 20, 30, 50].filter((s) => s <= l.most);
  return [...new Set([...all, l.usual])].sort((a, b) => a - b);
}

/** The planting areas a selection means: those in it, and those its heads stand for is left to the server. */
export const areasChosen = (p: Plan, selection: Iterable<Ref>): string[] =>
  [...selection].flatMap((r) => {
    const [c, id] = parts(r);
    return c === "areas" && find(p, "areas", id)?.kind === "planting" ? [id] : [];
  });

/** The areas that are ticked at first: those selected, else the only one there is, else none. */
export function tickedFirst(of: readonly ArrangeArea[], chosen: readonly string[]): string[] {
  const can = of.filter((a) => a.can).map((a) => a.id);
  const own = can.filter((id) => chosen.includes(id));
  return own.length > 0 ? own : can.length === 1 ? can : [];
}

/** What the heads that are there do, over the areas ticked. */
export function roomSays(of: readonly ArrangeArea[], ticked: readonly string[]): string {
  const own = of.filter((a) => ticked.includes(a.id));
  const go = own.reduce((n, a) => n + a.heads, 0);
  const stay = own.reduce((n, a) => n + a.stay, 0);
  const both = [
    go > 0 ? `${count(go, "head")} ${go === 1 ? "makes" : "make"} room for new ones.` : "",
    stay > 0 ? `${count(stay, "head")}, locked or existing, ${stay === 1 ? "stays" : "stay"}.` : "",
  ];
  return both.filter(Boolean).join(" ");
}

/** How far the panel is. */
export type Phase = "asking" | "seeking" | "offered";

/** One going-through of the panel: the wish, what was found, and which of it is chosen. */
export class Arranging {
  phase: Phase = "asking";
  options: ArrangeOptions | null = null;
  /** Why the options could not be had, or nothing was found. */
  trouble = "";
  wish: Wish = usualWish;
  view: ArrangeView | null = null;
  /** The search was stopped before its end. */
  stopped = false;
  #name = ""; // of the offer the user chose; "": the first
  #own = new Map<string, number>(); // layouts the user picked by area, in place of the offer's
  readonly search: Search<ArrangeView>;
  #shown: ArrangeView | null = null; // what the board shows an offer of

  constructor(
    readonly board: Stage,
    readonly changed: () => void,
    ask: AskLong<ArrangeView> = askLong,
    readonly options_: (url: string) => Promise<Outcome<ArrangeOptions>> = (url) => get("GET", url),
  ) {
    this.search = new Search(board, { of: "arrange", title: "Arranging heads", work }, changed, ask);
  }

  /** Gets the options for the plan as it is stored, with the areas of a selection ticked. */
  async open(chosen: readonly string[]): Promise<void> {
    this.phase = "asking";
    this.trouble = "";
    if (!(await whenStored(this.board))) {
      this.trouble = notStored(this.board, work);
      return this.changed();
    }
    const answer = await this.options_(`${planURL(this.board.id)}/arrange/options`);
    if (answer.ok) {
      this.options = answer.value;
      this.wish = {
        ...this.wish,
        areas: tickedFirst(answer.value.areas, chosen.length > 0 ? chosen : this.wish.areas),
      };
    } else this.trouble = answer.error;
    this.changed();
  }

  set(part: Partial<Wish>): void {
    if (this.options) this.trouble = "";
    this.wish = { ...this.wish, ...part };
    this.changed();
  }

  /** Why it cannot be asked for yet; "" when it can. */
  get wants(): string {
    if (!this.options) return this.trouble;
    if (this.options.areas.length === 0) return "There is no planting area yet. Draw one first.";
    return this.wish.areas.length > 0 ? "" : "Tick the areas to arrange heads on.";
  }

  /** Seeks; resolves when the search has ended or was stopped. What is left of one that was, stays. */
  async seek(): Promise<void> {
    if (this.wants || this.phase === "seeking") return;
    this.#drop();
    this.phase = "seeking";
    this.trouble = "";
    const end = await this.search.seek(question(this.wish), (best) => this.#take(best));
    if (!end) return; // left, or asked again
    const { view } = end;
    this.stopped = end.stopped && view !== null;
    this.phase = view && (end.why !== "" || view.offered) ? "offered" : "asking";
    if (view && end.why === "") return this.#take(view);
    if (!view) {
      this.trouble = end.why;
      this.board.announce(end.why);
    } else if (!end.stopped) this.board.show({ kind: "hint", sentence: end.why });
    this.changed();
  }

  /** A better answer: what the user chose stays chosen, if it is still offered. */
  #take(v: ArrangeView): void {
    this.view = v;
    this.#own.clear();
    this.#preview();
    this.changed();
  }

  /** The place of the chosen offer in the list. */
  get chosen(): number {
    const at = this.view?.offers.findIndex((o) => o.name === this.#name) ?? -1;
    return Math.max(at, 0);
  }

  get offer(): OfferView | null {
    return this.view?.offers[this.chosen] ?? null;
  }

  choose(i: number): void {
    this.#name = this.view?.offers[i]?.name ?? "";
    this.#own.clear();
    this.#preview();
    this.changed();
  }

  /** The layout of each area as chosen, the user's own picks before the offer's. */
  get picks(): { answer: AnswerView; layout: number }[] {
    const view = this.view;
    return (view?.answers ?? []).flatMap((answer) => {
      const of = this.offer?.picks.find((p) => p.area === answer.area)?.layout;
      const layout = this.#own.get(answer.area) ?? of;
      return layout !== undefined && answer.layouts[layout] ? [{ answer, layout }] : [];
    });
  }

  /** The user picked another layout for some area than the offer has. */
  get mixed(): boolean {
    return this.#own.size > 0;
  }

  pick(area: string, layout: number): void {
    const of = this.offer?.picks.find((p) => p.area === area)?.layout;
    if (layout === of) this.#own.delete(area);
    else this.#own.set(area, layout);
    this.#preview();
    this.changed();
  }

  /** How many heads would be set, and how many stay. */
  get heads(): { set: number; stay: number } {
    const all = this.picks.flatMap(({ answer, layout }) => answer.layouts[layout]?.heads ?? []);
    const stay = all.filter((h) => h.stays).length;
    return { set: all.length - stay, stay };
  }

  /** The plan with what is chosen. */
  #made(): Plan | null {
    const { offer, board } = this;
    if (!offer) return null;
    if (!this.mixed) return apply(board.committed, offer.patch);
    return this.picks.reduce(
      (p, { answer, layout }) => apply(p, answer.layouts[layout]?.patch ?? {}),
      board.committed,
    );
  }

  get label(): string {
    if (!this.mixed) return this.offer?.label ?? "";
    return `Arrange ${count(this.heads.set, "head")}`;
  }

  /** The plan has changed since: what was found is of another. */
  get stale(): boolean {
    const v = this.view;
    return v !== null && this.phase !== "asking" && v.rev !== this.board.rev;
  }

  #preview(): void {
    const v = this.view;
    const made = v && isOf(v.rev, this.board) ? this.#made() : null;
    this.#shown = made ? v : null;
    if (made) this.board.preview(made);
    else this.board.cancel();
  }

  /** The board shows what is chosen. */
  get shows(): boolean {
    return this.#shown !== null && this.#shown === this.view;
  }

  /** To be called when the plan was changed or stored: what is out of date is no longer shown. */
  look(): void {
    this.search.look();
    if (!this.stale || !this.#shown) return;
    this.#shown = null;
    this.board.cancel();
    this.board.announce(stale);
    this.changed();
  }

  /** Takes what is chosen as one step; false when the plan has changed since. */
  async take(): Promise<boolean> {
    const v = this.view;
    const made = this.#made();
    if (!v || !made || this.phase !== "offered") return false;
    const says = `${count(this.heads.set, "head")} arranged. Undo takes it back.`;
    if (isOf(v.rev, this.board)) this.#shown = null;
    return takeStep(this.board, v.rev, { label: this.label, plan: made, says });
  }

  /** Back to the options, with what was found let go. */
  again(): void {
    this.#drop();
    this.phase = "asking";
    this.changed();
  }

  /** Leaves: a search is stopped, and the board shows the plan again. */
  leave(): void {
    this.#drop();
  }

  #drop(): void {
    this.search.drop();
    if (this.#shown) this.board.cancel();
    this.#shown = null;
    this.view = null;
    this.#own.clear();
    this.#name = "";
    this.stopped = false;
  }
}

const work = "Heads are arranged";

// The watering plan as the server works it out for the plan as it is stored: worked
// out by itself while its bench is open, shown until a newer one is there, and what it
// offers taken by one step.

import type { Outcome } from "./api";
import { type AskLong, isOf, Search, type Stage, takeStep } from "./asking";
import { askLong } from "./longwork";
import { apply, type Patch } from "./model";

/** What the server answers; the Go type is web.WaterView. */
export interface WaterView {
  rev: number;
  /** False: there is nothing to water, and says tells why. */
  offered: boolean;
  says: string;
  /** At peak. */
  fits: boolean;
  assumed: string[] | null;
  /** Of months. */
  peak: number;
  months: WaterMonth[] | null;
  why: string[] | null;
  eases: WaterEase[] | null;
  areas: WaterArea[] | null;
  saved: string;
  adjust: string;
  caution: string;
}

/** The program of a month. */
export interface WaterMonth {
  name: string;
  needed: boolean;
  fits: boolean;
  says: string;
  gallons: string;
  percent: string;
  programs: WaterProgram[] | null;
}

/** What is keyed in under one letter. */
export interface WaterProgram {
  letter: string;
  days: string;
  starts: string;
  ends: string;
  stations: WaterStation[] | null;
}

export interface WaterStation {
  zone: string;
  station: string;
  name: string;
  minutes: string;
  cycles: string;
  plain: string;
}

/** A limit made wider, and what that comes to. */
export interface WaterEase {
  says: string;
  fits: boolean;
  label: string;
  patch?: Patch;
}

/** One area at peak. */
export interface WaterArea {
  id: string;
  name: string;
  need: string;
  gets: string;
  lasts: string;
  /** What comes from zones that do not stand for it; "" when none. */
  beside: string;
  counts: boolean;
  turn: boolean;
}

/** What the page asks climate, plants and soil with; the Go type is web.WaterOptions. */
export interface WaterOptions {
  zones: { zone: number; name: string }[] | null;
  climate: string;
  months: WaterClimate[] | null;
  needs: WaterNeed[] | null;
  columns: string;
  /** What is taken for hours and controller where the plan does not say it. */
  usual: Record<string, string>;
}

/** What an area is reckoned with now. */
export interface WaterNeed {
  id: string;
  name: string;
  facts: WaterFact[] | null;
  /** The figures that it may have its own of, by its members. */
  taken: Record<string, string>;
}

export interface WaterClimate {
  name: string;
  et: string;
  rain: string;
}

export interface WaterFact {
  what: string;
  value: string;
  source: string;
}

/** What came of reading a weather file; the Go type is web.WeatherRead. */
export interface WeatherRead {
  says: string;
  notes: string[] | null;
  errors: { line: number; says: string }[] | null;
  months: WaterClimate[] | null;
  label: string;
  /** None while there is any error. */
  patch?: Patch;
}

/** How long the plan must have stood still before it is worked out anew, in ms. */
const STILL_MS = 250;

type Later = (fn: () => void, ms: number) => unknown;

export class WaterPlan {
  /** The newest answer; of an older plan while the next is worked out. */
  view: WaterView | null = null;
  options: WaterOptions | null = null;
  /** Of view.months, as chosen; null: the peak. */
  #month: number | null = null;
  /** Why there is no newer answer. */
  trouble = "";
  #open = false;
  #asked: number | null = null; // the revision the last question was of, answered or not
  #still = 0;
  readonly search: Search<WaterView>;

  constructor(
    readonly board: Stage,
    readonly changed: () => void,
    readonly askOptions: () => Promise<Outcome<WaterOptions>>,
    ask: AskLong<WaterView> = askLong,
    readonly later: Later = (fn, ms) => setTimeout(fn, ms),
  ) {
    const words = { of: "water", title: "Working out the program", work: "The program is worked out" };
    this.search = new Search(board, words, changed, ask);
    board.subscribe("saved", () => this.look());
  }

  /** What is shown is not of what is drawn now. */
  get stale(): boolean {
    return this.view !== null && !isOf(this.view.rev, this.board);
  }

  /** It was called off or failed: it is worked out again when asked for, or when the plan changes. */
  get stopped(): boolean {
    return this.#open && !this.search.underway && this.trouble !== "";
  }

  /** Of view.months: what is shown. */
  get month(): number {
    return this.#month ?? this.view?.peak ?? 0;
  }

  choose(month: number): void {
    this.#month = month === this.view?.peak ? null : month;
    this.changed();
  }

  /** The bench was opened: from now on it is worked out by itself. */
  open(): void {
    this.#open = true;
    if (this.view && !this.stale) this.#asked = this.view.rev;
    else void this.workOut();
    void this.#options();
  }

  leave(): void {
    this.#open = false;
    this.#asked = null;
    this.#still++;
    this.trouble = "";
    this.search.drop();
  }

  /** To be called when the plan was changed or stored. */
  look(): void {
    if (!this.#open) return;
    this.search.look();
    const { rev, saved } = this.board;
    if (saved.state !== "yes" || rev === this.#asked) return;
    const now = ++this.#still;
    this.later(() => {
      if (now === this.#still && this.#open && this.board.rev !== this.#asked) void this.workOut();
    }, STILL_MS);
  }

  /** Works it out now. */
  async workOut(): Promise<void> {
    this.trouble = "";
    this.#still++;
    const asked = this.board.rev;
    this.#asked = asked;
    const end = await this.search.seek("");
    if (!end) return; // left, or asked again
    const { view } = end;
    if (view) {
      const news = view.says !== this.view?.says;
      this.view = view;
      this.#asked = view.rev;
      if (this.#month !== null && !view.months?.[this.#month]) this.#month = null;
      if (news) this.board.announce(view.says);
      void this.#options();
    } else if (end.stopped && !isOf(asked, this.board)) {
      this.#asked = null; // the plan went on: it is worked out once that is stored
    } else this.trouble = end.why;
    this.changed();
    this.look();
  }

  async #options(): Promise<void> {
    const answer = await this.askOptions();
    if (!answer.ok) return;
    this.options = answer.value;
    this.changed();
  }

  /** Takes what would make it fit, as one step. */
  async ease(e: WaterEase): Promise<boolean> {
    const { view, board } = this;
    if (!view || !e.patch) return false;
    return takeStep(board, view.rev, {
      label: e.label,
      plan: apply(board.committed, e.patch),
      says: `${e.says} Undo takes it back.`,
    });
  }
}

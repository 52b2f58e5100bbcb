// Arcs turned off an area that the heads of other zones throw over: sought by the
// server, shown on the board, taken by one step.

import type { StandView } from "./arranging";
import { type AskLong, isOf, Search, type Stage, takeStep } from "./asking";
import type { BeforeAfter } from "./improving";
import { askLong } from "./longwork";
import { apply, type Patch, type Ref } from "./model";

/** What the server answers; the Go type is web.TurnOffView. */
export interface TurnOffView {
  rev: number;
  /** False: it is not worth it, or there is nothing to turn off; says tells why. */
  offered: boolean;
  says: string;
  at?: Ref;
  area: string;
  area_name: string;
  changes: { head: string; says: string; from: StandView; to: StandView }[] | null;
  rows: { area: string; name: string; readings: BeforeAfter[] | null }[] | null;
  notes: string[] | null;
  caution: string;
  evaluations: string;
  label: string;
  patch?: Patch;
}

export class TurningOff {
  /** The area it is sought for; null: none. */
  area: string | null = null;
  view: TurnOffView | null = null;
  trouble = "";
  #shown = false;
  readonly search: Search<TurnOffView>;

  constructor(
    readonly board: Stage,
    readonly changed: () => void,
    ask: AskLong<TurnOffView> = askLong,
  ) {
    const words = { of: "turnoff", title: "Turning arcs off", work: "Arcs are turned" };
    this.search = new Search(board, words, changed, ask);
  }

  /** The board shows what is offered. */
  get shown(): boolean {
    return this.#shown;
  }

  get stale(): boolean {
    return this.view !== null && !isOf(this.view.rev, this.board);
  }

  async seek(area: string): Promise<void> {
    this.drop();
    this.area = area;
    const end = await this.search.seek(`area=${encodeURIComponent(area)}`);
    if (!end) return; // left, or asked for another
    this.view = end.view;
    this.trouble = end.view ? "" : end.why;
    if (this.view?.patch && isOf(this.view.rev, this.board)) {
      this.#shown = true;
      this.board.preview(apply(this.board.committed, this.view.patch));
    }
    this.board.announce(this.view?.says ?? this.trouble);
    this.changed();
  }

  /** To be called when the plan was changed: what is out of date is no longer shown. */
  look(): void {
    this.search.look();
    if (!this.stale || !this.#shown) return;
    this.#unshow();
    this.changed();
  }

  async take(): Promise<boolean> {
    const v = this.view;
    if (!v?.patch) return false;
    if (isOf(v.rev, this.board)) this.#shown = false;
    const took = await takeStep(this.board, v.rev, {
      label: v.label,
      plan: apply(this.board.committed, v.patch),
      says: `${v.label}. Undo takes it back.`,
    });
    if (took) this.drop();
    return took;
  }

  /** Lets go of what was found. */
  drop(): void {
    this.search.drop();
    this.#unshow();
    this.area = null;
    this.view = null;
    this.trouble = "";
    this.changed();
  }

  #unshow(): void {
    if (this.#shown) this.board.cancel();
    this.#shown = false;
  }
}

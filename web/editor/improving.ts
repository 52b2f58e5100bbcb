// Mends of a layout, sought by the server: the fewest changes that cure what is
// dry, unmatched or wetted past the edge. Each is shown and taken by itself, as
// one step, and stands on those before it.

import type { StandView } from "./arranging";
import { type AskLong, isOf, Search, type Stage, stale, whenStored } from "./asking";
import { askLong } from "./longwork";
import { apply, type Json, type Patch, type Plan, type Ref } from "./model";
import { count } from "./names";

/** What the server answers; the Go type is web.ImproveView. */
export interface ImproveView {
  rev: number;
  offered: boolean;
  says: string;
  at?: Ref;
  /** In the order to take them. */
  mends: MendView[];
  /** What no such change cures. */
  left: string[];
  caution: string;
  evaluations: string;
}

/** One change, on the plan with all before it taken. */
export interface MendView {
  kind: "arc" | "throw" | "nozzle" | "move" | "add" | "remove";
  heads: string[];
  area: string;
  area_name: string;
  says: string;
  why: string;
  x_ft: number;
  y_ft: number;
  readings: BeforeAfter[];
  from: StandView[];
  to: StandView[];
  patch: Patch;
  label: string;
}

export interface BeforeAfter {
  id: string;
  label: string;
  before: string;
  after: string;
  change: "better" | "worse" | "same";
}

/** What became of a mend. */
export type Fate = "open" | "taken" | "skipped";

/** The places of the plan that a patch changes: "heads/h7", "zones/z2". */
export function placesOf(patch: Patch): Set<string> {
  const out = new Set<string>();
  for (const [c, things] of Object.entries(patch)) {
    // A row of a table that several use alike is no matter of dispute.
    if (c === "nozzles" || c === "bodies") continue;
    if (things === null || typeof things !== "object" || Array.isArray(things)) out.add(c);
    else for (const id of Object.keys(things as { [k: string]: Json })) out.add(`${c}/${id}`);
  }
  return out;
}

const meet = (a: ReadonlySet<string>, b: ReadonlySet<string>): boolean => [...a].some((x) => b.has(x));

/** Those before a mend that are not taken and change what it changes too. */
export function standsOn(mends: readonly MendView[], fates: readonly Fate[], i: number): number[] {
  const own = placesOf(mends[i]?.patch ?? {});
  return mends.flatMap((m, k) => (k < i && fates[k] !== "taken" && meet(placesOf(m.patch), own) ? [k] : []));
}

/** What a mend is known by when the same question is asked again. */
const sameAs = (m: MendView): string => `${m.kind} ${m.heads.join(",")} ${m.says}`;

export type Phase = "seeking" | "offered" | "failed";

export class Improving {
  phase: Phase = "seeking";
  view: ImproveView | null = null;
  fates: Fate[] = [];
  /** The mend the board shows; null: the plan as it is. */
  shown: number | null = null;
  /** Why there is nothing to show. */
  trouble = "";
  /** One was taken before another that it was reckoned with: the figures of the rest are of that order. */
  rough = false;
  areas: readonly string[] = [];
  #rev = 0; // the plan the rest of the mends are of
  #taking = false;
  #skipped = new Set<string>();
  readonly search: Search<ImproveView>;

  constructor(
    readonly board: Stage,
    readonly changed: () => void,
    ask: AskLong<ImproveView> = askLong,
  ) {
    const words = { of: "improve", title: "Seeking mends", work: "Mends are sought" };
    this.search = new Search(board, words, changed, ask);
  }

  /** Seeks mends for some areas; none: all. */
  async seek(areas: readonly string[] = this.areas): Promise<void> {
    this.#drop();
    this.areas = areas;
    this.phase = "seeking";
    this.trouble = "";
    const end = await this.search.seek(
      areas.length > 0 ? `areas=${areas.map(encodeURIComponent).join(",")}` : "",
    );
    if (!end) return; // left, or asked again
    if (end.why !== "" || !end.view) {
      this.phase = "failed";
      this.trouble = end.why;
    } else {
      this.phase = "offered";
      this.view = end.view;
      this.#rev = end.view.rev;
      this.rough = false;
      this.fates = end.view.mends.map((m) => (this.#skipped.has(sameAs(m)) ? "skipped" : "open"));
    }
    this.board.announce(this.view?.says ?? this.trouble);
    this.changed();
  }

  get mends(): readonly MendView[] {
    return this.view?.mends ?? [];
  }

  /** How many are still to be decided on. */
  get open(): number[] {
    return this.fates.flatMap((f, i) => (f === "open" ? [i] : []));
  }

  /** The plan has changed otherwise since. */
  get stale(): boolean {
    return this.view !== null && !this.#taking && this.#rev !== this.board.rev;
  }

  /** Why a mend cannot be taken now; "" when it can. */
  why(i: number): string {
    if (this.stale) return "The plan has changed since: ask again.";
    const on = standsOn(this.mends, this.fates, i);
    if (on.length === 0) return "";
    const names = on.map((k) => `mend ${k + 1}`).join(" and ");
    return `It goes on from ${names}: take ${on.length === 1 ? "that" : "those"} first.`;
  }

  /** The plan with a mend, and with those it goes on from. */
  #with(i: number): Plan {
    const on = [...standsOn(this.mends, this.fates, i), i];
    return on.reduce((p, k) => apply(p, this.mends[k]?.patch ?? {}), this.board.committed);
  }

  /** Shows a mend on the board; the same again: the plan as it is. */
  show(i: number): void {
    if (this.stale) {
      this.changed();
      return;
    }
    const m = this.mends[i];
    if (!m || this.shown === i || this.fates[i] === "taken") {
      this.hide();
      return;
    }
    this.shown = i;
    this.board.preview(this.#with(i));
    this.board.announce(`Shown on the board: ${m.says}`);
    this.changed();
  }

  hide(): void {
    if (this.shown === null) return;
    this.shown = null;
    this.board.cancel();
    this.changed();
  }

  skip(i: number): void {
    const m = this.mends[i];
    if (!m || this.fates[i] === "taken") return;
    const back = this.fates[i] === "skipped";
    if (back) this.#skipped.delete(sameAs(m));
    else this.#skipped.add(sameAs(m));
    this.fates[i] = back ? "open" : "skipped";
    if (!back && this.shown === i) this.hide();
    this.board.announce(`Mend ${i + 1} ${back ? "is open again" : "skipped"}.`);
    this.changed();
  }

  /** Takes one mend as one step. */
  async take(i: number): Promise<boolean> {
    const m = this.mends[i];
    if (!m || this.fates[i] !== "open" || this.why(i) !== "") return false;
    const before = this.fates.slice(0, i).some((f) => f !== "taken");
    return this.#step([i], m.label, `Mend ${i + 1} taken. Undo takes it back.`, before);
  }

  /** Those that taking all takes: the open ones that go on from none that is skipped. */
  get takable(): number[] {
    const after = [...this.fates];
    return this.open.filter((i) => {
      const free = standsOn(this.mends, after, i).length === 0;
      if (free) after[i] = "taken";
      return free;
    });
  }

  /** Takes all that are open, as one step. */
  async takeAll(): Promise<boolean> {
    const all = this.takable;
    const [only] = all;
    if (only === undefined || this.stale) return false;
    if (all.length === 1) return this.take(only);
    const says = `${count(all.length, "mend")} taken. Undo takes them back.`;
    const rough = this.fates.includes("skipped");
    return this.#step(all, `Improve the layout: ${count(all.length, "change")}`, says, rough);
  }

  async #step(of: readonly number[], label: string, says: string, rough: boolean): Promise<boolean> {
    if (!isOf(this.#rev, this.board)) {
      this.board.show({ kind: "hint", sentence: stale });
      return false;
    }
    const next = of.reduce((p, k) => apply(p, this.mends[k]?.patch ?? {}), this.board.committed);
    this.shown = null;
    this.#taking = true;
    for (const k of of) this.fates[k] = "taken";
    this.rough ||= rough && this.open.length > 0;
    const done = this.board.commit(label, next) as Promise<{ saved?: boolean } | unknown>;
    this.board.announce(says);
    this.changed();
    await done;
    if (!(await whenStored(this.board))) {
      this.#taking = false;
      this.changed();
      return false;
    }
    // Only our own step came in between: the rest goes on from it.
    if (this.board.rev === this.#rev + 1) this.#rev = this.board.rev;
    this.#taking = false;
    this.changed();
    return true;
  }

  /** To be called when the plan was changed: what is out of date is no longer shown. */
  look(): void {
    this.search.look();
    if (!this.stale) return;
    if (this.shown !== null) {
      this.shown = null;
      this.board.cancel();
    }
    this.changed();
  }

  leave(): void {
    this.#drop();
    this.#skipped.clear();
  }

  #drop(): void {
    this.search.drop();
    if (this.shown !== null) this.board.cancel();
    this.shown = null;
    this.view = null;
    this.fates = [];
    this.rough = false;
  }
}

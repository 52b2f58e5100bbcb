// The papers of a plan as they are chosen, made and looked at: which pack, on what, at
// what scale; the pack that was made last; and which of its pages is shown. Without the
// page; panels/papers.ts shows it.

import { planURL } from "./api";
import type { AskLong } from "./asking";
import type { LongWork, Told } from "./longwork";

export type Pack = "crew" | "owner" | "office";
export const packs: readonly Pack[] = ["crew", "owner", "office"];

/** What is wanted. */
export interface Choice {
  readonly pack: Pack;
  readonly paper: string;
  /** 1 to so many; 0: the largest that fits one sheet. */
  readonly scale: number;
  /** As 2026-05-01; "" prints none. */
  readonly date: string;
}

export interface Sheet {
  code: string;
  title: string;
  holds: string;
  scale?: string;
  /** The first of its pages, from 1. */
  first: number;
  pages: number;
}

/** A pack as it was made. */
export interface PackView {
  rev: number;
  pack: Pack;
  title: string;
  /** The name it is saved under. */
  file: string;
  says: string;
  notes: string[];
  sheets: Sheet[];
  pages: { name: string; wide_pt: number; high_pt: number }[];
  /** What each scale comes to on this paper, in words. */
  fits: { scale: number; says: string }[];
}

/** The choice as addresses have it, without the pack. */
export function question(c: Choice): string {
  const q = new URLSearchParams({ paper: c.paper, scale: String(c.scale) });
  if (c.date !== "") q.set("date", c.date);
  return q.toString();
}

/** What an address of the page asks for; what it leaves open, or cannot be, is as usual. */
export function chosenIn(
  search: string,
  usual: Choice,
  can: { papers: readonly string[]; scales: readonly number[] },
): Choice {
  const q = new URLSearchParams(search);
  const pack = packs.find((p) => p === q.get("pack"));
  const paper = can.papers.find((p) => p === q.get("paper"));
  const scale = can.scales.find((s) => String(s) === q.get("scale"));
  const date = q.get("date");
  return {
    pack: pack ?? usual.pack,
    paper: paper ?? usual.paper,
    scale: scale ?? usual.scale,
    date: date !== null && /^\d{4}-\d{2}-\d{2}$/.test(date) ? date : usual.date,
  };
}

/** The address of a pack as a file, or of one of its pages. */
export const packURL = (id: string, c: Choice, rev: number): string =>
  `/plans/${encodeURIComponent(id)}/packs/${c.pack}.pdf?${question(c)}&rev=${rev}`;
export const pageURL = (id: string, c: Choice, rev: number, page: number, kind: "svg" | "txt"): string =>
  `/plans/${encodeURIComponent(id)}/packs/${c.pack}/pages/${page}.${kind}?${question(c)}&rev=${rev}`;

const sheetAt = (made: PackView, page: number): Sheet | undefined =>
  made.sheets.find((s) => page >= s.first && page < s.first + s.pages);

/** The papers of one plan. */
export class Papers {
  /** The pack made last; null: none, or of another choice. */
  made: PackView | null = null;
  /** Which of its pages is shown, from 1. */
  page = 1;
  /** How far the making is. */
  told: Told = { step: "", share: 0 };
  /** Why there is nothing to show; "" while there is, or while it is being made. */
  why = "";
  #before: PackView | null = null; // the one shown last
  #off: AbortController | null = null;
  #rev: number; // the newest stored one heard of

  constructor(
    readonly id: string,
    rev: number,
    public choice: Choice,
    readonly work: LongWork,
    readonly ask: AskLong<PackView>,
    readonly changed: () => void,
  ) {
    this.#rev = rev;
  }

  get underway(): boolean {
    return this.#off !== null;
  }

  /** The plan is another one by now than the papers are of. */
  get stale(): boolean {
    return this.made !== null && this.made.rev < this.#rev;
  }

  /** Takes another choice and makes its papers. */
  choose(c: Partial<Choice>): Promise<boolean> {
    const pack = this.choice.pack;
    this.choice = { ...this.choice, ...c };
    this.made = null;
    if (this.choice.pack !== pack) this.page = 1;
    return this.make();
  }

  /** Makes the papers as chosen, of the plan as it is stored; true when they are there. */
  async make(): Promise<boolean> {
    this.#off?.abort();
    const off = new AbortController();
    this.#off = off;
    this.told = { step: "", share: 0 };
    this.why = "";
    this.changed();
    const { choice } = this;
    const url = `${planURL(this.id)}/packs/${choice.pack}?${question(choice)}`;
    const answer = await this.work.run<PackView>(
      "Making the papers",
      (stop, tell) =>
        this.ask(url, stop, (t) => {
          if (this.#off !== off) return;
          tell(t);
          this.told = t;
          this.changed();
        }),
      off.signal,
      true,
    );
    if (this.#off !== off) return false; // another choice was made meanwhile
    this.#off = null;
    if (answer?.ok) {
      this.made = answer.value;
      this.#rev = Math.max(this.#rev, answer.value.rev);
      this.page = this.#same(this.made);
      this.#before = this.made;
    } else this.why = answer === null ? "Making the papers was called off." : answer.error;
    this.changed();
    return answer?.ok ?? false;
  }

  /** The page of a pack that shows what is shown now: other paper sets a sheet on other pages. */
  #same(made: PackView): number {
    const was = this.#before?.pack === made.pack ? sheetAt(this.#before, this.page) : undefined;
    const now = made.sheets.find((s) => s.code === was?.code);
    if (!was || !now) return Math.min(this.page, made.pages.length);
    return now.first + Math.min(this.page - was.first, now.pages - 1);
  }

  /** Calls the making off. */
  stop(): void {
    this.#off?.abort();
  }

  /** Shows a page; those past the ends are the ends. */
  turnTo(page: number): void {
    const last = this.made?.pages.length ?? 0;
    const to = Math.max(1, Math.min(page, last));
    if (last === 0 || to === this.page) return;
    this.page = to;
    this.changed();
  }

  /** The sheet that the page shown is of. */
  get sheet(): Sheet | undefined {
    return this.made ? sheetAt(this.made, this.page) : undefined;
  }

  /** The plan stored has this revision. */
  pushed(rev: number): void {
    if (rev <= this.#rev) return;
    this.#rev = rev;
    this.changed();
  }
}

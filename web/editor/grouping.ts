// Which heads share a valve, sought by the server and offered: shown on the board
// by the marks of the zones, taken by one step.

import { type AskLong, isOf, Search, type Stage, takeStep } from "./asking";
import { parseNumber } from "./fields";
import { type Read, read, refuse } from "./length";
import { askLong } from "./longwork";
import { apply, type Patch, type Ref, type System } from "./model";
import { count } from "./names";
import { flow, readQuantity } from "./quantity";

/** What the server answers; the Go type is web.GroupView. */
export interface GroupView {
  rev: number;
  offered: boolean;
  says: string;
  at?: Ref;
  /** None: the plan is grouped so already. */
  patch?: Patch;
  label: string;
  zones: GroupZone[];
  /** How few valves there can be. */
  bound: string;
  proved: boolean;
  limit: string;
  minutes: string;
  fits: boolean;
  window: string;
  notes: string[];
  caution: string;
  evaluations: string;
}

/** One zone as offered. */
export interface GroupZone {
  zone: string;
  name: string;
  station: number;
  heads: string[];
  count: string;
  areas: string;
  kind: string;
  flow: string;
  /** Of the limit. */
  share: number;
  rate: string;
  minutes: string;
  x_ft: number;
  y_ft: number;
  manifold: number;
  where: string;
  locked: boolean;
}

/** What the user asks for; what is left out is the usual. */
export interface GroupWish {
  areas: readonly string[];
  limitGPM?: number;
  days?: number;
  hours?: number;
  needIn?: number;
  effort?: string;
}

export function question(w: GroupWish): string {
  const q = new URLSearchParams();
  if (w.areas.length > 0) q.set("areas", w.areas.join(","));
  const all = { limit: w.limitGPM, days: w.days, hours: w.hours, need: w.needIn, effort: w.effort };
  for (const [name, v] of Object.entries(all)) if (v !== undefined && v !== "") q.set(name, String(v));
  return q.toString();
}

const MM_AN_INCH = 25.4;

/** Reads the most a zone may take; empty: the usual. */
export function readLimit(typed: string, system: System): Read<number | undefined> {
  if (typed.trim() === "") return read(undefined);
  return readQuantity(typed, flow, system, 0.2, 1000);
}

/** Reads the need of a week at peak, in inches or mm; empty: the usual. */
export function readNeed(typed: string, system: System): Read<number | undefined> {
  const t = typed.trim().toLowerCase();
  if (t === "") return read(undefined);
  const mm = /mm$/.test(t) || (system === "metric" && !/(in|")$/.test(t));
  const v = parseNumber(t.replace(/\s*(mm|in|")$/, ""), mm ? "mm" : "inches", 0.01, mm ? 130 : 5);
  if (!v.ok) return v;
  return read(mm ? v.value / MM_AN_INCH : v.value);
}

export function readDays(typed: string): Read<number | undefined> {
  if (typed.trim() === "") return read(undefined);
  const v = parseNumber(typed, "days", 1, 7);
  if (!v.ok || Number.isInteger(v.value)) return v;
  return refuse(`${typed.trim()} is not a whole number of days. Type 1 to 7.`);
}

export function readHours(typed: string): Read<number | undefined> {
  if (typed.trim() === "") return read(undefined);
  return parseNumber(typed, "hours", 0.5, 24);
}

export type Phase = "asking" | "seeking" | "offered";

export class Grouping {
  phase: Phase = "asking";
  wish: GroupWish = { areas: [] };
  view: GroupView | null = null;
  trouble = "";
  #shown = false;
  readonly search: Search<GroupView>;

  constructor(
    readonly board: Stage,
    readonly changed: () => void,
    ask: AskLong<GroupView> = askLong,
  ) {
    const words = { of: "group", title: "Grouping heads", work: "Heads are grouped" };
    this.search = new Search(board, words, changed, ask);
  }

  set(part: Partial<GroupWish>): void {
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
    if (view?.offered) {
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

  #preview(): void {
    const v = this.view;
    if (!v?.patch || !isOf(v.rev, this.board)) return;
    this.#shown = true;
    this.board.preview(apply(this.board.committed, v.patch));
  }

  /** To be called when the plan was changed: what is out of date is no longer shown. */
  look(): void {
    this.search.look();
    if (!this.stale) return;
    if (this.#shown) {
      this.#shown = false;
      this.board.cancel();
    }
    this.changed();
  }

  async take(): Promise<boolean> {
    const v = this.view;
    if (!v?.patch || this.phase !== "offered") return false;
    const says = `Heads grouped into ${count(v.zones.length, "zone")}. Undo takes it back.`;
    if (isOf(v.rev, this.board)) this.#shown = false;
    return takeStep(this.board, v.rev, { label: v.label, plan: apply(this.board.committed, v.patch), says });
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
    if (this.#shown) this.board.cancel();
    this.#shown = false;
    this.view = null;
  }
}

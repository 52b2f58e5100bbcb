// The work of one hand in the yard, without the page: the plan and what the server
// makes of the proof, kept in step; where on the page one is; and what is half typed.

import type { Outcome } from "../api";
import type { Plan } from "../model";
import type { AuditView, CansView, ProofView } from "../proofview";
import type { Board } from "../state";
import type { Scraps } from "./typed";

/** What is asked of the server besides the plan. */
export interface Asked {
  proof(): Promise<Outcome<ProofView>>;
  audit(id: string): Promise<Outcome<AuditView>>;
  cans(area: string, by: string, count: string): Promise<Outcome<CansView>>;
}

/** The sections of the page, in the order work goes. */
export const sections = ["start", "wires", "heads", "cans", "old", "photos", "built"] as const;
export type Section = (typeof sections)[number];

/** A place on the page: a section and, within it, what one is at; "": where the work goes on. */
export interface Place {
  readonly section: Section;
  readonly item: string;
}

/** A place as the page's address has it after #, and back; what is none is the beginning. */
export const placeText = (p: Place): string => (p.item === "" ? p.section : `${p.section}/${p.item}`);

export function placeOf(hash: string): Place {
  const [first = "", ...rest] = hash.replace(/^#/, "").split("/");
  const section = sections.find((s) => s === first);
  return section ? { section, item: rest.join("/") } : { section: "start", item: "" };
}

/** How long an answer about the proof is waited for before it is asked again, in ms (chosen). */
const RETRY_MS = 3000;

export class Yard {
  view: ProofView | null = null;
  /** Why there is no view, or none of what is stored now; "": there is. */
  trouble = "";
  place: Place = { section: "start", item: "" };
  /** Who is doing it; "": not said. */
  by = "";
  #audits = new Map<string, AuditView>();
  #asking = false;
  #again = false;
  #listeners = new Set<() => void>();

  constructor(
    readonly board: Board,
    readonly asked: Asked,
    readonly scraps: Scraps,
    readonly now: () => string,
    readonly later: (fn: () => void, ms: number) => unknown = (fn, ms) => setTimeout(fn, ms),
  ) {
    board.subscribe("saved", () => this.follow());
  }

  /** The plan with everything entered. Never change it in place. */
  get plan(): Plan {
    return this.board.committed;
  }

  /** Today as the plan writes a date. */
  get today(): string {
    return this.now();
  }

  subscribe(fn: () => void): void {
    this.#listeners.add(fn);
  }

  changed(): void {
    for (const fn of this.#listeners) fn();
  }

  go(place: Place): void {
    this.place = place;
    this.changed();
  }

  /** Makes a step of what was entered, and says so. */
  step(label: string, next: Plan, says = label): void {
    void this.board.commit(label, next);
    this.board.announce(`${says}.`);
  }

  /** The first view is still on its way: where the work goes on is not known yet. */
  get waiting(): boolean {
    return this.view === null && this.trouble === "";
  }

  /** Whether the view is of what is stored now. */
  get fresh(): boolean {
    return this.view !== null && this.view.rev === this.board.rev;
  }

  /** Asks for the view when what is stored is newer than it. */
  follow(): void {
    if (this.board.saved.state !== "yes" || this.fresh) return;
    void this.refresh();
  }

  async refresh(): Promise<void> {
    if (this.#asking) {
      this.#again = true;
      return;
    }
    this.#asking = true;
    const answer = await this.asked.proof();
    this.#asking = false;
    if (answer.ok) {
      this.view = answer.value;
      this.trouble = "";
      this.board.pushed(answer.value.rev); // somebody else's step: the plan follows
    } else {
      this.trouble = answer.error;
      const away = answer.status === 0 || answer.status >= 500;
      if (away) this.later(() => this.follow(), RETRY_MS);
    }
    this.changed();
    if (this.#again) {
      this.#again = false;
      this.follow();
    }
  }

  /** An audit as it was reckoned last, of whatever revision; null: not yet. */
  audit(id: string): AuditView | null {
    return this.#audits.get(id) ?? null;
  }

  /** Reckons an audit of what is stored; the sentence when it cannot be. */
  async reckon(id: string): Promise<string | null> {
    const answer = await this.asked.audit(id);
    if (!answer.ok) return answer.error;
    this.#audits.set(id, answer.value);
    this.changed();
    return null;
  }
}

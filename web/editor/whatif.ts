// Other circumstances than the drawing's: the zones as they run at their real
// pressures, the plan as it may come out in the field, or on a windy day. Map and
// readings change together or not at all. The running zones are live, as the
// drawing is; of the others, while the plan is being changed the drawing shows,
// and what was asked for comes back at rest.

import type { Outcome } from "./api";
import type { Design, Frame, Gap, Reading } from "./design";
import type { LiveAs } from "./live";
import type { LongWork, Told } from "./longwork";

export type Circumstance = "drawn" | "running" | "field" | "windy";

/** Those that take long and are worked out on request. */
type Asked = Exclude<Circumstance, "drawn" | "running">;

const isAsked = (kind: Circumstance): kind is Asked => kind !== "drawn" && kind !== "running";

export const circumstances: Readonly<Record<Circumstance, string>> = {
  drawn: "As drawn",
  running: "Running",
  field: "In the field",
  windy: "On a windy day",
};

const titles: Readonly<Record<Asked, string>> = {
  field: "Working out the plan in the field",
  windy: "Working out a windy day",
};

/** What the server answers; the Go type is web.WhatIf. */
export interface Answer {
  kind: Asked;
  rev: number;
  says: string;
  frame: Frame;
  readings: { evenness: Reading; driest: Reading; rate: Reading };
  gaps: Gap[];
  /** The bytes of the map in base64, the southernmost row first. */
  cells: string;
}

/** The same with the bytes of its map. */
export interface Shown extends Omit<Answer, "cells"> {
  cells: Uint8Array;
}

/** What is read of the board. */
export interface Ground {
  readonly rev: number;
  readonly away: boolean;
  readonly drafting: boolean;
  readonly earlier: unknown;
  readonly saved: { readonly state: string };
  readonly design: Design | null;
  readonly longWork: LongWork;
}

export interface Hooks {
  ask(kind: Asked, rev: number, off: AbortSignal, tell: (t: Told) => void): Promise<Outcome<Answer> | null>;
  /** What the live map is to be of. */
  live(as: LiveAs): void;
  /** Something other than before is to be shown: map, readings and title at once. */
  changed(): void;
  /** A sentence to be read and said: a failure, or that the work was called off. */
  say(sentence: string): void;
}

const none: Gap[] = [];

export class WhatIf {
  #kind: Circumstance = "drawn";
  #shown: Shown | null = null;
  #known = new Map<Circumstance, Shown>();
  #asking: { kind: Circumstance; rev: number; off: AbortController } | null = null;
  #told = "";
  #pictured: { of: Design; as: Design } | null = null;

  constructor(
    readonly board: Ground,
    readonly hooks: Hooks,
  ) {}

  /** What is asked for. */
  get kind(): Circumstance {
    return this.#kind;
  }

  /** What is on show instead of the drawing; null: the drawing. */
  get shown(): Shown | null {
    return this.#shown;
  }

  /** What map and readings show now, as a title. */
  get title(): string {
    const asked = circumstances[this.#kind];
    return this.#shows === this.#kind ? asked : `${circumstances[this.#shows]}; “${asked}” follows`;
  }

  /** What map and readings show now. */
  get #shows(): Circumstance {
    return this.#shown?.kind ?? this.board.design?.as ?? "drawn";
  }

  /** What the server is to be asked about a place by: "" as drawn. */
  get as(): "" | Exclude<Circumstance, "drawn"> {
    const shows = this.#shows;
    return shows === "drawn" ? "" : shows;
  }

  /** What the map and the readings on show rest on. */
  get says(): string {
    return (
      this.#shown?.says ??
      this.board.design?.says ??
      "Calm air, ideal nozzles, heads exactly where they are drawn."
    );
  }

  /** The design with the dry places of what is shown in place of the drawing's; away, with none. */
  pictured(design: Design | null): Design | null {
    const gaps = this.board.away ? none : this.#shown?.gaps;
    if (!design || !gaps) return design;
    if (this.#pictured?.of !== design || this.#pictured.as.gaps !== gaps)
      this.#pictured = { of: design, as: { ...design, gaps } };
    return this.#pictured.as;
  }

  /** Asks for other circumstances. */
  show(kind: Circumstance): void {
    this.#kind = kind;
    this.hooks.live(kind === "running" ? kind : "");
    this.look();
  }

  /** Looks again at what can be shown: to be called whenever the board changed. */
  look(): void {
    const { board } = this;
    const rest = board.saved.state === "yes" && !board.drafting && !board.earlier && !board.away;
    const a = this.#asking;
    if (a && (a.kind !== this.#kind || a.rev !== board.rev || !rest)) {
      this.#asking = null; // before it is told, so that this is no wish of the user's
      a.off.abort();
    }
    const known = this.#known.get(this.#kind);
    const fits = rest && known?.rev === board.rev ? known : null;
    if (isAsked(this.#kind) && rest && !fits && !this.#asking) void this.#ask(this.#kind, board.rev);
    this.#tell(fits);
  }

  #tell(shown: Shown | null): void {
    this.#shown = shown;
    const now = `${this.#kind} ${shown?.kind} ${shown?.rev} ${this.title} ${this.says}`;
    if (now === this.#told) return;
    this.#told = now;
    this.hooks.changed();
  }

  async #ask(kind: Asked, rev: number): Promise<void> {
    const mine = { kind, rev, off: new AbortController() };
    this.#asking = mine;
    const answer = await this.board.longWork.run<Answer>(
      titles[kind],
      (off, tell) => this.hooks.ask(kind, rev, off, tell),
      mine.off.signal,
    );
    if (this.#asking !== mine) return; // it is out of date, and another may be under way
    this.#asking = null;
    if (answer?.ok) {
      if (answer.value.rev === rev)
        this.#known.set(kind, { ...answer.value, cells: bytes(answer.value.cells) });
      this.look();
      return;
    }
    // Called off, refused or failed: switch, map and readings go back together.
    // When the plan moved on or the server is away it is asked for again at rest.
    if (answer?.status === 412 || answer?.status === 0) return this.#tell(null);
    this.#kind = "drawn";
    this.look();
    this.hooks.say(
      answer ? answer.error : `${circumstances[kind]}: called off. The map shows the plan as drawn.`,
    );
  }
}

/** Bytes from base64. */
export function bytes(text: string): Uint8Array {
  const raw = atob(text);
  const out = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) out[i] = raw.charCodeAt(i);
  return out;
}

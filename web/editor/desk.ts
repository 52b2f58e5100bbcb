// What the user has in hand: selection, tool, what is pointed at and what is
// said. None of it is stored.

import type { XY } from "./design";
import { DigsWanted } from "./digs";
import { Layers, layerNamed, layerOf } from "./layers";
import { LongWork } from "./longwork";
import { has, type Plan, type Ref } from "./model";
import { PipeLook } from "./pipelook";
import type { AuditView } from "./proofview";
import type { WhatIf } from "./whatif";

export type Topic =
  | "plan" // the document or the gesture's draft
  | "selection"
  | "hover"
  | "design" // what the server says follows
  | "tool"
  | "view" // zoom and pan; published by the drawing
  | "look" // something asks to be brought into view
  | "saved"
  | "away" // the server is away, or is back
  | "whatif" // map and readings are of other circumstances than before
  | "conflict"
  | "steps" // what undo and redo would do
  | "earlier" // an earlier state is looked at, or no longer
  | "notice"
  | "pipelook" // pipes are coloured by something else
  | "audit" // what was made of the audit in view
  | "digs" // somebody shows what is dug, or nobody any longer
  | "layers" // what is shown, locked and faded
  | "catalog";

/** A place or things to bring into view. Gentle: only if they are out of it. */
export interface Look {
  about: Ref[];
  at?: XY;
  gentle: boolean;
}

/** Something the user should read: what, why, and what to do next. */
export interface Notice {
  kind: "problem" | "hint";
  sentence: string;
  more?: string[];
}

export abstract class Desk {
  hover: Ref | null = null;
  look: Look | null = null;
  notice: Notice | null = null;
  /** What the server takes long for, as long as it does. */
  readonly longWork = new LongWork();
  /** The circumstances that map and readings are of; null before the page has a map. */
  whatIf: WhatIf | null = null;
  /** Who shows what is dug: it is asked for only while somebody does. */
  readonly digs = new DigsWanted(() => this.emit("digs"));
  #away = false;
  readonly layers = new Layers(() => {
    this.pruneSelection();
    this.emit("layers");
  });
  /** What the server makes of the audit whose cans are on the board; null before it has said so. */
  audit: AuditView | null = null;
  readonly pipeLook = new PipeLook(() => this.emit("pipelook"));
  #tool = "select";
  #selection: ReadonlySet<Ref> = new Set();
  #listeners = new Map<Topic, Set<() => void>>();

  constructor(readonly onAnnounce: (text: string) => void) {}

  /** What is on the board now. Never change it in place. */
  abstract get plan(): Plan;

  get selection(): ReadonlySet<Ref> {
    return this.#selection;
  }

  get tool(): string {
    return this.#tool;
  }

  /** The server is away: what it reckoned last is not of what is drawn now. */
  get away(): boolean {
    return this.#away;
  }

  set away(yes: boolean) {
    if (yes === this.#away) return;
    this.#away = yes;
    this.emit("away");
  }

  /** Calls fn whenever the topic changes; the returned function stops it. */
  subscribe(topic: Topic, fn: () => void): () => void {
    const set = this.#listeners.get(topic) ?? new Set();
    this.#listeners.set(topic, set);
    set.add(fn);
    return () => set.delete(fn);
  }

  emit(topic: Topic): void {
    for (const fn of [...(this.#listeners.get(topic) ?? [])]) fn();
  }

  setTool(name: string): void {
    if (name === this.#tool) return;
    this.#tool = name;
    this.emit("tool");
  }

  setHover(r: Ref | null): void {
    if (r === this.hover) return;
    this.hover = r;
    this.emit("hover");
  }

  select(refs: Iterable<Ref>, how: "set" | "add" | "remove" | "toggle" = "set"): void {
    const next = new Set<Ref>(how === "set" ? [] : this.#selection);
    let unseen: Ref | null = null;
    for (const r of refs) {
      const off = how === "remove" || (how === "toggle" && next.has(r));
      if (off) next.delete(r);
      else if (!has(this.plan, r)) continue;
      else if (this.layers.hides(r)) unseen = r;
      else next.add(r);
    }
    this.#take(next);
    if (unseen) this.#sayHidden(unseen);
  }

  #sayHidden(r: Ref): void {
    const layer = layerOf(r);
    if (!layer) return;
    const { title } = layerNamed(layer);
    const sentence = `The layer ${title} is hidden, so what lies on it is not selected. Show it under Layers.`;
    this.show({ kind: "hint", sentence });
  }

  #take(next: ReadonlySet<Ref>): void {
    if (next.size === this.#selection.size && [...next].every((r) => this.#selection.has(r))) return;
    this.#selection = next;
    this.emit("selection");
  }

  /** Lets go of what the plan no longer has, and of what is hidden. */
  pruneSelection(): void {
    this.#take(new Set([...this.#selection].filter((r) => has(this.plan, r) && !this.layers.hides(r))));
  }

  /** Asks the drawing to bring things or a place into view. */
  lookAt(look: { about?: Ref[]; at?: XY; gentle?: boolean }): void {
    this.look = { about: look.about ?? [], at: look.at, gentle: look.gentle ?? false };
    this.emit("look");
  }

  /** Says a sentence to screen readers, politely. */
  announce(text: string): void {
    this.onAnnounce(text);
  }

  /** Shows a sentence until it is dismissed or replaced. */
  show(notice: Notice | null): void {
    this.notice = notice;
    this.emit("notice");
    if (notice) this.announce(notice.sentence);
  }
}

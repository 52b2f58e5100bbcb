// Find: a thing of the plan by name, tag, kind, nozzle, zone or words; then the
// next and the one before.

import type { Drawing } from "../drawing";
import { findables, search, selectedFor } from "../finding";
import { has, parts, type Ref } from "../model";
import { capital, nameOf } from "../names";
import { openFinder } from "./finder";

/** What was looked for last, and where among what it found. */
export class Find {
  #query = "";
  #at: Ref | null = null;

  constructor(readonly d: Drawing) {}

  get again(): boolean {
    return this.#query !== "";
  }

  open(): void {
    const { board } = this.d;
    const all = findables(board.committed, board.layers);
    openFinder({
      title: "Find",
      placeholder: "A name, a tag such as 2-8, a kind, a nozzle, a word of a note",
      one: "thing",
      first: this.#query,
      ...(this.#at ? { at: this.#at } : {}),
      rows: (query) =>
        search(all, query).map(({ ref: key, title, marks, detail }) => ({ key, title, marks, detail })),
      take: (key, query) => {
        this.#query = query;
        this.#show(key as Ref);
      },
      none: (query) =>
        query === ""
          ? "There is nothing drawn yet."
          : `Nothing on the plan has “${query}” in its name, tag, kind, nozzle, zone or words.`,
    });
  }

  /** Goes to the next thing found, or the one before; round the ends. */
  step(by: 1 | -1): void {
    const { board } = this.d;
    const found = search(findables(board.committed, board.layers), this.#query);
    if (found.length === 0) {
      board.announce(`Nothing has “${this.#query}” in it any more.`);
      return;
    }
    const now = found.findIndex((f) => f.ref === this.#at);
    const at = now < 0 ? (by === 1 ? 0 : found.length - 1) : (now + by + found.length) % found.length;
    const next = found[at];
    if (next) this.#show(next.ref, `${at + 1} of ${found.length}: `);
  }

  /** Selects what was found, brings it into view and says so, and what keeps it from being seen. */
  #show(r: Ref, before = ""): void {
    const { d } = this;
    const { board } = d;
    this.#at = r;
    if (!has(board.plan, r)) return;
    const refs = selectedFor(board.plan, r).filter((s) => has(board.plan, s));
    const name = capital(nameOf(board.plan, r));
    const zone = parts(r)[0] === "zones";
    if (refs.length === 0) {
      board.show({
        kind: "hint",
        sentence: `${name} has no heads and no valve yet: nothing to show on the board.`,
      });
      return;
    }
    if (d.toolName !== "select") d.takeUp("select");
    board.select(refs);
    board.lookAt({ about: refs });
    const hidden = refs.some((s) => board.layers.hides(s));
    const [first] = refs;
    if (first && !zone) d.stop = first;
    // Drawn first, so that what was out of view is there to take the focus.
    d.draw();
    const el =
      first && !zone ? d.dom.svg.querySelector<SVGElement>(`[data-ref="${CSS.escape(first)}"]`) : null;
    if (el && !hidden) el.focus({ preventScroll: true });
    else d.focus();
    const what = zone ? `The heads of ${name.replace(/^Zone /, "zone ")}` : name;
    const sentence = `${before}${what} selected.`;
    if (hidden)
      board.show({
        kind: "hint",
        sentence: `${sentence} It is on a layer that is hidden: show it under Layers to see it.`,
      });
    else board.announce(sentence);
  }
}

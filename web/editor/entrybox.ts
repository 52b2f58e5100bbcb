// The box at the pointer that takes typed lengths, angles, places and words.
// What is wrong with what was typed is said in the box; focus and text stay.

import { h, setAttr, setText } from "./dom";
import { type Asked, type Entry, type Field, fieldNames, isAwaited, parseEntry } from "./entry";
import type { Pixel } from "./view";

export interface EntryOwner {
  /** Takes what was typed; a sentence when it cannot be used. */
  typed(entry: Entry): string | null;
  words(text: string): void;
  /** The box was closed; whether by Escape. */
  closed(escaped: boolean): void;
}

export class EntryBox {
  readonly #fields = h("div", { class: "entry-fields" });
  readonly #message = h("p", { class: "entry-message", id: "entry-message", role: "alert" });
  #inputs: HTMLInputElement[] = [];
  #asked: Asked | null = null;

  constructor(
    readonly el: HTMLElement,
    readonly owner: EntryOwner,
  ) {
    el.setAttribute("role", "group");
    el.setAttribute("aria-label", "Type at the pointer");
    el.append(this.#fields, this.#message);
    el.addEventListener("keydown", (e) => this.#key(e));
    el.addEventListener("pointerdown", (e) => e.stopPropagation());
    el.hidden = true;
  }

  get open(): boolean {
    return !this.el.hidden;
  }

  /** Opens with a first character already typed. */
  show(asked: Asked, first: string, at: Pixel): void {
    this.#asked = asked;
    this.#inputs = asked.fields.map((f) => this.#input(f));
    this.#fields.replaceChildren(
      ...this.#inputs.map((input, i) =>
        h("label", {}, h("span", {}, fieldNames[asked.fields[i] as Field]), input),
      ),
    );
    this.#say("");
    this.el.hidden = false;
    this.move(at);
    const input = this.#inputs[0];
    if (!input) return;
    input.value = first;
    input.focus();
    input.setSelectionRange(first.length, first.length);
  }

  #input(f: Field): HTMLInputElement {
    const words = f === "text";
    return h("input", {
      type: "text",
      class: words || f === "run" ? "entry-words" : "entry-number",
      autocomplete: "off",
      spellcheck: words ? "true" : "false",
      maxlength: words || f === "run" ? 2000 : 64,
      inputmode: "text",
      "aria-describedby": "entry-message",
      "data-field": f,
    });
  }

  /** Keeps the box beside the pointer and inside the board. */
  move(at: Pixel): void {
    const board = this.el.parentElement;
    if (!board) return;
    const room = {
      w: board.clientWidth - this.el.offsetWidth - 8,
      h: board.clientHeight - this.el.offsetHeight - 8,
    };
    const below = at.py + 22 > room.h ? at.py - this.el.offsetHeight - 18 : at.py + 22;
    this.el.style.left = `${Math.max(8, Math.min(room.w, at.px + 18))}px`;
    this.el.style.top = `${Math.max(8, Math.min(room.h, below))}px`;
  }

  /** What the pointer would give, as a hint in the fields left empty. */
  hint(values: readonly string[]): void {
    for (const [i, input] of this.#inputs.entries()) setAttr(input, "placeholder", values[i] ?? "");
  }

  /** Closes the box, taking the words or the number it was opened for. */
  leave(): void {
    if (!this.open) return;
    const awaited = isAwaited(this.#asked?.fields[0]);
    if (awaited && this.#inputs[0]?.value.trim()) this.#take();
    this.close(awaited); // already closed when it was taken
  }

  close(escaped: boolean): void {
    if (!this.open) return;
    this.el.hidden = true;
    this.#asked = null;
    this.owner.closed(escaped);
  }

  #key(e: KeyboardEvent): void {
    if (e.key === "Escape") {
      e.preventDefault();
      e.stopPropagation();
      this.close(true);
    } else if (e.key === "Enter") {
      e.preventDefault();
      e.stopPropagation();
      this.#take();
    } else if (e.key === "Tab" && this.#inputs.length > 1) {
      e.preventDefault();
      this.#next(e.shiftKey ? -1 : 1);
    }
  }

  #next(by: number): void {
    const n = this.#inputs.length;
    const at = this.#inputs.indexOf(document.activeElement as HTMLInputElement);
    const to = this.#inputs[(at + by + n) % n];
    to?.focus();
    to?.select();
  }

  #take(): void {
    const asked = this.#asked;
    if (!asked) return;
    const texts = this.#inputs.map((i) => i.value);
    if (asked.fields[0] === "text") {
      this.owner.words(texts[0] ?? "");
      this.close(false);
      return;
    }
    const got = parseEntry(texts, asked);
    const why = got.ok ? this.owner.typed(got.value) : got.sentence;
    if (why === null) this.close(false);
    else this.#say(why);
  }

  #say(sentence: string): void {
    setText(this.#message, sentence);
    for (const input of this.#inputs) setAttr(input, "aria-invalid", sentence ? "true" : null);
  }
}

// One labelled field with its hint and, when what was typed cannot be, the
// sentence that says so under it. What was typed stays.

import { h, setAttr, setText } from "../dom";
import type { Choice } from "../fields";

export interface Shown {
  value: string;
  /** Several things, and they differ. */
  mixed: boolean;
  choices: readonly Choice[];
}

type Input = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

/** Takes what was typed; the sentence when it cannot be. */
export type Take = (typed: string) => string | null;

let made = 0;

export class Control {
  readonly el: HTMLElement;
  readonly input: Input;
  readonly #error: HTMLElement;
  #shown = "";

  constructor(
    readonly label: string,
    readonly as: "text" | "long" | "choice" | "yes",
    hint: string,
    readonly take: Take,
    /** What an empty field means, shown faintly in it. */
    public empty = "",
  ) {
    const id = `field-${++made}`;
    this.input = input(as, id);
    this.#error = h("p", { class: "error", id: `${id}-error`, hidden: true });
    setAttr(this.input, "aria-describedby", `${id}-error`);
    const words = h("label", { for: id }, label, hint ? h("span", { class: "hint" }, ` ${hint}`) : null);
    const kids = as === "yes" ? [this.input, words] : [words, this.input];
    this.el = h("div", { class: as === "yes" ? "field tick" : `field ${as}` }, ...kids, this.#error);
    this.input.addEventListener("change", () => this.#changed());
    this.input.addEventListener("keydown", (e) => this.#key(e as KeyboardEvent));
  }

  /** Shows the stored value, unless the user is in the middle of typing another. */
  show({ value, mixed, choices }: Shown): void {
    if (this.input instanceof HTMLSelectElement) fill(this.input, choices, mixed);
    const text = mixed ? "" : value;
    if (this.input instanceof HTMLInputElement) this.input.placeholder = mixed ? "several" : this.empty;
    const typing = document.activeElement === this.input && this.#now() !== this.#shown;
    const kept = this.input.getAttribute("aria-invalid") === "true";
    if (text === this.#shown && (typing || kept)) return;
    this.#shown = text;
    if (typing) return;
    this.#put(text, mixed);
    this.complain(null);
  }

  /** Shows a sentence under the field, or takes it away. */
  complain(sentence: string | null): void {
    setText(this.#error, sentence ?? "");
    this.#error.hidden = sentence === null;
    setAttr(this.input, "aria-invalid", sentence === null ? null : "true");
  }

  get text(): string {
    return this.#now();
  }

  /** Empties the field of what was typed and taken elsewhere. */
  clear(): void {
    this.#shown = "";
    this.#put("", false);
    this.complain(null);
  }

  #now(): string {
    if (this.as === "yes") return (this.input as HTMLInputElement).checked ? "yes" : "";
    return this.input.value;
  }

  #put(text: string, mixed: boolean): void {
    if (this.as === "yes") {
      (this.input as HTMLInputElement).checked = text === "yes";
      (this.input as HTMLInputElement).indeterminate = mixed;
      return;
    }
    this.input.value = text;
  }

  #changed(): void {
    const typed = this.#now();
    const trouble = typed === this.#shown && this.as !== "choice" ? null : this.take(typed);
    this.complain(trouble);
    if (trouble === null) this.#shown = typed; // no longer being typed: the stored value may replace it
  }

  #key(e: KeyboardEvent): void {
    if (e.key === "Enter" && this.as === "text") this.#changed();
    if (e.key === "Escape" && this.#now() !== this.#shown) {
      this.#put(this.#shown, false);
      this.complain(null);
      e.stopPropagation();
    }
  }
}

function input(as: Control["as"], id: string): Input {
  if (as === "choice") return h("select", { id });
  if (as === "long") return h("textarea", { id, rows: 6, spellcheck: "false" });
  if (as === "yes") return h("input", { id, type: "checkbox" });
  return h("input", { id, type: "text", autocomplete: "off", spellcheck: "false" });
}

/** Fills a list of choices, under their groups if they have any, keeping what it had when nothing changed. */
export function fill(select: HTMLSelectElement, choices: readonly Choice[], mixed = false): void {
  const list = mixed ? [{ value: "", label: "several" }, ...choices.filter((c) => c.value !== "")] : choices;
  const was = Array.from(select.options, (o) => `${o.value}\n${o.label}`).join("\n\n");
  if (was === list.map((c) => `${c.value}\n${c.label}`).join("\n\n")) return;
  const value = select.value;
  const groups = new Map<string, HTMLElement>();
  const kids: HTMLElement[] = [];
  for (const c of list) {
    const option = h("option", { value: c.value }, c.label);
    const group = c.group ? groups.get(c.group) : undefined;
    if (group) group.append(option);
    else if (c.group) {
      const made = h("optgroup", { label: c.group }, option);
      groups.set(c.group, made);
      kids.push(made);
    } else kids.push(option);
  }
  select.replaceChildren(...kids);
  select.value = value;
}

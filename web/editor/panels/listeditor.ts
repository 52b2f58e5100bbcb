// A short list of figures typed row by row, such as the points of a curve: every
// cell is a field, every row can be taken out, and the last row adds one.

import { h, Rows, setText } from "../dom";
import type { Choice } from "../fields";
import { type Read, read } from "../length";
import { Control } from "./control";

/** One column: how a row's part is shown, typed and put back. */
export interface ListColumn<T> {
  readonly label: string;
  readonly hint?: string;
  readonly as: "text" | "choice";
  readonly choices?: readonly Choice[];
  show(row: T): string;
  put(row: T, typed: string): Read<T>;
}

export interface ListSpec<T> {
  /** What one row is called: "point". */
  readonly one: string;
  readonly caption: string;
  readonly columns: readonly ListColumn<T>[];
  /** What a new row is before its cells are put in. */
  fresh(): T;
  /** Makes the list what it is to be; the sentence when it cannot be. */
  keep(next: readonly T[], label: string): string | null;
  announce(text: string): void;
}

export class ListEditor<T> {
  readonly el: HTMLElement;
  readonly #rows: Rows<T>;
  readonly #adding: Control[];
  #list: readonly T[] = [];

  constructor(readonly spec: ListSpec<T>) {
    const body = h("tbody");
    this.#rows = new Rows<T>(
      body,
      (_, i) => String(i),
      () => this.#row(),
    );
    this.#adding = spec.columns.map((c) => new Control(`${c.label}, new ${spec.one}`, c.as, "", () => null));
    const add = h(
      "button",
      { type: "button", class: "small", onclick: () => this.#add() },
      `Add ${spec.one}`,
    );
    const cells = this.#adding.map((c) => h("td", { class: "in" }, c.el));
    const last = h("tr", {}, ...cells, h("td", {}, add));
    last.addEventListener("keydown", (e) => {
      const typed = (e.target as Element).matches("input");
      if ((e as KeyboardEvent).key !== "Enter" || !typed) return;
      e.preventDefault();
      this.#add();
    });
    const heads = spec.columns.map((c) =>
      h("th", { scope: "col" }, c.label, c.hint ? h("span", { class: "hint" }, ` ${c.hint}`) : null),
    );
    const acts = h("th", { scope: "col" }, h("span", { class: "unseen" }, "What can be done"));
    this.el = h(
      "div",
      { class: "scroll list-editor" },
      h(
        "table",
        {},
        h("caption", {}, spec.caption),
        h("thead", {}, h("tr", {}, ...heads, acts)),
        body,
        h("tfoot", {}, last),
      ),
    );
  }

  show(list: readonly T[]): void {
    this.#list = list;
    this.#rows.show(list);
    for (const [i, c] of this.#adding.entries())
      c.show({ value: c.text, mixed: false, choices: this.spec.columns[i]?.choices ?? [] });
  }

  #row() {
    const { spec } = this;
    const at = (): number => Array.from(el.parentElement?.children ?? []).indexOf(el);
    const controls = spec.columns.map(
      (c) =>
        new Control(c.label, c.as, "", (typed) => {
          const n = at();
          const row = this.#list[n];
          if (row === undefined) return null;
          const v = c.put(row, typed);
          if (!v.ok) return v.sentence;
          const next = this.#list.map((r, i) => (i === n ? v.value : r));
          return spec.keep(next, `Change a ${spec.one} of ${spec.caption}`);
        }),
    );
    const gone = h("button", { type: "button", class: "small", onclick: () => this.#remove(at()) }, "Delete");
    const cells = controls.map((c) => h("td", { class: "in" }, c.el));
    const trouble = h("p", { class: "error", role: "alert", hidden: true });
    const el = h("tr", {}, ...cells, h("td", {}, gone, trouble));
    return {
      el,
      update: (row: T) => {
        const n = at() < 0 ? this.#list.indexOf(row) : at();
        for (const [i, c] of controls.entries()) {
          const column = spec.columns[i];
          if (!column) continue;
          setText(c.el.querySelector("label") as Element, `${column.label}, ${spec.one} ${n + 1}`);
          c.show({ value: column.show(row), mixed: false, choices: column.choices ?? [] });
        }
        gone.setAttribute("aria-label", `Delete ${spec.one} ${n + 1}`);
        trouble.hidden = true;
      },
    };
  }

  #remove(n: number): void {
    const { spec } = this;
    const row = this.#rows.get(String(n))?.el;
    const why = spec.keep(
      this.#list.filter((_, i) => i !== n),
      `Delete a ${spec.one} of ${spec.caption}`,
    );
    if (why !== null) {
      const said = row?.querySelector<HTMLElement>("[role=alert]");
      if (!said) return;
      setText(said, why);
      said.hidden = false;
      return;
    }
    this.#adding[0]?.input.focus();
    spec.announce(`The ${spec.one} is out. Undo brings it back.`);
  }

  #add(): void {
    const { spec } = this;
    let made: Read<T> = read(spec.fresh());
    let wrong: Control | null = null;
    for (const [i, control] of this.#adding.entries()) {
      const v = made.ok ? spec.columns[i]?.put(made.value, control.text) : undefined;
      if (!v) continue;
      control.complain(v.ok ? null : v.sentence);
      if (v.ok) made = v;
      else wrong ??= control;
    }
    const [first] = this.#adding;
    if (!wrong && made.ok) {
      const why = spec.keep([...this.#list, made.value], `Add a ${spec.one} to ${spec.caption}`);
      if (why === null) {
        for (const c of this.#adding) c.clear();
        first?.input.focus();
        spec.announce(`The ${spec.one} is in.`);
        return;
      }
      first?.complain(why);
      wrong = first ?? null;
    }
    wrong?.input.focus();
  }
}

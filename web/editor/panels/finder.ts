// A field with a list under it that shortens as one types: for commands and for
// things of the plan. A combobox in the sense of the ARIA patterns: the focus
// stays in the field, arrows move along the list, Enter takes.

import { h, setAttr, setText } from "../dom";
import { count } from "../names";

/** A row of the list. */
export interface Row {
  readonly key: string;
  readonly title: string;
  /** Places of the letters of the title that matched. */
  readonly marks?: readonly number[];
  readonly detail?: string;
  /** Keys, or a state such as "on", at the right. */
  readonly aside?: string;
  /** Null leaves its room empty. */
  readonly icon?: Element | null;
  /** Why it cannot be taken. */
  readonly off?: string;
}

export interface FinderOwner {
  readonly title: string;
  readonly placeholder: string;
  /** What is in the field at first; it is selected, so that typing replaces it. */
  readonly first?: string;
  /** The row marked at first, by key. */
  readonly at?: string;
  /** What one row is called, in counts. */
  readonly one: string;
  rows(query: string): readonly Row[];
  /** Takes a row, after the list has closed and the focus is back where it was. */
  take(key: string, query: string): void;
  /** What to say when nothing matches. */
  none(query: string): string;
}

/** As many rows as are made: more would not be read. */
const MOST_ROWS = 120;
/** Rows gone over by Page Up and Page Down. */
const PAGE = 8;

export function openFinder(owner: FinderOwner): void {
  if (document.querySelector("dialog.finder")) return;
  new Finder(owner);
}

class Finder {
  readonly #input: HTMLInputElement;
  readonly #list = h("ul", { role: "listbox", id: "finder-list", class: "finder-list" });
  readonly #status = h("p", { class: "hint finder-status", role: "status" });
  readonly #dialog: HTMLDialogElement;
  #rows: readonly Row[] = [];
  #at = 0;
  #taken: string | null = null;

  constructor(readonly owner: FinderOwner) {
    setAttr(this.#list, "aria-label", owner.title);
    this.#input = h("input", {
      type: "text",
      role: "combobox",
      id: "finder-input",
      "aria-label": owner.title,
      "aria-expanded": "true",
      "aria-controls": "finder-list",
      "aria-autocomplete": "list",
      autocomplete: "off",
      spellcheck: "false",
      placeholder: owner.placeholder,
      maxlength: 200,
    });
    const close = h(
      "button",
      { type: "button", class: "small", onclick: () => this.#dialog.close() },
      "Close",
    );
    const head = h("div", { class: "finder-head" }, this.#input, close);
    this.#dialog = h(
      "dialog",
      { class: "finder", "aria-label": owner.title },
      head,
      this.#list,
      this.#status,
    );
    this.#input.addEventListener("input", () => this.#search(null));
    this.#input.addEventListener("keydown", (e) => this.#key(e));
    this.#list.addEventListener("click", (e) => this.#clicked(e));
    this.#dialog.addEventListener("click", (e) => {
      if (e.target === this.#dialog) this.#dialog.close(); // beside it, on the shade
    });
    this.#dialog.addEventListener("close", () => this.#closed());
    document.body.append(this.#dialog);
    this.#dialog.showModal();
    this.#input.value = owner.first ?? "";
    this.#input.select();
    this.#search(owner.at ?? null);
  }

  #search(keep: string | null): void {
    const query = this.#input.value.trim();
    const found = this.owner.rows(query);
    this.#rows = found.slice(0, MOST_ROWS);
    this.#list.replaceChildren(...this.#rows.map((r, i) => this.#option(r, i)));
    this.#list.hidden = this.#rows.length === 0;
    setAttr(this.#input, "aria-expanded", String(this.#rows.length > 0));
    this.#goTo(Math.max(0, keep === null ? 0 : this.#rows.findIndex((r) => r.key === keep)));
    const more = found.length - this.#rows.length;
    const said =
      more > 0
        ? `${count(found.length, this.owner.one)}; type more to see fewer.`
        : count(found.length, this.owner.one);
    setText(this.#status, found.length > 0 ? `${said}.`.replace("..", ".") : this.owner.none(query));
  }

  #option(r: Row, i: number): HTMLElement {
    const words = h(
      "span",
      { class: "finder-words" },
      h("span", { class: "finder-title" }, ...marked(r.title, r.marks ?? [])),
      r.detail || r.off ? h("span", { class: "finder-detail" }, r.off ? `Off: ${r.off}` : r.detail) : null,
    );
    const aside = r.aside ? h("span", { class: "finder-aside" }, r.aside) : null;
    return h(
      "li",
      {
        role: "option",
        id: `finder-option-${i}`,
        "data-key": r.key,
        "aria-selected": "false",
        "aria-disabled": r.off ? "true" : null,
      },
      r.icon === null ? h("span", { class: "icon" }) : (r.icon ?? null),
      words,
      aside,
    );
  }

  #goTo(i: number): void {
    this.#list.children[this.#at]?.setAttribute("aria-selected", "false");
    this.#at = i;
    const option = this.#list.children[i];
    option?.setAttribute("aria-selected", "true");
    option?.scrollIntoView({ block: "nearest" });
    setAttr(this.#input, "aria-activedescendant", option ? option.id : null);
  }

  #key(e: KeyboardEvent): void {
    const by = { ArrowDown: 1, ArrowUp: -1, PageDown: PAGE, PageUp: -PAGE }[e.key];
    const n = this.#rows.length;
    if (by !== undefined) {
      e.preventDefault();
      if (n === 0) return;
      const to = this.#at + by;
      // Single steps go round; pages stop at the ends.
      this.#goTo(Math.abs(by) === 1 ? (to + n) % n : Math.min(n - 1, Math.max(0, to)));
    } else if (e.key === "Enter") {
      e.preventDefault();
      this.#take(this.#at);
    }
  }

  #clicked(e: MouseEvent): void {
    const li = (e.target as Element).closest("li");
    if (li) this.#take([...this.#list.children].indexOf(li));
  }

  #take(i: number): void {
    const row = this.#rows[i];
    if (!row) return;
    this.#goTo(i);
    if (row.off) {
      setText(this.#status, `${row.title}: ${row.off}`);
      return;
    }
    this.#taken = row.key;
    this.#dialog.close();
  }

  #closed(): void {
    this.#dialog.remove();
    if (this.#taken !== null) this.owner.take(this.#taken, this.#input.value.trim());
  }
}

/** A title with the letters that matched set apart. */
function marked(title: string, marks: readonly number[]): (Node | string)[] {
  const on = new Set(marks);
  const out: (Node | string)[] = [];
  let at = 0;
  while (at < title.length) {
    const is = on.has(at);
    let end = at + 1;
    while (end < title.length && on.has(end) === is) end++;
    const part = title.slice(at, end);
    out.push(is ? h("b", {}, part) : part);
    at = end;
  }
  return out;
}

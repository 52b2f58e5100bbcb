// A table that is worked like a sheet: arrow keys move from cell to cell,
// Enter or typing changes one, Space selects the row's thing.

import { h, type Row, Rows, setAttr, setText } from "../dom";
import type { Choice } from "../fields";
import type { Ref } from "../model";
import { fill } from "./control";

export interface Column {
  key: string;
  label: string;
  figure?: boolean;
}

/** What a cell shows and, if it can be changed, how. */
export interface Cell {
  text: string;
  edit?: {
    as: "text" | "choice" | "elsewhere";
    value: string;
    choices: () => readonly Choice[];
    /** Takes what was typed; the sentence when it cannot be. */
    take(typed: string): string | null;
  };
}

export interface Source {
  cell(r: Ref, column: string): Cell;
  name(r: Ref): string;
  selected(r: Ref): boolean;
  /** Not on the board for now: the row is greyed. */
  hidden(r: Ref): boolean;
  select(r: Ref, how: "set" | "toggle"): void;
  remove(r: Ref): void;
}

interface Editing {
  at: HTMLElement;
  input: HTMLInputElement | HTMLSelectElement;
  take(typed: string): string | null;
  was: string;
}

export class Grid {
  readonly el: HTMLElement;
  readonly #body = h("tbody");
  readonly #rows: Rows<Ref>;
  readonly #trouble = h("p", { class: "error", role: "alert", hidden: true });
  #refs: readonly Ref[] = [];
  #at: { row: number; column: number } = { row: 0, column: 0 };
  #editing: Editing | null = null;

  constructor(
    label: string,
    readonly columns: readonly Column[],
    readonly source: Source,
  ) {
    const head = columns.map((c) => h("th", { scope: "col", role: "columnheader" }, c.label));
    const table = h(
      "table",
      { role: "grid", class: "grid", "aria-label": label, "aria-multiselectable": "true" },
      h("thead", {}, h("tr", { role: "row" }, ...head)),
      this.#body,
    );
    this.#rows = new Rows(
      this.#body,
      (r) => r,
      (r) => this.#row(r),
    );
    this.el = h("div", { class: "sheet-of-rows" }, this.#trouble, h("div", { class: "scroll" }, table));
    this.#body.addEventListener("keydown", (e) => this.#key(e));
    this.#body.addEventListener("click", (e) => this.#click(e));
    this.#body.addEventListener("dblclick", () => this.#edit());
    this.#body.addEventListener("focusin", (e) => this.#focused(e.target as HTMLElement));
  }

  show(refs: readonly Ref[]): void {
    const inside = this.#body.contains(document.activeElement);
    this.#refs = refs;
    this.#rows.show(refs);
    this.#at.row = Math.min(this.#at.row, Math.max(0, refs.length - 1));
    this.#rove(inside && !this.#body.contains(document.activeElement)); // the row with the focus is gone
  }

  /** Puts the focus on a thing's row. */
  focus(r: Ref): void {
    const row = this.#refs.indexOf(r);
    if (row < 0) return;
    this.#at = { row, column: 1 };
    this.#rove(true);
  }

  /** Scrolls a thing's row into view unless the user is at work in the table. */
  reveal(r: Ref): void {
    if (!this.#body.contains(document.activeElement)) {
      this.#rows.get(r)?.el.scrollIntoView({ block: "nearest" });
    }
  }

  #row(r: Ref): Row<Ref> {
    const cells = this.columns.map((c, i) =>
      h(i === 0 ? "th" : "td", {
        role: i === 0 ? "rowheader" : "gridcell",
        class: c.figure ? "figure" : null,
        tabindex: "-1",
        "data-column": c.key,
      }),
    );
    const el = h("tr", { role: "row", "data-ref": r }, ...cells);
    return {
      el,
      update: () => {
        setAttr(el, "aria-selected", String(this.source.selected(r)));
        el.classList.toggle("off-board", this.source.hidden(r));
        this.columns.forEach((c, i) => {
          const cell = cells[i] as HTMLElement;
          if (this.#editing?.at === cell) return;
          const { text, edit } = this.source.cell(r, c.key);
          setText(cell, text);
          setAttr(cell, "aria-readonly", edit ? null : "true");
        });
      },
    };
  }

  #cellAt(row: number, column: number): HTMLElement | null {
    const r = this.#refs[row];
    const el = r && this.#rows.get(r)?.el;
    return (el?.children[column] as HTMLElement | undefined) ?? null;
  }

  /** Exactly one cell can be reached by Tab. */
  #rove(focus: boolean): void {
    const want = this.#cellAt(this.#at.row, this.#at.column);
    for (const el of this.#body.querySelectorAll<HTMLElement>("[tabindex='0']"))
      if (el !== want) el.tabIndex = -1;
    if (!want) return;
    want.tabIndex = 0;
    if (!focus) return;
    want.focus();
    want.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  #focused(target: HTMLElement): void {
    const cell = target.closest<HTMLElement>("[data-column]");
    const row = cell?.parentElement as HTMLElement | null;
    const r = row?.dataset.ref as Ref | undefined;
    if (!cell || !row || !r) return;
    this.#at = { row: this.#refs.indexOf(r), column: Array.from(row.children).indexOf(cell) };
    this.#rove(false);
  }

  #click(e: MouseEvent): void {
    const r = (e.target as HTMLElement).closest<HTMLElement>("[data-ref]")?.dataset.ref as Ref | undefined;
    if (!r || this.#editing) return;
    this.source.select(r, e.ctrlKey || e.metaKey || e.shiftKey ? "toggle" : "set");
  }

  #key(e: KeyboardEvent): void {
    if (this.#editing) {
      this.#editKey(e, this.#editing);
      return;
    }
    const r = this.#refs[this.#at.row];
    const move = moves[e.key];
    if (move) this.#move(move(this.#at, this.#refs.length, this.columns.length, e.ctrlKey || e.metaKey));
    else if (e.key === "Enter" || e.key === "F2") this.#edit();
    else if (e.key === " " && r) this.source.select(r, e.ctrlKey || e.shiftKey ? "toggle" : "set");
    else if (e.key === "Delete" && r) this.source.remove(r);
    else if (e.key.length === 1 && !e.ctrlKey && !e.metaKey && !e.altKey) this.#edit(e.key);
    else return;
    e.preventDefault();
    e.stopPropagation();
  }

  #move(to: { row: number; column: number }): void {
    this.#at = to;
    this.#rove(true);
  }

  #edit(first?: string): void {
    const at = this.#cellAt(this.#at.row, this.#at.column);
    const r = this.#refs[this.#at.row];
    const column = this.columns[this.#at.column];
    if (!at || !r || !column || this.#editing) return;
    const { edit } = this.source.cell(r, column.key);
    if (!edit) return;
    if (edit.as === "elsewhere") {
      edit.take("");
      return;
    }
    const label = `${column.label} of ${this.source.name(r)}`;
    const input = edit.as === "choice" ? h("select") : h("input", { type: "text", spellcheck: "false" });
    if (input instanceof HTMLSelectElement) fill(input, edit.choices());
    input.setAttribute("aria-label", label);
    input.value = first && input instanceof HTMLInputElement ? first : edit.value;
    this.#editing = { at, input, take: edit.take, was: edit.value };
    at.replaceChildren(input);
    input.addEventListener("blur", () => this.#leave());
    input.focus();
    if (!first && input instanceof HTMLInputElement) input.select();
  }

  #editKey(e: KeyboardEvent, now: Editing): void {
    e.stopPropagation();
    if (e.key === "Escape") this.#done(now, true);
    else if (e.key === "Enter" && this.#keep(now)) this.#done(now, true);
    else if (e.key === "Tab" && this.#keep(now)) {
      this.#done(now, false);
      const column = this.#at.column + (e.shiftKey ? -1 : 1);
      this.#move({ ...this.#at, column: Math.max(0, Math.min(this.columns.length - 1, column)) });
    } else if (e.key !== "Enter" && e.key !== "Tab") return;
    e.preventDefault();
  }

  #leave(): void {
    const now = this.#editing;
    if (now && this.#keep(now)) this.#done(now, false);
  }

  /** Hands over what was typed; false when it was refused and the cell stays open. */
  #keep(now: Editing): boolean {
    const trouble = now.input.value === now.was ? null : now.take(now.input.value);
    setText(this.#trouble, trouble ?? "");
    this.#trouble.hidden = trouble === null;
    setAttr(now.input, "aria-invalid", trouble === null ? null : "true");
    return trouble === null;
  }

  #done(now: Editing, focus: boolean): void {
    this.#editing = null;
    this.#trouble.hidden = true;
    now.at.replaceChildren();
    this.#rows.show(this.#refs);
    if (focus) this.#rove(true);
  }
}

type At = { row: number; column: number };
type Move = (at: At, rows: number, columns: number, ctrl: boolean) => At;

const within = (n: number, most: number): number => Math.max(0, Math.min(most - 1, n));
const down =
  (by: number): Move =>
  (at, rows) => ({ ...at, row: within(at.row + by, rows) });
const across =
  (by: number): Move =>
  (at, _rows, columns) => ({ ...at, column: within(at.column + by, columns) });

const moves: Record<string, Move> = {
  ArrowDown: down(1),
  ArrowUp: down(-1),
  PageDown: down(10),
  PageUp: down(-10),
  ArrowRight: across(1),
  ArrowLeft: across(-1),
  Home: (at, _rows, _columns, ctrl) => ({ row: ctrl ? 0 : at.row, column: 0 }),
  End: (at, rows, columns, ctrl) => ({ row: ctrl ? rows - 1 : at.row, column: columns - 1 }),
};

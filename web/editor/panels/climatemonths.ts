// The table of a climate by month, typed or pasted, and taken as one step.

import { columnsOf, type MonthsOf, monthNames, monthsNow, spread, withMonths } from "../climatemonths";
import { ask, h, setAttr } from "../dom";
import type { Plan } from "../model";
import type { Board } from "../state";
import type { WaterClimate } from "../watering";
import { wateringOf } from "../wateringfields";
import { cancel } from "./findings";

const words = {
  normals: {
    title: "Reference ET by month",
    hint: "The normals of a station near by, grass reference, for whole months. Rain may be left out. A column copied from a spreadsheet can be pasted.",
    label: "Watering: reference ET by month",
  },
  temperatures: {
    title: "Temperatures by month",
    hint: "The means of each month’s daily highs and lows: reference ET is reckoned from them and the latitude. Rain may be left out. A column copied from a spreadsheet can be pasted.",
    label: "Watering: temperatures by month",
  },
  rain: {
    title: "Rain by month",
    hint: "Of whole months. All left empty: no rain is reckoned with. A column copied from a spreadsheet can be pasted.",
    label: "Watering: rain by month",
  },
} as const satisfies Record<MonthsOf, { title: string; hint: string; label: string }>;

/** Asks for the figures; true when they were taken. */
export async function askMonths(board: Board, of: MonthsOf): Promise<boolean> {
  const before = board.committed;
  const table = new MonthTable(before, of);
  const from = h("input", {
    type: "text",
    id: "months-from",
    maxlength: 200,
    autocomplete: "off",
    value: wateringOf(before).et_from ?? "",
  });
  const error = h("p", { class: "error", role: "alert", hidden: true });
  const form = h(
    "form",
    { method: "dialog", class: "form", novalidate: true },
    h("h2", { id: "months-title" }, words[of].title),
    h("p", { class: "hint" }, words[of].hint),
    h("div", { class: "scroll", role: "region", "aria-label": words[of].title, tabindex: "-1" }, table.el),
    of === "normals"
      ? h("div", { class: "field" }, h("label", { for: "months-from" }, "Where they come from"), from)
      : null,
    error,
    h("p", { class: "acts" }, h("button", { value: "keep", class: "main" }, "Keep"), cancel()),
  );
  let next: Plan = before;
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") !== "keep") return;
    const v = withMonths(before, of, table.typed, from.value);
    error.hidden = v.ok;
    error.textContent = v.ok ? "" : v.sentence;
    table.complain("wrong" in v ? v.wrong : []);
    if (v.ok) next = v.value;
    else e.preventDefault();
  });
  const answer = await ask(h("dialog", { "aria-labelledby": "months-title" }, form));
  if (answer !== "keep" || next === before) return false;
  await board.commit(words[of].label, next);
  board.announce(`${words[of].title} kept. Undo takes it back.`);
  return true;
}

class MonthTable {
  readonly #cells: HTMLInputElement[][]; // by column and month
  readonly el: HTMLElement;

  constructor(p: Plan, of: MonthsOf) {
    const columns = columnsOf[of];
    this.#cells = monthsNow(p, of).map((texts, i) =>
      texts.map((value, m) =>
        h("input", {
          type: "text",
          inputmode: "decimal",
          autocomplete: "off",
          spellcheck: "false",
          autofocus: i === 0 && m === 0,
          "aria-label": `${columns[i]?.title}, ${monthNames[m]}, ${columns[i]?.unit[p.show]}`,
          value,
        }),
      ),
    );
    for (const [i, column] of this.#cells.entries())
      for (const [m, cell] of column.entries()) {
        cell.addEventListener("paste", (e) => this.#paste(e, i, m));
        cell.addEventListener("keydown", (e) => this.#key(e, i, m));
        cell.addEventListener("input", () => setAttr(cell, "aria-invalid", null));
      }
    const head = columns.map((c) =>
      h("th", { scope: "col" }, c.title, h("span", { class: "hint" }, ` ${c.unit[p.show]}`)),
    );
    const row = (name: string, m: number): HTMLElement =>
      h(
        "tr",
        {},
        h("th", { scope: "row" }, name),
        ...this.#cells.map((column) => h("td", {}, column[m] ?? null)),
      );
    this.el = h(
      "table",
      { class: "month-table" },
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Month"), ...head)),
      h("tbody", {}, ...monthNames.map(row)),
    );
  }

  get typed(): string[][] {
    return this.#cells.map((column) => column.map((c) => c.value));
  }

  /** Marks what is wrong, and goes to the first of it. */
  complain(wrong: readonly { column: number; month: number }[]): void {
    for (const cell of this.#cells.flat()) setAttr(cell, "aria-invalid", null);
    for (const w of wrong) setAttr(this.#cells[w.column]?.[w.month] as Element, "aria-invalid", "true");
    const [first] = wrong;
    if (first) this.#cells[first.column]?.[first.month]?.focus();
  }

  #paste(e: ClipboardEvent, column: number, month: number): void {
    const rows = spread(e.clipboardData?.getData("text/plain") ?? "");
    if (!rows) return;
    e.preventDefault();
    for (const [m, row] of rows.entries())
      for (const [i, text] of row.entries()) {
        const cell = this.#cells[column + i]?.[month + m];
        if (cell) cell.value = text;
      }
  }

  /** Up and down go along the column. */
  #key(e: KeyboardEvent, column: number, month: number): void {
    const step = { ArrowUp: -1, ArrowDown: 1 }[e.key];
    const to = step === undefined ? undefined : this.#cells[column]?.[month + step];
    if (!to) return;
    e.preventDefault();
    to.focus();
    to.select();
  }
}

/** A climate as the server tells it, to be read. */
export function climateTable(months: readonly WaterClimate[], caption: string): HTMLElement {
  const head = ["Month", "Reference ET", "Rain"].map((t) => h("th", { scope: "col" }, t));
  const row = (m: WaterClimate): HTMLElement =>
    h(
      "tr",
      {},
      h("th", { scope: "row" }, m.name),
      h("td", { class: "figure" }, m.et),
      h("td", { class: "figure" }, m.rain),
    );
  return h(
    "table",
    { class: "water-months" },
    h("caption", { class: "unseen" }, caption),
    h("thead", {}, h("tr", {}, ...head)),
    h("tbody", {}, ...months.map(row)),
  );
}

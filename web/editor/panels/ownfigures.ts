// A table of figures that have a usual value and a source, and the plan's own where
// it has them: the local rules, and what digging, wire and parts are reckoned with.

import { type Ground, notStored, whenStored } from "../asking";
import { ask, h } from "../dom";
import type { Read } from "../length";
import type { Plan } from "../model";

/** One figure of the table. */
export interface OwnRow {
  readonly id: string;
  readonly words: string;
  /** The unit besides its words; "" where the words have it. */
  readonly unit?: string;
  readonly usual: string;
  /** Who says so of the usual one. */
  readonly source: string;
  /** What the plan has of its own, as it is typed. */
  readonly own: { readonly text: string; readonly source: string } | null;
  /** The plan with what was typed; nothing typed is the usual one. */
  take(p: Plan, typed: string, source: string): Read<Plan>;
}

/** Figures that stand together. */
export interface OwnGroup {
  /** "" for the only one. */
  readonly name: string;
  readonly rows: readonly OwnRow[];
}

interface Table {
  readonly title: string;
  readonly hint: string;
  /** What a figure is called over its column: "Distance". */
  readonly figure: string;
  readonly groups: readonly OwnGroup[];
  /** Of the step, and what is then said. */
  readonly label: string;
  readonly said: string;
}

/**
 * Asks for the table of a plan as it is stored, and makes one step of what was
 * changed; true when something was. work begins the sentence when it is not stored.
 */
export async function changeFigures(
  board: Ground,
  work: string,
  load: (before: Plan) => Promise<Table | { readonly error: string }>,
): Promise<boolean> {
  if (!(await whenStored(board))) {
    board.show({ kind: "hint", sentence: notStored(board, work) });
    return false;
  }
  const before = board.committed;
  const table = await load(before);
  if ("error" in table) {
    board.show({ kind: "hint", sentence: table.error });
    return false;
  }
  const next = await edited(table, before);
  if (next === null || next === before) return false;
  await board.commit(table.label, next);
  board.announce(table.said);
  return true;
}

/** The plan as it was changed in the dialog; null when it was left. */
async function edited(t: Table, before: Plan): Promise<Plan | null> {
  const groups = t.groups.map((g) => ({ name: g.name, lines: g.rows.map((r) => new Line(r, t.figure)) }));
  const lines = groups.flatMap((g) => g.lines);
  lines[0]?.figure.setAttribute("autofocus", "");
  const columns = ["Rule", t.figure, "Usual", "Who says so", ""];
  if (t.figure !== "Distance") columns[0] = "What";
  let next: Plan = before;
  const form = h(
    "form",
    { method: "dialog", class: "form", novalidate: true },
    h("h2", { id: "rules-title" }, t.title),
    h("p", { class: "hint" }, t.hint),
    h(
      "div",
      { class: "scroll", role: "region", "aria-label": t.title, tabindex: "-1" },
      h(
        "table",
        { class: "rules-table" },
        h(
          "thead",
          {},
          h("tr", {}, ...columns.map((c) => h("th", { scope: "col" }, c || unseen("Back to the usual")))),
        ),
        ...groups.map((g) =>
          h(
            "tbody",
            {},
            g.name
              ? h("tr", {}, h("th", { scope: "rowgroup", colspan: 5, class: "rules-group" }, g.name))
              : "",
            ...g.lines.map((l) => l.el),
          ),
        ),
      ),
    ),
    h(
      "p",
      { class: "acts" },
      h("button", { value: "done", class: "main" }, "Keep"),
      h("button", { value: "", formnovalidate: true }, "Cancel"),
    ),
  );
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") === "") return;
    next = before;
    let wrong: Line | null = null;
    for (const l of lines) {
      const v = l.take(next);
      if (v === null) wrong ??= l;
      else next = v;
    }
    if (!wrong) return;
    e.preventDefault();
    wrong.figure.focus();
  });
  const answer = await ask(h("dialog", { class: "roomy rules", "aria-labelledby": "rules-title" }, form));
  return answer === "done" ? next : null;
}

const unseen = (text: string): HTMLElement => h("span", { class: "unseen" }, text);

class Line {
  readonly figure: HTMLInputElement;
  readonly #source: HTMLInputElement;
  readonly #error: HTMLElement;
  readonly #reset: HTMLButtonElement;
  readonly el: HTMLElement;

  constructor(
    readonly row: OwnRow,
    called: string,
  ) {
    const id = `rule-${row.id}`;
    this.#error = h("p", { class: "error", id: `${id}-error`, hidden: true });
    this.figure = h("input", {
      type: "text",
      id,
      autocomplete: "off",
      spellcheck: "false",
      placeholder: row.usual,
      "aria-describedby": `${id}-error`,
      "aria-label": `${row.words}: ${called.toLowerCase()}${row.unit ? `, in ${row.unit}` : ""}`,
      value: row.own?.text ?? "",
    });
    this.#source = h("input", {
      type: "text",
      autocomplete: "off",
      maxlength: 500,
      placeholder: "the usual",
      "aria-label": `${row.words}: who says so`,
      value: row.own?.source ?? "",
    });
    this.#reset = h(
      "button",
      {
        type: "button",
        class: "small",
        "aria-label": `${row.words}: back to the usual ${row.usual}`,
        onclick: () => {
          this.figure.value = "";
          this.#source.value = "";
          this.#told();
          this.figure.focus();
        },
      },
      "Usual",
    );
    for (const input of [this.figure, this.#source]) input.addEventListener("input", () => this.#told());
    // Who says so of the usual one; of the plan's own it stands in its field.
    const source = row.own ? null : h("span", { class: "rule-source" }, row.source);
    this.el = h(
      "tr",
      {},
      h("th", { scope: "row" }, row.words, source),
      h(
        "td",
        {},
        h(
          "span",
          { class: "rule-figure" },
          this.figure,
          row.unit ? h("span", { class: "hint", "aria-hidden": "true" }, row.unit) : null,
        ),
        this.#error,
      ),
      h("td", { class: "figure" }, row.usual),
      h("td", {}, this.#source),
      h("td", {}, this.#reset),
    );
    this.#told();
  }

  #told(): void {
    this.#reset.disabled = this.figure.value.trim() === "" && this.#source.value.trim() === "";
    this.#source.placeholder = this.figure.value.trim() === "" ? "the usual" : "code or custom";
    this.#complain("");
  }

  #complain(sentence: string): void {
    this.#error.textContent = sentence;
    this.#error.hidden = sentence === "";
    if (sentence) this.figure.setAttribute("aria-invalid", "true");
    else this.figure.removeAttribute("aria-invalid");
  }

  /** The plan with what was typed; null when that cannot be, which is then said. */
  take(p: Plan): Plan | null {
    const typed = this.figure.value.trim();
    const source = this.#source.value.trim();
    const own = this.row.own ?? { text: "", source: "" };
    if (typed === own.text && source === own.source) return p;
    const v = this.row.take(p, typed, source);
    if (v.ok) return v.value;
    this.#complain(v.sentence);
    return null;
  }
}

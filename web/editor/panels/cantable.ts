// The cans of an audit as a table: what each caught is typed here, can after can,
// or pasted as a column.

import { auditOf, canOrder, canRef } from "../audits";
import { h, type Row, Rows, setAttr, setText } from "../dom";
import { catchText, catchUnit, withCatch, withPasted } from "../fields_cans";
import { find, parts } from "../model";
import { count } from "../names";
import type { AuditCan } from "../proofview";
import type { Board } from "../state";
import { setCan } from "../yard/records";
import { Control } from "./control";

interface Item {
  readonly audit: string;
  readonly can: string;
  readonly number: number;
  readonly told: AuditCan | undefined;
}

export class CanTable {
  readonly el = h("div", { class: "can-table" });
  readonly #body = h("tbody", {});
  readonly #rows: Rows<Item>;
  readonly #unit = h("span", { class: "hint" });
  readonly #none = h(
    "p",
    { class: "hint" },
    "It has no cans yet. Set some out above, or one by one with Catch can.",
  );
  readonly #table: HTMLElement;
  readonly #inputs = new Map<string, HTMLInputElement>();
  #order: readonly string[] = [];

  constructor(
    readonly board: Board,
    /** A catch that cannot be is told here. */
    readonly tell: (sentence: string) => void,
  ) {
    this.#rows = new Rows(
      this.#body,
      (i) => `${i.audit}.${i.can}`,
      (i) => this.#row(i),
    );
    const heads = ["Can", "Caught", "Predicted", "Of mean", "Out"].map((t) =>
      h("th", { scope: "col" }, t, t === "Caught" ? this.#unit : null),
    );
    this.#table = h(
      "table",
      {},
      h("caption", { class: "unseen" }, "Catch cans in the order they are walked"),
      h("thead", {}, h("tr", {}, ...heads)),
      this.#body,
    );
    const hint = "Enter goes to the next can. A column of figures can be pasted into the first of its cans.";
    this.el.append(this.#none, this.#table, h("p", { class: "hint can-hint" }, hint));
  }

  /** Brings the rows in step with an audit and what was made of it. */
  show(audit: string, told: readonly AuditCan[], stale: boolean): void {
    const { plan } = this.board;
    this.#order = canOrder(auditOf(plan, audit));
    const by = new Map(told.map((c) => [c.id, c]));
    this.#rows.show(this.#order.map((can, i) => ({ audit, can, number: i + 1, told: by.get(can) })));
    for (const id of this.#inputs.keys()) if (!find(plan, "cans", id)) this.#inputs.delete(id);
    const first = this.#order[0];
    setText(this.#unit, first === undefined ? "" : ` ${catchUnit(plan, `${audit}.${first}`)}`);
    this.#none.hidden = first !== undefined;
    this.#table.hidden = first === undefined;
    (this.el.lastElementChild as HTMLElement).hidden = first === undefined;
    setAttr(this.#table, "aria-busy", stale ? "true" : null);
  }

  /** Puts the cursor into the first can that was not read. */
  begin(audit: string): void {
    const { plan } = this.board;
    const id = this.#order.map((c) => `${audit}.${c}`).find((c) => catchText(plan, c) === "");
    (this.#inputs.get(id ?? `${audit}.${this.#order[0]}`) ?? null)?.focus();
  }

  #row({ audit, can }: Item): Row<Item> {
    const { board } = this;
    const id = `${audit}.${can}`;
    const name = h("th", { scope: "row" });
    const control = new Control("Caught", "text", "", (typed) => this.#take(id, typed), "–");
    const input = control.input as HTMLInputElement;
    input.inputMode = "decimal";
    input.enterKeyHint = "next";
    this.#inputs.set(id, input);
    input.addEventListener("keydown", (e) => this.#key(e, audit, can));
    input.addEventListener("paste", (e) => this.#paste(e, audit, can));
    input.addEventListener("focus", () => {
      input.select();
      board.select([canRef(audit, can)]);
      board.lookAt({ about: [canRef(audit, can)], gentle: true });
    });
    const share = h("td", { class: "figure" });
    const due = h("span", {});
    // Where the opening of the cans is known, what it caught as a depth stands beside.
    const depth = h("span", { class: "hint can-depth" });
    const out = h("input", { type: "checkbox" });
    out.addEventListener("change", () => {
      const next = setCan(board.committed, audit, can, { left_out: out.checked || undefined });
      const what = `catch can ${this.#order.indexOf(can) + 1}`;
      void board.commit(`${out.checked ? "Leave out" : "Count"} ${what}`, next);
    });
    const el = h(
      "tr",
      {},
      name,
      h("td", {}, control.el),
      h("td", { class: "figure" }, due, depth),
      share,
      h("td", { class: "can-outs" }, h("label", {}, out, h("span", { class: "unseen" }, "Left out"))),
    );
    return {
      el,
      update: ({ number, told }) => {
        const it = find(board.plan, "cans", id);
        setText(name, String(number));
        setAttr(input, "aria-label", `Can ${number} caught`);
        setAttr(out, "aria-label", `Leave can ${number} out`);
        control.show({ value: catchText(board.plan, id), mixed: false, choices: [] });
        setText(depth, told?.depth && told.depth !== told.catch ? `got ${told.depth}` : "");
        setText(due, told?.predicted ?? "");
        setText(share, told?.percent ?? "");
        out.checked = it?.left_out ?? false;
        el.classList.toggle("low", told?.low ?? false);
        el.classList.toggle("left-out", it?.left_out ?? false);
        setAttr(el, "aria-selected", board.selection.has(canRef(audit, can)) ? "true" : null);
      },
    };
  }

  #take(id: string, typed: string): string | null {
    const next = withCatch(this.board.committed, id, typed);
    if (!next.ok) return next.sentence;
    const number = this.#order.indexOf(parts(`cans/${id}`)[1].split(".")[1] ?? "") + 1;
    void this.board.commit(`Set the catch of can ${number}`, next.value);
    return null;
  }

  #key(e: KeyboardEvent, audit: string, can: string): void {
    const by = { Enter: e.shiftKey ? -1 : 1, ArrowDown: 1, ArrowUp: -1 }[e.key];
    if (by === undefined || e.isComposing) return;
    e.preventDefault();
    const input = this.#inputs.get(`${audit}.${can}`);
    if (input?.getAttribute("aria-invalid") === "true") return;
    this.#inputs.get(`${audit}.${this.#order[this.#order.indexOf(can) + by]}`)?.focus();
  }

  /** A column from a table, as one step; a single figure is pasted as any text is. */
  #paste(e: ClipboardEvent, audit: string, from: string): void {
    const got = withPasted(this.board.committed, audit, from, e.clipboardData?.getData("text/plain") ?? "");
    if (got === null) return;
    e.preventDefault();
    this.tell(got.ok ? "" : got.sentence);
    if (!got.ok) return;
    const catches = count(got.value.taken, "catch", "catches");
    void this.board.commit(`Paste ${catches}`, got.value.plan);
    this.board.announce(`${catches} taken.`);
  }
}

// What an audit comes to: its figures beside the predicted ones, which heads are at
// fault, what these cans cannot tell, and what taking it into the watering changes.

import { button, h, setText } from "../dom";
import type { AuditFault, AuditView } from "../proofview";
import type { Board } from "../state";

export class AuditAnswer {
  readonly el = h("section", { class: "form audit-answer", "aria-label": "What the audit comes to" });
  /** What it comes to in a sentence, which stands over the cans. */
  readonly says = h("p", { class: "audit-says", role: "status" });
  readonly #figures = h("tbody", {});
  readonly #table: HTMLElement;
  readonly #forms = h("ul", { class: "offer-why" });
  readonly #formsPart = h("details", {}, h("summary", {}, "How these are reckoned"), this.#forms);
  readonly #faults = h("ul", { class: "audit-faults" });
  readonly #faultsPart = h("div", { class: "form" }, h("h3", {}, "Heads to look at"), this.#faults);
  readonly #unsure = h("ul", { class: "offer-why" });
  readonly #unsurePart = h(
    "div",
    { class: "form" },
    h("h3", {}, "What these cans cannot tell"),
    this.#unsure,
  );
  readonly #all = h("ul", { class: "audit-faults" });
  readonly #allPart = h("details", {}, h("summary", {}, "Every head that reaches a can"), this.#all);
  readonly #rules = h("ul", { class: "offer-why" });
  readonly #rulesPart = h("div", { class: "form" }, h("h3", {}, "Not as an audit should be"), this.#rules);
  readonly #uses = h("p", {});
  readonly #use: HTMLButtonElement;
  readonly #usePart: HTMLElement;
  #of: AuditView | null = null;

  constructor(
    readonly board: Board,
    use: () => void,
  ) {
    const heads = ["Figure", "Measured", "Predicted"].map((t) => h("th", { scope: "col" }, t));
    this.#table = h(
      "table",
      { class: "audit-figures" },
      h("caption", { class: "unseen" }, "Measured beside predicted at the same cans"),
      h("thead", {}, h("tr", {}, ...heads)),
      this.#figures,
    );
    this.#use = button("Take it into the watering program", "main", use);
    this.#usePart = h("div", { class: "form audit-use" }, this.#uses, h("p", { class: "acts" }, this.#use));
    this.el.append(
      this.#faultsPart,
      this.#unsurePart,
      this.#table,
      this.#formsPart,
      this.#rulesPart,
      this.#usePart,
      this.#allPart,
    );
  }

  show(view: AuditView | null, stale: boolean): void {
    this.el.hidden = view === null;
    this.says.hidden = view === null;
    this.#use.disabled = stale;
    this.el.classList.toggle("stale", stale);
    if (!view || view === this.#of) return;
    this.#of = view;
    setText(this.says, view.says);
    this.#figures.replaceChildren(
      ...(view.figures ?? []).map((f) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, f.name),
          h("td", { class: "figure" }, f.measured),
          h("td", { class: "figure" }, f.expected),
        ),
      ),
    );
    const forms = (view.figures ?? []).filter((f) => f.form !== "");
    this.#list(
      this.#formsPart,
      this.#forms,
      forms.map((f) => h("li", {}, `${f.name}: ${f.form}`)),
    );
    this.#table.hidden = (view.figures ?? []).length === 0;
    this.#list(
      this.#faultsPart,
      this.#faults,
      (view.faults ?? []).map((f) => this.#fault(f, true)),
    );
    this.#list(
      this.#allPart,
      this.#all,
      (view.heads ?? []).map((f) => this.#fault(f, false)),
    );
    const plain = (words: readonly string[] | null): HTMLElement[] =>
      (words ?? []).map((w) => h("li", {}, w));
    this.#list(this.#unsurePart, this.#unsure, plain(view.unsure));
    this.#list(this.#rulesPart, this.#rules, plain(view.rules));
    setText(this.#uses, view.uses);
    this.#usePart.hidden = view.uses === "" && !view.patch;
    this.#use.hidden = !view.patch;
  }

  #list(part: HTMLElement, list: HTMLElement, rows: readonly HTMLElement[]): void {
    part.hidden = rows.length === 0;
    list.replaceChildren(...rows);
  }

  /** A head as the catches tell of it; pressed, it is shown on the board. */
  #fault(f: AuditFault, look: boolean): HTMLElement {
    const show = (): void => {
      this.board.select([`heads/${f.head}`]);
      this.board.lookAt({ about: [`heads/${f.head}`], gentle: true });
    };
    const name = h("button", { type: "button", class: "link", onclick: show }, `Head ${f.tag}`);
    const told = [f.output, f.tilt].filter((w) => w !== "").join("; ");
    return h(
      "li",
      { class: f.sure ? "sure" : null },
      h("p", {}, name, `: ${f.verdict}`, look && !f.sure ? ", not for sure" : ""),
      told ? h("p", { class: "hint" }, told) : null,
      look && f.look ? h("p", {}, f.look) : null,
    );
  }
}

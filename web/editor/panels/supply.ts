// The Supply page: over the whole board, one form with everything that is known of
// the water, beside a picture of what limits its flow. Every field is one step.

import { byID, h, setAttr, setText } from "../dom";
import type { Board } from "../state";
import { firstAsked, type SupplyField, supplyFields } from "../supply";
import { SupplyForm } from "./supplyform";
import { CurvePicture, LimitBars } from "./supplypicture";

/** What lies under the page: out of reach while it is open. */
const under = [".tools", "#kit", "#board", "#legend", "#side", "#drawer", ".skip"];

let page: SupplyPage | null = null;

/** Opens the Supply page, with the caret in the field of that label if there is one, else in the static pressure while none is given. */
export function showSupply(field = ""): void {
  page?.open(field);
}

/** Whether a field of that label is on the Supply page. */
export const onSupplyPage = (label: string): boolean => supplyFields.some((f) => f.label === label);

export class SupplyPage {
  readonly #el = byID("supply");
  readonly #title = h("h2", { id: "supply-title", tabindex: "-1" }, "Water supply");
  readonly #mark = h("span", { class: "supply-mark" });
  readonly #design = h("p", { class: "design-flow" });
  readonly #setBy = h("p", { class: "set-by" });
  readonly #says = h("p", { class: "supply-says" });
  readonly #bars = new LimitBars();
  readonly #curve = new CurvePicture();
  readonly #form: SupplyForm;
  #from: HTMLElement | null = null;

  constructor(readonly board: Board) {
    page = this;
    this.#form = new SupplyForm(board, (f, typed) => this.#take(f, typed));
    const back = h(
      "button",
      { type: "button", class: "main", id: "supply-back", onclick: () => this.close() },
      "Back to the board",
    );
    const head = h(
      "header",
      { class: "supply-head" },
      h("div", { class: "supply-name" }, this.#title, this.#mark),
      h(
        "div",
        { class: "supply-figure", role: "status" },
        h("h3", {}, "Design flow"),
        this.#design,
        this.#setBy,
      ),
      back,
    );
    const pictures = h("div", { class: "supply-pictures" }, this.#bars.el, this.#curve.el);
    this.#el.append(head, this.#says, h("div", { class: "supply-columns" }, this.#form.el, pictures));
    this.#el.addEventListener("keydown", (e) => {
      if (e.key !== "Escape" || e.defaultPrevented) return;
      e.preventDefault();
      e.stopPropagation();
      this.close();
    });
    for (const topic of ["plan", "design", "catalog", "away"] as const)
      board.subscribe(topic, () => this.#render());
    // What is done on the board is seen on the board.
    for (const topic of ["look", "tool", "earlier"] as const) board.subscribe(topic, () => this.#leave());
  }

  get isOpen(): boolean {
    return !this.#el.hidden;
  }

  open(field: string): void {
    if (!this.isOpen) this.#from = document.activeElement as HTMLElement | null;
    this.#el.hidden = false;
    document.body.dataset.page = "supply";
    for (const el of document.querySelectorAll<HTMLElement>(under.join(", "))) el.inert = true;
    this.#render();
    this.#el.scrollTop = 0;
    const bare = this.board.plan.supply?.static_psi === undefined;
    const input = this.#form.input(field || (bare ? firstAsked(this.board.plan) : ""));
    (input ?? this.#title).focus();
    input?.scrollIntoView({ block: "center" });
  }

  close(): void {
    this.#leave();
    const from = this.#from?.isConnected && this.#from !== document.body ? this.#from : null;
    (from ?? byID("scene")).focus();
    this.#from = null;
  }

  #leave(): void {
    if (!this.isOpen) return;
    this.#el.hidden = true;
    delete document.body.dataset.page;
    for (const el of document.querySelectorAll<HTMLElement>(under.join(", "))) el.inert = false;
  }

  #take(f: SupplyField, typed: string): string | null {
    const next = f.set(this.board.committed, typed, this.board.catalog);
    if (!next.ok) return next.sentence;
    void this.board.commit(`Supply: ${f.label.toLowerCase()}`, next.value);
    return null;
  }

  #render(): void {
    if (!this.isOpen) return;
    this.#form.show();
    const r = this.board.design?.supply;
    if (!r) return;
    setText(this.#mark, r.mark);
    setAttr(this.#mark, "data-known", r.known);
    setText(this.#design, this.board.away ? "not computed" : r.design);
    setText(this.#setBy, r.set_by);
    setText(this.#says, r.says);
    this.#says.hidden = r.says === "";
    this.#bars.show(r);
    this.#curve.show(r);
    this.#form.tell(r);
  }
}

// What is offered to keep heads of other zones off an area: under its card, with what
// it does to every area concerned.

import { button, focusLost, h, setText } from "../dom";
import type { Ref } from "../model";
import type { TurningOff, TurnOffView } from "../turningoff";
import { type Bench, Seeking } from "./bench";

export class TurnOffPart {
  readonly el = h("div", { class: "form water-turn", hidden: true });
  readonly #seeking = new Seeking("Turning arcs off");
  readonly #says = h("p", {});
  readonly #what = h("h3", {});
  readonly #changes = h("ul", { class: "offer-why" });
  readonly #rows = h("div", { class: "form" });
  readonly #notes = h("div", { class: "offer-notes" });
  readonly #stop = button("Stop", "small", () => this.t.search.stop());
  readonly #take = button("Turn them", "small main", () => void this.#taken());
  readonly #leave = button("Leave them", "small", () => this.drop());
  #of: TurnOffView | null = null;

  constructor(
    readonly t: TurningOff,
    readonly bench: () => Bench,
  ) {
    const acts = h("p", { class: "acts" }, this.#stop, this.#take, this.#leave);
    this.el.append(this.#seeking.el, this.#says, this.#what, this.#changes, this.#rows, this.#notes, acts);
    this.el.addEventListener("keydown", (e) => {
      if (e.key !== "Escape" || e.defaultPrevented || this.t.search.underway) return;
      e.preventDefault();
      e.stopPropagation();
      this.drop();
    });
    this.el.setAttribute("role", "group");
    this.el.setAttribute("aria-label", "Arcs turned off");
  }

  async seek(area: string): Promise<void> {
    this.bench().holdBoard();
    const done = this.t.seek(area);
    this.show();
    this.#stop.focus();
    await done;
    this.show();
    if (!this.t.shown) this.bench().release();
    if (focusLost()) (this.#take.hidden ? this.#leave : this.#take).focus();
  }

  async #taken(): Promise<void> {
    this.bench().release();
    const back = this.#opener();
    await this.t.take();
    this.show();
    if (focusLost()) back?.focus();
  }

  drop(): void {
    const back = this.#opener();
    this.bench().release();
    this.t.drop();
    this.show();
    if (focusLost()) back?.focus();
  }

  /** The name of the area it was asked for. */
  #opener(): HTMLElement | null {
    return this.el.parentElement?.querySelector<HTMLElement>("h4 > button") ?? null;
  }

  show(): void {
    const { t } = this;
    const { underway } = t.search;
    const v = t.view;
    this.el.hidden = t.area === null;
    this.#seeking.show(t.search.told, underway);
    setText(
      this.#says,
      underway ? "" : t.stale ? "The plan has changed since. Ask again." : (v?.says ?? t.trouble),
    );
    this.#says.hidden = underway;
    this.#stop.hidden = !underway;
    this.#take.hidden = underway || !v?.patch || t.stale;
    this.#leave.hidden = underway;
    setText(this.#leave, v?.patch && !t.stale ? "Leave them" : "Close");
    for (const el of [this.#what, this.#changes, this.#rows, this.#notes])
      el.hidden = underway || v === null || t.stale;
    if (v === this.#of || v === null) return;
    this.#of = v;
    setText(
      this.#what,
      (v.changes ?? []).length === 0 ? "" : v.patch ? "What is changed" : "What it would take",
    );
    this.#changes.replaceChildren(
      ...(v.changes ?? []).map((c) => {
        const show = button("Show", "link", () => {
          const about: Ref[] = [`heads/${c.head}`];
          t.board.announce(c.says);
          this.bench().d.board.lookAt({ about, gentle: true });
        });
        show.setAttribute("aria-label", `Show: ${c.says}`);
        return h("li", {}, c.says, " ", show);
      }),
    );
    this.#rows.replaceChildren(...(v.rows ?? []).map(rowTable));
    this.#notes.replaceChildren(
      ...[...(v.notes ?? []), v.evaluations, v.caution]
        .filter(Boolean)
        .map((n) => h("p", { class: "hint" }, n)),
    );
  }
}

function rowTable(r: NonNullable<TurnOffView["rows"]>[number]): HTMLElement {
  const head = ["Before", "After"].map((t) => h("th", { scope: "col" }, t));
  return h(
    "table",
    { class: "mend-table" },
    h("caption", {}, r.name),
    h("thead", {}, h("tr", {}, h("td", {}), ...head)),
    h(
      "tbody",
      {},
      ...(r.readings ?? []).map((b) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, b.label),
          h("td", { class: "figure" }, b.before),
          h("td", { class: "figure", "data-change": b.change }, b.after),
        ),
      ),
    ),
  );
}

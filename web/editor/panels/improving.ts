// The mends of a layout, one below the other: what each changes and cures, before
// and after, seen on the board and taken one by one.

import { areasChosen, type StandView } from "../arranging";
import { stale } from "../asking";
import { button, focusLost, h, type Row, Rows, setAttr, setText } from "../dom";
import type { Drawing } from "../drawing";
import { holds, type Point } from "../geometry";
import { Improving, type MendView } from "../improving";
import { find, type Ref } from "../model";
import { count } from "../names";
import { about, pictureBounds } from "../offershape";
import { ringOf } from "../shape";
import { Bench, Seeking } from "./bench";
import { offerPicture } from "./offerpicture";

let form: ImproveForm | null = null;

/** Seeks mends for these areas; none: for those selected, or all. */
export function showImproving(areas?: readonly string[]): void {
  form?.open(areas);
}

export class ImproveForm {
  readonly #bench: Bench;
  readonly #i: Improving;
  readonly #seeking = new Seeking("Seeking mends");
  readonly #says = h("p", {});
  readonly #scopeWords = h("span", {});
  readonly #scope = h(
    "p",
    { class: "hint", hidden: true },
    this.#scopeWords,
    " ",
    button("Seek on all areas", "link", () => void this.#seek([])),
  );
  readonly #list = h("ol", { class: "mends" });
  readonly #rows: Rows<MendView>;
  readonly #left = h("ul", { class: "offer-why" });
  readonly #leftTitle = h("h3", { hidden: true }, "Not cured by any one change");
  readonly #caution = h("p", { class: "hint" });
  readonly #stop = button("Stop", "main", () => this.#i.search.stop());
  readonly #all = button("", "main", () => void this.#take(null));
  readonly #again = button("Ask again", "", () => void this.#seek());
  readonly #close = button("Close", "", () => this.#bench.leave());

  constructor(readonly d: Drawing) {
    form = this;
    this.#i = new Improving(d.board, () => this.#render());
    this.#bench = new Bench(d, "improve", "Improve the layout", this.#i);
    this.#rows = new Rows(
      this.#list,
      (_, i) => `${this.#i.view?.rev} ${i}`,
      () => this.#row(),
    );
    this.#bench.body.append(
      h(
        "div",
        { class: "form" },
        this.#seeking.el,
        this.#scope,
        this.#says,
        this.#list,
        this.#leftTitle,
        this.#left,
        this.#caution,
      ),
    );
    this.#bench.acts.append(this.#stop, this.#all, this.#again, this.#close);
    this.#render();
  }

  open(areas?: readonly string[]): void {
    this.#bench.open();
    const { plan, selection } = this.d.board;
    void this.#seek(areas ?? areasChosen(plan, selection));
  }

  async #seek(areas = this.#i.areas): Promise<void> {
    this.#bench.release();
    const done = this.#i.seek(areas);
    this.#stop.focus();
    await done;
    if (!this.#bench.isOpen || !focusLost()) return;
    (this.#list.querySelector<HTMLElement>("button") ?? this.#close).focus();
  }

  #show(i: number): void {
    const m = this.#i.mends[i];
    if (!m) return;
    if (this.#i.shown === i) this.#bench.release();
    else this.#bench.holdBoard();
    this.#i.show(i);
    if (this.#i.shown === null) this.#bench.release();
    else
      this.d.board.lookAt({
        about: m.heads.map((id): Ref => `heads/${id}`),
        at: [m.x_ft, m.y_ft],
        gentle: true,
      });
  }

  async #take(i: number | null): Promise<void> {
    this.#bench.release();
    const at = i ?? this.#i.takable[0] ?? 0;
    const done = i === null ? this.#i.takeAll() : this.#i.take(i);
    this.#focusAfter(at);
    await done;
    if (this.#bench.isOpen && focusLost()) this.#focusAfter(at);
  }

  /** The next that is open, so that one key takes one after the other. */
  #focusAfter(i: number): void {
    const next = this.#i.open.find((k) => k > i) ?? this.#i.open[0];
    const el =
      next === undefined ? null : this.#list.children[next]?.querySelector<HTMLElement>("[data-act=take]");
    (el ?? this.#close).focus();
  }

  #render(): void {
    const s = this.#i;
    const seeking = s.phase === "seeking";
    if (s.stale) this.#bench.release();
    this.#seeking.show(s.search.told, seeking);
    const names = s.areas.map((id) => find(this.d.board.plan, "areas", id)?.name ?? id);
    setText(this.#scopeWords, `On ${names.join(", ")} only.`);
    this.#scope.hidden = seeking || names.length === 0;
    setText(this.#says, seeking ? "" : (s.view?.says ?? s.trouble));
    this.#says.hidden = seeking;
    this.#rows.show(s.mends);
    const left = s.view?.left ?? [];
    this.#leftTitle.hidden = left.length === 0;
    this.#left.hidden = left.length === 0;
    this.#left.replaceChildren(...left.map((l) => h("li", {}, l)));
    setText(this.#caution, s.view?.caution ?? "");
    this.#stop.hidden = !seeking;
    const all = s.takable.length;
    this.#all.hidden = seeking || all < 2 || s.stale;
    setText(this.#all, `Take all ${all}`);
    this.#again.hidden = seeking;
    setAttr(this.#again, "class", s.stale ? "main" : null);
    this.#bench.tell(this.#foot());
  }

  #foot(): string {
    const s = this.#i;
    if (s.phase !== "offered") return "";
    if (s.stale) return stale;
    if (s.rough)
      return "One was taken out of turn: the figures of the rest are of the order they stand in. Ask again for new ones.";
    const taken = s.fates.filter((f) => f === "taken").length;
    if (taken === 0) return "";
    if (taken === s.mends.length) return "All taken. Ask again to look once more.";
    return `${taken} of ${count(s.mends.length, "mend")} taken.`;
  }

  #row(): Row<MendView> {
    let i = 0;
    let of: MendView | null = null;
    const number = h("span", { class: "mend-number", "aria-hidden": "true" });
    const says = h("h3", {});
    const why = h("p", { class: "hint" });
    const pictures = h("div", { class: "mend-pictures" });
    const body = h("tbody");
    const table = h(
      "table",
      { class: "mend-table" },
      h(
        "thead",
        {},
        h("tr", {}, h("td", {}), h("th", { scope: "col" }, "Before"), h("th", { scope: "col" }, "After")),
      ),
      body,
    );
    const fate = h("p", { class: "mend-fate", hidden: true });
    const on = h("p", { class: "hint", hidden: true });
    const show = button("Show", "small", () => this.#show(i));
    const take = button("Take", "small main", () => void this.#take(i));
    const skip = button("Skip", "small", () => {
      if (this.#i.shown === i) this.#bench.release();
      this.#i.skip(i);
    });
    take.dataset.act = "take";
    const acts = h("p", { class: "acts" }, show, take, skip);
    const rest = h("div", { class: "mend-body" }, why, on, acts, pictures, table);
    const el = h("li", { class: "mend" }, h("div", { class: "mend-head" }, number, says), fate, rest);
    return {
      el,
      update: (m) => {
        const s = this.#i;
        i = s.mends.indexOf(m);
        const now = s.fates[i] ?? "open";
        setAttr(el, "data-fate", now);
        setAttr(el, "data-shown", s.shown === i);
        setText(number, String(i + 1));
        setText(says, m.says);
        setText(why, m.why);
        setText(fate, now === "taken" ? "Taken" : now === "skipped" ? "Skipped" : "");
        fate.hidden = now === "open";
        table.hidden = now !== "open" || m.readings.length === 0;
        pictures.hidden = now !== "open";
        why.hidden = now !== "open";
        const waits = now === "open" ? s.why(i) : "";
        setText(on, waits);
        on.hidden = waits === "" || s.stale;
        show.hidden = now === "taken" || s.stale;
        setText(show, s.shown === i ? "Hide" : "Show");
        setAttr(show, "aria-pressed", s.shown === i ? "true" : "false");
        take.hidden = now !== "open";
        take.disabled = waits !== "";
        skip.hidden = now === "taken";
        setText(skip, now === "skipped" ? "Bring back" : "Skip");
        for (const [b, word] of [
          [show, s.shown === i ? "Hide" : "Show"],
          [take, "Take"],
          [skip, now === "skipped" ? "Bring back" : "Skip"],
        ] as const)
          setAttr(b, "aria-label", `${word} mend ${i + 1}: ${m.says}`);
        acts.hidden = now === "taken";
        if (of === m) return;
        of = m;
        body.replaceChildren(
          ...m.readings.map((r) =>
            h(
              "tr",
              {},
              h("th", { scope: "row" }, r.label),
              h("td", { class: "figure" }, r.before),
              h("td", { class: "figure", "data-change": r.change }, r.after),
            ),
          ),
        );
        pictures.replaceChildren(...this.#pictures(m));
      },
    };
  }

  /** The place of a mend as it is and as it would be. */
  #pictures(m: MendView): HTMLElement[] {
    const { committed } = this.d.board;
    const a = find(committed, "areas", m.area);
    const rings: Point[][] = a ? [ringOf(a.outline), ...(a.holes ?? []).map((r) => ringOf(r))] : [];
    const both = [...m.from, ...m.to];
    const b = pictureBounds([], both);
    const throws = Math.max(10, ...both.map((s) => s.throw_ft));
    const side = Math.max(b.maxX - b.minX, b.maxY - b.minY) + 2.4 * throws;
    const within = about([(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2], side);
    const changed = new Set(both.map((s) => s.id));
    const others = Object.entries(committed.heads ?? {}).flatMap(([id, head]): Point[] => {
      const at: Point = [head.x_ft, head.y_ft];
      return !changed.has(id) && holds(within, at) ? [at] : [];
    });
    const figure = (title: string, heads: readonly StandView[], was: readonly StandView[]): HTMLElement =>
      h(
        "figure",
        {},
        offerPicture(
          [{ rings, heads, was, others }],
          `${title}: ${heads.map((s) => s.says).join("; ") || "no head there"}`,
          within,
        ),
        h("figcaption", {}, title),
      );
    return [figure("Before", m.from, []), figure("After", m.to, m.from)];
  }
}

// The form that arranges heads: which areas, from which nozzles, what may be
// wetted past the edge; then a few layouts to choose from, seen on the board.

import {
  type ArrangeArea,
  Arranging,
  areasChosen,
  type OfferView,
  type PastLimit,
  roomSays,
  type StockFamily,
  shares,
} from "../arranging";
import { stale } from "../asking";
import { button, focusLost, h, type Row, Rows, setAttr, setText } from "../dom";
import type { Drawing } from "../drawing";
import { count, sortKey } from "../names";
import { Bench, Seeking } from "./bench";
import { compareOffers } from "./comparing";
import { fill } from "./control";
import { showLocalRules } from "./localrules";
import { picksPicture } from "./offerpicture";

let form: ArrangeForm | null = null;

/** Opens the form, with these areas ticked; none: those selected. */
export function showArranging(areas?: readonly string[]): void {
  form?.open(areas);
}

export class ArrangeForm {
  readonly #bench: Bench;
  readonly #a: Arranging;
  readonly #ask: AskingPart;
  readonly #offers: OffersPart;
  readonly #go = button("Arrange", "main", () => void this.#seek());
  readonly #stop = button("Stop", "main", () => this.#a.search.stop());
  readonly #apply = button("", "main", () => void this.#take());
  readonly #again = button("Ask otherwise…", "", () => {
    this.#bench.release();
    this.#a.again();
    this.#go.focus();
  });
  readonly #leave = button("Cancel", "", () => this.#bench.leave());
  #told = "";

  constructor(readonly d: Drawing) {
    form = this;
    this.#a = new Arranging(d.board, () => this.#render());
    this.#bench = new Bench(d, "arrange", "Arrange heads", this.#a);
    this.#ask = new AskingPart(this.#a, d);
    this.#offers = new OffersPart(this.#a, d);
    this.#offers.hold = () => this.#bench.holdBoard();
    this.#bench.body.append(this.#ask.el, this.#offers.el);
    this.#bench.acts.append(this.#go, this.#stop, this.#apply, this.#again, this.#leave);
    d.board.subscribe("selection", () => this.#follow());
    this.#render();
  }

  open(areas?: readonly string[]): void {
    if (this.#bench.isOpen && this.#a.phase !== "asking") this.#a.again();
    this.#bench.open();
    const { plan, selection } = this.d.board;
    void this.#a.open(areas ?? areasChosen(plan, selection)).then(() => {
      if (!this.#bench.isOpen) return;
      if (document.activeElement !== this.#bench.title) return;
      if (this.#a.wants === "") this.#go.focus();
      else this.#ask.firstTick()?.focus();
    });
    this.#render();
  }

  /** While it is asked, the areas clicked on the board are those that are ticked. */
  #follow(): void {
    if (!this.#bench.isOpen || this.#a.phase !== "asking" || !this.#a.options) return;
    const own = areasChosen(this.d.board.plan, this.d.board.selection);
    const can = own.filter((id) => this.#a.options?.areas.find((x) => x.id === id)?.can);
    if (can.length > 0) this.#a.set({ areas: can });
  }

  async #seek(): Promise<void> {
    const wants = this.#a.wants;
    if (wants) {
      this.#bench.tell(wants);
      this.#ask.firstTick()?.focus();
      return;
    }
    this.#bench.holdBoard();
    const done = this.#a.seek();
    if (this.#a.phase === "seeking" || this.#a.view === null) this.#render();
    this.#stop.focus();
    await done;
    if (!this.#bench.isOpen) return;
    if (this.#a.phase === "asking") {
      this.#bench.release();
      this.#render();
      if (focusLost()) this.#go.focus();
      return;
    }
    this.#render();
    if (focusLost()) this.#offers.focusChosen();
  }

  async #take(): Promise<void> {
    this.#bench.release();
    if (await this.#a.take()) this.#bench.leave();
    else this.#render();
  }

  #render(): void {
    const a = this.#a;
    const { phase } = a;
    if (a.stale) this.#bench.release();
    this.#ask.el.hidden = phase !== "asking";
    this.#offers.el.hidden = phase === "asking";
    if (phase === "asking") this.#ask.show();
    this.#offers.show();
    this.#go.hidden = phase !== "asking";
    this.#stop.hidden = phase !== "seeking";
    setText(this.#stop, a.view ? "Stop and keep these" : "Stop");
    this.#apply.hidden = phase !== "offered" || a.offer === null || a.stale;
    setText(this.#apply, `Apply, ${lower(a.label)}`);
    this.#again.hidden = phase === "asking";
    setAttr(this.#again, "class", a.stale ? "main" : null);
    setText(this.#again, a.stale ? "Ask again…" : "Ask otherwise…");
    this.#bench.tell(this.#says());
    this.#announce();
  }

  #says(): string {
    const a = this.#a;
    if (a.phase === "asking") {
      if (a.view && !a.view.offered) return a.view.says;
      return a.trouble || (a.options ? roomSays(a.options.areas, a.wish.areas) : "");
    }
    if (a.stale) return stale;
    if (a.offer === null) return "";
    const { stay } = a.heads;
    if (stay === 0) return "On the board, not set yet.";
    return `On the board, not set yet. ${count(stay, "head")} ${stay === 1 ? "stays" : "stay"}.`;
  }

  /** Says once that the first are there, and that the search has ended. */
  #announce(): void {
    const a = this.#a;
    const now = `${a.phase} ${a.view !== null} ${a.stopped}`;
    if (now === this.#told) return;
    this.#told = now;
    const first = a.offer ? `First: ${a.offer.name}. ${a.offer.says}` : "";
    if (a.phase === "seeking" && a.view)
      this.d.board.announce(`${count(a.view.offers.length, "layout")} so far. ${first}`);
    if (a.phase !== "offered" || !a.view) return;
    const how = a.stopped ? "Stopped; the best so far are kept." : "Done.";
    this.d.board.announce(`${how} ${count(a.view.offers.length, "layout")} offered. ${first}`);
  }
}

const byName = <T extends { name: string }>(list: readonly T[]): T[] =>
  list
    .map((x) => ({ x, key: sortKey(x.name) }))
    .sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0))
    .map(({ x }) => x);

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

// What is asked

class AskingPart {
  readonly #areas: Rows<ArrangeArea>;
  readonly #areaList = h("div", { class: "offer-ticks" });
  readonly #all: HTMLButtonElement;
  readonly #families: Rows<StockFamily>;
  readonly #familyList = h("div", { class: "offer-ticks" });
  readonly #nozzlesSay = h("span", { class: "offer-asked" });
  readonly #limits = h("div", { class: "form" });
  readonly #limitsSay = h("span", { class: "offer-asked" });
  readonly #how = h("div", { class: "form" });
  readonly #none = h("p", { class: "hint", role: "status" });
  readonly el: HTMLElement;
  #made = false;
  #off = new Set<string>(); // nozzles not ticked
  #without = new Set<string>(); // families likewise

  constructor(
    readonly a: Arranging,
    readonly d: Drawing,
  ) {
    this.#areas = new Rows(
      this.#areaList,
      (x) => x.id,
      (x) => this.#areaRow(x.id),
    );
    this.#families = new Rows(
      this.#familyList,
      (f) => f.id,
      (f) => this.#familyRow(f),
    );
    this.#all = button("Tick all", "link", () => {
      const all = (a.options?.areas ?? []).filter((x) => x.can).map((x) => x.id);
      a.set({ areas: a.wish.areas.length === all.length ? [] : all });
    });
    const stock = h(
      "details",
      {},
      h("summary", {}, "Nozzles ", this.#nozzlesSay),
      h(
        "div",
        { class: "form" },
        h("p", { class: "hint" }, "Take away what you do not stock. No area gets two rates."),
        this.#familyList,
      ),
    );
    const past = h(
      "details",
      {},
      h("summary", {}, "Water past the edge ", this.#limitsSay),
      h(
        "div",
        { class: "form" },
        h("p", { class: "hint" }, "The most of an area’s water that may fall on what lies beside it."),
        this.#limits,
      ),
    );
    const how = h("details", {}, h("summary", {}, "Steps and time"), this.#how);
    const rules = h(
      "p",
      { class: "hint" },
      "Heads keep their distance from walls, paving and trunks by the ",
      h(
        "button",
        {
          type: "button",
          class: "plain",
          onclick: () => void showLocalRules(d.board, () => void a.open(a.wish.areas)),
        },
        "local rules",
      ),
      ".",
    );
    this.el = h(
      "div",
      { class: "form" },
      this.#none,
      h("fieldset", { class: "bench-areas" }, h("legend", {}, "Planting areas"), this.#areaList, this.#all),
      stock,
      past,
      how,
      rules,
    );
  }

  firstTick(): HTMLElement | null {
    return this.#areaList.querySelector<HTMLElement>("input:not(:disabled)");
  }

  show(): void {
    const o = this.a.options;
    setText(
      this.#none,
      o ? (o.areas.length === 0 ? this.a.wants : "") : this.a.trouble || "Looking at the areas…",
    );
    this.#none.hidden = o !== null && o.areas.length > 0;
    if (!o) return;
    this.#areas.show(byName(o.areas));
    const all = o.areas.filter((x) => x.can).length;
    this.#all.hidden = all < 2;
    setText(this.#all, this.a.wish.areas.length === all ? "Tick none" : "Tick all");
    this.#families.show(o.families);
    if (!this.#made) this.#make(o.limits);
    this.#made = true;
    const left = this.#without.size + this.#off.size;
    setText(this.#nozzlesSay, left === 0 ? "whatever suits" : "your choice of them");
    const own = Object.values(this.a.wish.limits).length > 0;
    setText(this.#limitsSay, own ? "as you chose" : "the usual");
  }

  #areaRow(id: string): Row<ArrangeArea> {
    const input = h("input", { type: "checkbox" });
    const name = h("strong");
    const facts = h("span", { class: "hint" });
    const why = h("span", { class: "hint" });
    input.addEventListener("change", () => {
      const areas = this.a.wish.areas.filter((x) => x !== id);
      this.a.set({ areas: input.checked ? [...areas, id] : areas });
    });
    return {
      el: h("label", { class: "offer-tick" }, input, h("span", {}, name, facts, why)),
      update: (x) => {
        input.checked = this.a.wish.areas.includes(x.id);
        input.disabled = !x.can;
        setText(name, x.name);
        const family = this.a.options?.families.find((f) => f.id === x.family)?.name;
        const suits = family ? `suits ${lower(family)}` : "";
        setText(facts, [x.width, suits].filter(Boolean).join(" · "));
        setText(why, x.can ? x.says : (x.why ?? ""));
        setAttr(facts, "title", x.suggests ?? null);
      },
    };
  }

  #familyRow(f: StockFamily): Row<StockFamily> {
    const input = h("input", { type: "checkbox" });
    const title = h(
      "label",
      { class: "offer-tick" },
      input,
      h("span", {}, h("strong", {}, f.name), h("span", { class: "hint" }, f.says)),
    );
    const each = new Map(
      f.nozzles.map((n) => {
        const tick = h("input", { type: "checkbox" });
        tick.addEventListener("change", () => {
          if (tick.checked) this.#off.delete(n.id);
          else this.#off.add(n.id);
          if (tick.checked) this.#without.delete(f.id);
          this.#stock();
        });
        const used = n.used > 0 ? ` · ${count(n.used, "head")} of the plan` : "";
        const el = h(
          "label",
          { class: "offer-tick" },
          tick,
          h("span", {}, n.name, h("span", { class: "hint" }, `${n.says}${used}`)),
        );
        return [n.id, { tick, el }] as const;
      }),
    );
    input.addEventListener("change", () => {
      if (input.checked) this.#without.delete(f.id);
      else this.#without.add(f.id);
      for (const n of f.nozzles) this.#off.delete(n.id);
      this.#stock();
    });
    const list = h("div", { class: "offer-ticks" }, ...[...each.values()].map((x) => x.el));
    const more = h(
      "details",
      { class: "offer-nozzles" },
      h("summary", {}, `Which ${f.name.toLowerCase()}`),
      list,
    );
    return {
      el: h("div", {}, title, more),
      update: () => {
        const gone = this.#without.has(f.id);
        const some = f.nozzles.some((n) => this.#off.has(n.id));
        input.checked = !gone && !f.nozzles.every((n) => this.#off.has(n.id));
        input.indeterminate = input.checked && some;
        more.hidden = gone;
        for (const [id, { tick }] of each) tick.checked = !gone && !this.#off.has(id);
      },
    };
  }

  /** What is ticked, as the server is asked: nothing where all is. */
  #stock(): void {
    const all = this.a.options?.families ?? [];
    const families = all.filter((f) => !this.#without.has(f.id));
    const nozzles = families.flatMap((f) => f.nozzles.filter((n) => !this.#off.has(n.id)).map((n) => n.id));
    this.a.set({
      families: this.#without.size > 0 ? families.map((f) => f.id) : [],
      nozzles: this.#off.size > 0 ? nozzles : [],
    });
  }

  #make(limits: readonly PastLimit[]): void {
    this.#limits.replaceChildren(
      ...limits.map((l) => {
        const words = (s: number): string => {
          const text = s === 0 ? "none" : `up to ${s} %`;
          return s === l.usual ? `${text} (usual)` : text;
        };
        const choices = shares(l).map((s) => ({ value: String(s), words: words(s), usual: s === l.usual }));
        return this.#select(l.words, choices, (v) => {
          const { [l.id]: _old, ...rest } = this.a.wish.limits;
          const n = Number(v);
          this.a.set({ limits: n === l.usual ? rest : { ...rest, [l.id]: n } });
        });
      }),
    );
    const o = this.a.options;
    if (!o) return;
    this.#how.replaceChildren(
      this.#select("Arcs in steps of", o.angles, (v) => this.a.set({ angle: v })),
      this.#select("Throws in steps of", o.throws, (v) => this.a.set({ throw: v })),
      this.#select("How long to seek", o.efforts, (v) => this.a.set({ effort: v })),
    );
  }

  #select(
    label: string,
    choices: readonly { value: string; words: string; usual?: boolean }[],
    take: (v: string) => void,
  ): HTMLElement {
    const select = h("select");
    fill(
      select,
      choices.map((c) => ({ value: c.value, label: c.words })),
    );
    select.value = choices.find((c) => c.usual)?.value ?? choices[0]?.value ?? "";
    select.addEventListener("change", () => take(select.value));
    return h("label", { class: "offer-pair" }, h("span", {}, label), select);
  }
}

// What is offered

/** While better ones come, the picture of an offer is drawn again after this at the earliest. */
const PICTURE_MS = 1500;

/** As many notes as are read at once. */
const FEW_NOTES = 3;

class OffersPart {
  /** The board is about to show what is offered. */
  hold: () => void = () => {};
  readonly #seeking = new Seeking("Arranging heads");
  readonly #says = h("p");
  readonly #cards = h("div", { class: "offer-cards", role: "radiogroup", "aria-label": "Layouts offered" });
  readonly #rows: Rows<OfferView>;
  readonly #compare = button("Compare side by side…", "", () => void compareOffers(this.a, this.#compare));
  readonly #driest = button("Show the driest place", "", () => this.#showDriest());
  readonly #each = h("details", { hidden: true });
  readonly #eachList = h("div", { class: "form" });
  readonly #facts = h("dl", { class: "facts" });
  readonly #past = h("ul", { class: "offer-past" });
  /** Areas for which there is no layout, and what is said of the others. */
  readonly #none = h("ul", { class: "offer-why" });
  readonly #why = h("ul", { class: "offer-why" });
  readonly #whys = h("details", { hidden: true }, h("summary", {}, "Said of the areas"), this.#why);
  readonly #notes = h("div", { class: "offer-notes" });
  readonly #otherwise = button("Seek again from another start", "", () => this.#another());
  readonly el: HTMLElement;
  #madeOf = "";

  constructor(
    readonly a: Arranging,
    readonly d: Drawing,
  ) {
    this.#rows = new Rows(
      this.#cards,
      (_, i) => String(i),
      () => this.#card(),
    );
    this.#each.append(h("summary", {}, "A layout for each area"), this.#eachList);
    this.el = h(
      "div",
      { class: "form" },
      this.#seeking.el,
      this.#says,
      this.#none,
      this.#cards,
      h("div", { class: "acts" }, this.#compare, this.#driest),
      this.#each,
      h("details", {}, h("summary", {}, "All figures of the one chosen"), this.#facts, this.#past),
      this.#whys,
      this.#notes,
      h("div", { class: "acts" }, this.#otherwise),
    );
  }

  focusChosen(): void {
    this.#cards.querySelector<HTMLElement>("input:checked")?.focus();
  }

  show(): void {
    const { a } = this;
    const v = a.view;
    const seeking = a.phase === "seeking";
    this.#seeking.show(a.search.told, seeking);
    setText(this.#says, v ? (a.stopped ? `Stopped: the best so far. ${v.says}` : v.says) : "");
    this.#rows.show(v?.offers ?? []);
    const some = (v?.offers.length ?? 0) > 0;
    this.#compare.hidden = (v?.offers.length ?? 0) < 2;
    this.#driest.hidden = !some || a.stale;
    this.#otherwise.hidden = seeking || a.stale;
    this.#showEach(!seeking);
    this.#showFacts();
    const said = byName(v?.answers ?? []).filter((x) => x.why);
    const words = (of: typeof said): string[] =>
      of.map((x) => (x.why?.startsWith(x.name) ? x.why : `${x.name}: ${x.why}`));
    list(this.#none, words(said.filter((x) => x.layouts.length === 0)));
    list(this.#why, words(said.filter((x) => x.layouts.length > 0)));
    this.#whys.hidden = this.#why.hidden;
    this.#showNotes();
  }

  /** Few notes stand there; many would push what ends the form out of sight. */
  #showNotes(): void {
    const v = this.a.view;
    const notes = v?.notes ?? [];
    const ends = [v?.whole ? v.evaluations : "", v?.caution ?? ""].filter(Boolean);
    const text = [...notes, ...ends].join("\n");
    if (this.#notes.dataset.of === text) return;
    this.#notes.dataset.of = text;
    const lines = notes.map((n) => h("p", { class: "hint" }, n));
    const told =
      lines.length > FEW_NOTES
        ? [
            h(
              "details",
              {},
              h("summary", {}, count(lines.length, "note")),
              h("div", { class: "form" }, ...lines),
            ),
          ]
        : lines;
    this.#notes.replaceChildren(...told, ...ends.map((n) => h("p", { class: "hint" }, n)));
  }

  #card(): Row<OfferView> {
    const radio = h("input", { type: "radio", name: "arrange-offer" });
    const picture = h("span", { class: "offer-thumb" });
    const name = h("strong");
    const says = h("span", { class: "offer-says" });
    const figures = h("span", { class: "offer-figures" });
    let of: OfferView | null = null;
    let drawn = 0;
    let at = 0;
    radio.addEventListener("change", () => this.a.choose(at));
    return {
      el: h(
        "label",
        { class: "offer-card" },
        radio,
        h("span", { class: "offer-words" }, name, figures),
        picture,
        says,
      ),
      update: (o) => {
        const offers = this.a.view?.offers ?? [];
        at = offers.indexOf(o);
        radio.checked = at === this.a.chosen;
        setText(name, o.name);
        setText(says, o.says);
        setText(
          figures,
          this.a.mixed && radio.checked ? "with your own choice by area" : cardFigures(this.a, o),
        );
        const now = performance.now();
        if (of === o || (this.a.phase === "seeking" && of !== null && now - drawn < PICTURE_MS)) return;
        of = o;
        drawn = now;
        picture.replaceChildren(picksPicture(picksOf(this.a, o)));
      },
    };
  }

  /** Where several areas were asked for, each may have another layout than the offer's. */
  #showEach(may: boolean): void {
    const { a } = this;
    const several = byName(a.view?.answers ?? []).filter((x) => x.layouts.length > 1);
    this.#each.hidden = !may || (a.view?.answers.length ?? 0) < 2 || several.length === 0;
    if (this.#each.hidden) return;
    const key = `${a.chosen} ${a.view?.evaluations} ${a.view?.offers.length}`;
    if (key !== this.#madeOf) {
      this.#madeOf = key;
      this.#eachList.replaceChildren(
        ...several.map((answer) => {
          const select = h("select", { "data-area": answer.area });
          const choices = answer.layouts.map((l, i) => ({
            value: String(i),
            label: `${l.kind}: ${layoutFigures(a, l.figures)}`,
          }));
          fill(select, choices);
          select.addEventListener("change", () => a.pick(answer.area, Number(select.value)));
          return h("label", { class: "offer-pair" }, h("span", {}, answer.name), select);
        }),
      );
    }
    for (const { answer, layout } of a.picks) {
      const select = this.#eachList.querySelector<HTMLSelectElement>(
        `[data-area="${CSS.escape(answer.area)}"]`,
      );
      if (select) select.value = String(layout);
    }
  }

  #showFacts(): void {
    const { a } = this;
    const v = a.view;
    const [only, more] = a.picks;
    // Of a mixed choice there are figures by area only.
    const rows = a.mixed
      ? a.picks.map(({ answer, layout }): [string, string] => [
          answer.name,
          layoutFigures(a, answer.layouts[layout]?.figures ?? []),
        ])
      : (v?.columns ?? []).map((c, i): [string, string] => [c.label, a.offer?.figures[i]?.text ?? ""]);
    const text = rows.flat().join("\n");
    if (this.#facts.dataset.of !== text) {
      this.#facts.dataset.of = text;
      this.#facts.replaceChildren(...rows.flatMap(([t, d]) => [h("dt", {}, t), h("dd", {}, d)]));
    }
    const past = a.picks.flatMap(({ answer, layout }) =>
      (answer.layouts[layout]?.past ?? []).map(
        (p) => `${more || !only ? `${answer.name}, on ` : ""}${p.label}: ${p.text}`,
      ),
    );
    list(this.#past, past);
  }

  #showDriest(): void {
    const at = this.d.board.design?.readings.driest.at;
    if (!at) return;
    this.d.board.lookAt({ at });
    this.d.board.announce(`Driest: ${this.d.board.design?.readings.driest.text ?? ""}`);
  }

  #another(): void {
    const { a } = this;
    const most = a.options?.seed_most ?? 999;
    this.hold();
    a.set({ seed: ((a.wish.seed ?? a.options?.seed ?? 1) % most) + 1 });
    void a.seek();
    this.focusChosen();
  }
}

const picksOf = (a: Arranging, o: OfferView) =>
  (a.view?.answers ?? []).flatMap((answer) => {
    const layout = o.picks.find((p) => p.area === answer.area)?.layout;
    return layout !== undefined && answer.layouts[layout] ? [{ answer, layout }] : [];
  });

/** The figures that stand on a card, by the id of their column. */
const onCard = ["heads", "evenness", "past"];

function cardFigures(a: Arranging, o: OfferView): string {
  const text = (id: string): string => {
    const i = a.view?.columns.findIndex((c) => c.id === id) ?? -1;
    const t = o.figures[i]?.text ?? "";
    if (!t) return "";
    if (id === "evenness") return `${t} even as drawn`;
    return id === "past" ? `${t} past the edge` : /\D/.test(t) ? t : count(Number(t), "head");
  };
  return onCard.map(text).filter(Boolean).join(" · ").replaceAll(" %", "\u00a0%");
}

/** The figures of one layout in a line. */
function layoutFigures(a: Arranging, figures: readonly { text: string }[]): string {
  const of = (id: string): string => figures[a.view?.columns.findIndex((c) => c.id === id) ?? -1]?.text ?? "";
  const heads = of("heads");
  return [/\D/.test(heads) ? heads : count(Number(heads), "head"), `${of("evenness")} even`].join(", ");
}

function list(el: HTMLElement, lines: readonly string[]): void {
  el.hidden = lines.length === 0;
  if (el.dataset.of === lines.join("\n")) return;
  el.dataset.of = lines.join("\n");
  el.replaceChildren(...lines.map((l) => h("li", {}, l)));
}

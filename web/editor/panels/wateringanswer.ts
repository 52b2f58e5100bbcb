// The watering program as it was worked out: whether it fits, what would make it fit,
// what is keyed in month by month, and what each area gets.

import { button, focusLost, h, type Row, Rows, setAttr, setText } from "../dom";
import { find, type Plan, type Ref } from "../model";
import type { Board } from "../state";
import type {
  WaterArea,
  WaterEase,
  WaterMonth,
  WaterPlan,
  WaterProgram,
  WaterStation,
  WaterView,
} from "../watering";
import { WateringArea } from "./wateringarea";
import { zoneSign } from "./zonemark";

/** So many reasons are told at once, so that what would help stays in sight. */
const FEW = 3;

const columns = ["Station", "Zone", "Minutes"];

export class WaterAnswer {
  readonly el = h("div", { class: "form water-answer" });
  readonly verdict = h("p", { class: "water-verdict", tabindex: "-1" });
  readonly #why = h("ul", { class: "offer-why" });
  readonly #whyMore = h("details", {}, h("summary", {}), h("ul", { class: "offer-why" }));
  readonly #eases = h("ul", { class: "water-eases" });
  readonly notFit = h("div", { class: "water-notfit", hidden: true });
  readonly #month = h("select", { id: "water-month" });
  readonly #monthSays = h("p", { class: "water-month-says" });
  readonly #programs = h("div", { class: "form" });
  readonly #alone = h(
    "p",
    { class: "hint" },
    "Alone: by the sum of that zone by itself, as if no other wetted its ground.",
  );
  readonly #saved = h("p", {});
  readonly #adjust = h("p", { class: "hint" });
  readonly #areaList = h("ul", { class: "water-areas" });
  readonly #areas: Rows<WaterArea>;
  readonly #areasPart: HTMLElement;
  readonly #assumed = h("details", {}, h("summary", {}, "What was assumed"));
  readonly #assumedList = h("ul", { class: "offer-why" });
  readonly #caution = h("p", { class: "hint" });
  readonly #program: HTMLElement;
  #of: WaterView | null = null;
  #shownMonth = -1;

  constructor(
    readonly board: Board,
    readonly w: WaterPlan,
    readonly turnOff: (a: WaterArea) => void,
  ) {
    this.#areas = new Rows(
      this.#areaList,
      (a) => a.id,
      () => this.#area(),
    );
    this.#month.addEventListener("change", () => this.w.choose(Number(this.#month.value)));
    this.#assumed.append(this.#assumedList);
    this.notFit.append(
      h("h3", {}, "Why"),
      this.#why,
      this.#whyMore,
      h("h3", {}, "What would help"),
      this.#eases,
    );
    this.#program = h(
      "section",
      { class: "form", "aria-label": "What is keyed in" },
      h("p", { class: "labelled" }, h("label", { for: "water-month" }, "Program of"), this.#month),
      this.#monthSays,
      this.#programs,
      this.#alone,
      this.#saved,
      this.#adjust,
    );
    this.#areasPart = h("section", { class: "form" }, h("h3", {}, "Areas, at peak"), this.#areaList);
    this.el.append(this.#program, this.#areasPart, this.#assumed, this.#caution, this.#links());
  }

  /** The card of an area, for what belongs into it. */
  cardOf(area: string): HTMLElement | null {
    return (this.#areas.get(area)?.el as HTMLElement | undefined) ?? null;
  }

  #links(): HTMLElement {
    const at = `/plans/${encodeURIComponent(this.board.id)}`;
    const link = (href: string, words: string): HTMLElement =>
      h("li", {}, h("a", { href: at + href }, words));
    return h(
      "ul",
      { class: "water-links" },
      link("/program", "The program, each number with where it comes from"),
      link("/papers?pack=owner", "Print the card for the controller’s door"),
      link("/files/program.csv", "Save it as a table, CSV"),
      link("/files/program.ics", "Save it for a calendar, iCalendar"),
    );
  }

  show(): void {
    const { view } = this.w;
    this.el.hidden = view === null;
    this.verdict.hidden = view === null;
    if (!view) this.notFit.hidden = true;
    if (!view) return;
    setAttr(this.el, "aria-busy", this.w.stale ? "true" : null);
    if (view !== this.#of) this.#take(view);
    this.#showMonth(view);
    this.#areas.show(view.areas ?? []);
  }

  #take(v: WaterView): void {
    this.#of = v;
    this.#shownMonth = -1;
    setText(this.verdict, v.says);
    setAttr(this.verdict, "data-good", v.offered ? (v.fits ? "yes" : "no") : null);
    const had = document.activeElement;
    const [why, eases] = [v.why ?? [], v.eases ?? []];
    this.notFit.hidden = !v.offered || (why.length === 0 && eases.length === 0);
    const item = (t: string): HTMLElement => h("li", {}, t);
    this.#why.replaceChildren(...why.slice(0, FEW).map(item));
    (this.#why.previousElementSibling as HTMLElement).hidden = why.length === 0;
    this.#whyMore.hidden = why.length <= FEW;
    setText(this.#whyMore.firstElementChild as Element, `${why.length - FEW} more`);
    this.#whyMore.lastElementChild?.replaceChildren(...why.slice(FEW).map(item));
    this.#eases.replaceChildren(...eases.map((e) => this.#ease(e)));
    (this.#eases.previousElementSibling as HTMLElement).hidden = eases.length === 0;
    this.#program.hidden = !v.offered;
    this.#areasPart.hidden = (v.areas ?? []).length === 0;
    this.#month.replaceChildren(
      ...(v.months ?? []).map((m, i) =>
        h("option", { value: i }, `${m.name}${!m.needed ? ": none" : m.fits ? "" : ": does not fit"}`),
      ),
    );
    setText(this.#saved, v.saved);
    setText(this.#adjust, v.adjust);
    this.#assumed.hidden = (v.assumed ?? []).length === 0;
    this.#assumedList.replaceChildren(...(v.assumed ?? []).map((t) => h("li", {}, t)));
    setText(this.#caution, v.caution);
    if (had !== document.activeElement && focusLost()) this.verdict.focus({ preventScroll: true });
  }

  #ease(e: WaterEase): HTMLElement {
    const take = button("Apply", "small", () => void this.w.ease(e));
    take.setAttribute("aria-label", `Apply: ${e.label}`);
    return h("li", { "data-good": e.fits ? "yes" : null }, h("p", {}, e.says), e.patch ? take : null);
  }

  #showMonth(v: WaterView): void {
    const n = this.w.month;
    if (n === this.#shownMonth) return;
    this.#shownMonth = n;
    this.#month.value = String(n);
    const m: WaterMonth | undefined = v.months?.[n];
    const says = m?.says ?? "";
    setText(this.#monthSays, says);
    this.#monthSays.hidden = says === v.says; // it stands at the head
    const stations = (m?.programs ?? []).flatMap((p) => p.stations ?? []);
    this.#alone.hidden = stations.every((s) => s.plain === "");
    this.#programs.replaceChildren(
      ...(m?.programs ?? []).map((p) => programTable(p, m?.name ?? "", this.board.plan)),
    );
  }

  #area(): Row<WaterArea> {
    const card = new WateringArea(this.board, {
      show: (a) => this.#showArea(a),
      turn: this.turnOff,
    });
    return {
      el: card.el,
      update: (a) =>
        card.update(
          a,
          this.w.options?.needs?.find((n) => n.id === a.id),
        ),
    };
  }

  #showArea(a: WaterArea): void {
    if (!find(this.board.plan, "areas", a.id)) return;
    const about: Ref[] = [`areas/${a.id}`];
    this.board.select(about);
    this.board.lookAt({ about, gentle: true });
    this.board.announce(`${a.name} shown.`);
  }
}

/** One program as a table: what is keyed in, station by station. */
function programTable(p: WaterProgram, month: string, plan: Plan): HTMLElement {
  const facts = [
    ["Days", p.days],
    ["Starts", p.starts],
    ["Ends", p.ends],
  ].filter(([, v]) => v);
  const hint = (words: string): HTMLElement => h("span", { class: "hint" }, words);
  const row = (s: WaterStation): HTMLElement =>
    h(
      "tr",
      {},
      h("th", { scope: "row" }, zoneSign(plan, s.zone), s.station),
      h(
        "td",
        {},
        s.name,
        s.cycles ? hint(s.cycles) : null,
        s.plain ? hint(`alone: ${s.plain} min a day`) : null,
      ),
      h("td", { class: "figure" }, s.minutes),
    );
  return h(
    "section",
    { class: "water-program" },
    h("h3", {}, `Program ${p.letter}`),
    h("dl", { class: "facts" }, ...facts.flatMap(([t, v]) => [h("dt", {}, t ?? ""), h("dd", {}, v ?? "")])),
    h(
      "table",
      {},
      h("caption", { class: "unseen" }, `Program ${p.letter}, ${month}: minutes by station`),
      h("thead", {}, h("tr", {}, ...columns.map((t) => h("th", { scope: "col" }, t)))),
      h("tbody", {}, ...(p.stations ?? []).map(row)),
    ),
  );
}

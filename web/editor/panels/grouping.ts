// The zones offered: a row for each station with its mark, its flow against the
// most it may take, its minutes and where its valve stands; shown on the board by
// the marks of the heads.

import { ask as get, planURL } from "../api";
import { type ArrangeOptions, areasChosen } from "../arranging";
import { stale } from "../asking";
import { button, focusLost, h, setAttr, setText } from "../dom";
import type { Drawing } from "../drawing";
import {
  Grouping,
  type GroupView,
  type GroupZone,
  readDays,
  readHours,
  readLimit,
  readNeed,
} from "../grouping";
import type { Read } from "../length";
import { find, type Ref } from "../model";
import { count } from "../names";
import { Bench, Seeking } from "./bench";
import { Control } from "./control";
import { zoneSign } from "./zonemark";

let form: GroupForm | null = null;

/** Opens the form. */
export function showGrouping(): void {
  form?.open();
}

export class GroupForm {
  readonly #bench: Bench;
  readonly #g: Grouping;
  readonly #asking: HTMLElement;
  readonly #usual = h("p", { class: "hint" });
  readonly #which = h("p", {});
  readonly #controls: { control: Control; empty: (o: ArrangeOptions["group"]) => string }[] = [];
  readonly #seeking = new Seeking("Grouping heads");
  readonly #offer = h("div", { class: "form" });
  readonly #says = h("p", {});
  readonly #bound = h("p", { class: "group-bound" });
  readonly #window = h("p", { class: "group-window" });
  readonly #table = h("table", { class: "group-table" });
  #tableOf: GroupView | null = null;
  readonly #notes = h("div", { class: "offer-notes" });
  readonly #go = button("Group", "main", () => void this.#seek());
  readonly #stop = button("Stop", "main", () => this.#g.search.stop());
  readonly #apply = button("", "main", () => void this.#take());
  readonly #again = button("", "", () => {
    this.#bench.release();
    this.#g.again();
    this.#go.focus();
  });
  readonly #leave = button("Cancel", "", () => this.#bench.leave());

  constructor(readonly d: Drawing) {
    form = this;
    this.#g = new Grouping(d.board, () => this.#render());
    this.#bench = new Bench(d, "group", "Group heads into zones", this.#g);
    this.#asking = this.#ask();
    this.#offer.append(this.#says, this.#table, this.#bound, this.#window, this.#notes);
    this.#bench.body.append(this.#asking, this.#seeking.el, this.#offer);
    this.#bench.acts.append(this.#go, this.#stop, this.#apply, this.#again, this.#leave);
    this.#render();
  }

  #ask(): HTMLElement {
    const show = () => this.d.board.plan.show;
    const field = <T>(
      label: string,
      hint: string,
      reader: (typed: string) => Read<T>,
      take: (v: T) => void,
      empty: (o: ArrangeOptions["group"]) => string,
    ): HTMLElement => {
      const control = new Control(label, "text", hint, (typed) => {
        const v = reader(typed);
        if (!v.ok) return v.sentence;
        take(v.value);
        return null;
      });
      this.#controls.push({ control, empty });
      return control.el;
    };
    const fields = h(
      "div",
      { class: "pairs" },
      field(
        "Most a zone may take",
        "",
        (t) => readLimit(t, show()),
        (limitGPM) => this.#g.set({ limitGPM }),
        (o) => o.limit,
      ),
      field(
        "Days a week",
        "",
        readDays,
        (days) => this.#g.set({ days }),
        (o) => String(o.days),
      ),
      field(
        "Hours a day",
        "",
        readHours,
        (hours) => this.#g.set({ hours }),
        (o) => String(o.hours),
      ),
      field(
        "Need of a week at peak",
        "",
        (t) => readNeed(t, show()),
        (needIn) => this.#g.set({ needIn }),
        (o) => o.need,
      ),
    );
    return h(
      "div",
      { class: "form" },
      this.#which,
      h(
        "p",
        { class: "hint" },
        "One planting, sun, soil, slope and kind of head a zone; as few valves as the water allows. What is locked stays.",
      ),
      h("details", {}, h("summary", {}, "Limits and time"), h("div", { class: "form" }, this.#usual, fields)),
    );
  }

  open(): void {
    if (this.#g.phase === "offered") this.#g.again();
    this.#bench.open();
    const { plan, selection } = this.d.board;
    this.#g.set({ areas: areasChosen(plan, selection) });
    this.#go.focus();
    void this.#options();
  }

  async #options(): Promise<void> {
    const answer = await get<ArrangeOptions>("GET", `${planURL(this.d.board.id)}/arrange/options`);
    if (!answer.ok) return;
    const o = answer.value.group;
    for (const { control, empty } of this.#controls)
      (control.input as HTMLInputElement).placeholder = empty(o);
    setText(
      this.#usual,
      `Left empty: ${o.limit}; ${count(o.days, "day")} a week of ${o.hours} hours, ${o.need} a week.`,
    );
  }

  async #seek(): Promise<void> {
    const wrong = this.#controls.find((c) => c.control.input.matches("[aria-invalid]"));
    if (wrong) {
      wrong.control.input.focus();
      return;
    }
    this.#bench.holdBoard();
    const done = this.#g.seek();
    this.#stop.focus();
    await done;
    if (!this.#bench.isOpen) return;
    if (this.#g.phase !== "offered" || !this.#g.view?.patch) this.#bench.release();
    if (!focusLost()) return;
    const to = [this.#apply, this.#again, this.#go].find((b) => !b.hidden);
    to?.focus();
  }

  async #take(): Promise<void> {
    this.#bench.release();
    if (await this.#g.take()) this.#bench.leave();
    else this.#render();
  }

  #render(): void {
    const g = this.#g;
    const v = g.view;
    const offered = g.phase === "offered" && v !== null;
    if (g.stale) this.#bench.release();
    this.#asking.hidden = g.phase !== "asking";
    setText(
      this.#which,
      g.wish.areas.length > 0
        ? `The heads of ${g.wish.areas.map((id) => find(this.d.board.plan, "areas", id)?.name ?? id).join(", ")}.`
        : "All heads of the plan; select areas first for only theirs.",
    );
    this.#seeking.show(g.search.told, g.phase === "seeking");
    this.#offer.hidden = !offered;
    if (offered) {
      setText(this.#says, v.says);
      setText(this.#bound, v.bound);
      setText(this.#window, v.window);
      setAttr(this.#window, "data-good", v.fits ? "yes" : "no");
      this.#showTable(v);
      this.#notes.replaceChildren(
        ...[...v.notes, v.evaluations, v.caution].filter(Boolean).map((n) => h("p", { class: "hint" }, n)),
      );
    }
    this.#go.hidden = g.phase !== "asking";
    this.#stop.hidden = g.phase !== "seeking";
    this.#apply.hidden = !offered || !v.patch || g.stale;
    setText(this.#apply, `Apply ${count(v?.zones.length ?? 0, "zone")}`);
    this.#again.hidden = !offered;
    setText(this.#again, g.stale ? "Ask again…" : "Change the limits…");
    setAttr(this.#again, "class", g.stale ? "main" : null);
    this.#bench.tell(
      g.stale
        ? stale
        : offered
          ? v.patch
            ? "The board shows the zones by their marks. Apply makes them."
            : "The heads are grouped so already."
          : g.trouble,
    );
  }

  #showTable(v: GroupView): void {
    if (this.#tableOf === v) return;
    this.#tableOf = v;
    const head = ["Station", "Heads", "Flow", "A week"].map((t) => h("th", { scope: "col" }, t));
    this.#table.replaceChildren(
      h("caption", { class: "unseen" }, "Zones as offered"),
      h("thead", {}, h("tr", {}, ...head)),
      ...v.zones.map((z) => this.#zone(z)),
    );
  }

  /** A zone is a body of the table: its figures, and under them what its heads share and where its valve stands. */
  #zone(z: GroupZone): HTMLElement {
    const mark = zoneSign(this.d.board.plan, z.zone);
    const bar = h("meter", {
      min: 0,
      max: 1,
      high: 0.999,
      optimum: 0.5,
      value: Math.min(1, z.share),
      "aria-label": `Flow of station ${z.station} against the most it may take`,
    });
    const show = h(
      "button",
      {
        type: "button",
        class: "link",
        "aria-label": `Show zone ${z.name}`,
        onclick: () => this.#showZone(z),
      },
      "Show",
    );
    const words = [z.areas === z.name ? "" : z.areas, z.kind].filter(Boolean).join(" · ");
    return h(
      "tbody",
      { "data-locked": z.locked },
      h(
        "tr",
        {},
        h("th", { scope: "row" }, mark, String(z.station || "–")),
        h("td", { class: "figure" }, String(z.heads.length)),
        h("td", { class: "group-flow" }, h("span", { class: "group-flow-text" }, z.flow), bar),
        h("td", { class: "figure" }, z.minutes),
      ),
      h(
        "tr",
        { class: "group-more" },
        h(
          "td",
          { colspan: 4 },
          h("p", {}, h("strong", {}, z.locked ? `${z.name} (locked, stays)` : z.name), ` ${words}`),
          h("p", { class: "hint" }, z.where, " ", show),
        ),
      ),
    );
  }

  #showZone(z: GroupZone): void {
    const refs = z.heads.map((id): Ref => `heads/${id}`);
    this.d.board.select(refs);
    this.d.board.lookAt({ about: refs, at: [z.x_ft, z.y_ft], gentle: true });
    this.d.board.announce(`${z.name}: ${z.count} shown.`);
  }
}

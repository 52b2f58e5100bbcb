// The form and the offers of routes for pipes and wire: which zones, where valves may
// go, what digging costs; what was found side by side in a table, shown on the board
// itself with its trenches; and where no way leads, what is in the way.

import { ask as get, planURL } from "../api";
import { stale } from "../asking";
import { button, focusLost, h, setAttr, setText } from "../dom";
import type { Drawing } from "../drawing";
import type { Ref } from "../model";
import { type RouteOptions, type RouteView, type RouteWish, Routing } from "../routing";
import { Bench, Seeking } from "./bench";
import { showFigures } from "./figures";
import { offerSizes } from "./sizing";

let form: RouteForm | null = null;

/** Opens the form. */
export function showRouting(): void {
  form?.open();
}

const placings: readonly (readonly [RouteWish["valves"], string])[] = [
  ["as_placed", "Where they stand now"],
  ["weighed", "Grouped, spread or as they stand, whichever costs less"],
];

export class RouteForm {
  readonly #bench: Bench;
  readonly #r: Routing;
  readonly #zones = h("div", { class: "route-zones" });
  readonly #wire = h("input", { type: "checkbox", id: "route-wire" });
  readonly #keep = h("input", { type: "checkbox", id: "route-keep", "aria-describedby": "route-keep-what" });
  readonly #wireWhy = h("p", { class: "hint", id: "route-wire-why", hidden: true });
  readonly #rates = h("dl", { class: "facts" });
  readonly #asking: HTMLElement;
  readonly #seeking = new Seeking("Routing pipes");
  readonly #offer = h("div", { class: "form" });
  readonly #says = h("p", {});
  readonly #blocked = h("div", { class: "route-blocked" });
  readonly #table = h("table", { class: "group-table route-table" });
  readonly #one = h("p", { class: "route-says" });
  readonly #notes = h("div", { class: "offer-notes" });
  #tableOf: RouteView | null = null;
  readonly #taken = h(
    "p",
    {},
    "The routes are laid. Their pipes have no sizes yet where they are new: size them next.",
  );
  readonly #go = button("Route", "main", () => void this.#seek());
  readonly #stop = button("Stop", "main", () => this.#r.search.stop());
  readonly #apply = button("Lay these routes", "main", () => void this.#take());
  readonly #size = button("Size the pipes…", "main", () => {
    this.#bench.leave();
    void offerSizes(this.d.board);
  });
  readonly #again = button("", "", () => {
    this.#bench.release();
    this.#r.again();
    this.#go.focus();
  });
  readonly #leave = button("Cancel", "", () => this.#bench.leave());
  #hadTrenches = true;

  constructor(readonly d: Drawing) {
    form = this;
    this.#r = new Routing(d.board, () => this.#render());
    const asker = this.#r;
    const left = (): void => this.#left();
    this.#bench = new Bench(d, "route", "Route pipes and wire", {
      search: asker.search,
      get stale() {
        return asker.stale;
      },
      look: () => asker.look(),
      leave: left,
    });
    this.#asking = this.#ask();
    this.#offer.append(this.#says, this.#blocked, this.#table, this.#one, this.#notes);
    this.#bench.body.append(this.#asking, this.#seeking.el, this.#offer, this.#taken);
    this.#bench.acts.append(this.#go, this.#stop, this.#apply, this.#size, this.#again, this.#leave);
    this.#render();
  }

  #ask(): HTMLElement {
    const placing = placings.map(([value, words]) =>
      h(
        "label",
        {},
        h("input", {
          type: "radio",
          name: "route-valves",
          value,
          checked: value === this.#r.wish.valves,
          onchange: () => this.#r.set({ valves: value }),
        }),
        ` ${words}`,
      ),
    );
    this.#wire.checked = this.#r.wish.wire;
    this.#wire.setAttribute("aria-describedby", "route-wire-why");
    this.#keep.checked = this.#r.wish.keep;
    this.#keep.addEventListener("change", () => this.#r.set({ keep: this.#keep.checked }));
    this.#wire.addEventListener("change", () => this.#r.set({ wire: this.#wire.checked }));
    return h(
      "div",
      { class: "form" },
      h(
        "p",
        { class: "hint" },
        "Seeks where main, laterals and wire go for the least digging, in shared trenches, under paving only in sleeves. What is locked or there already stays.",
      ),
      h("fieldset", { class: "route-set" }, h("legend", {}, "Zones"), this.#zones),
      h("fieldset", { class: "route-set" }, h("legend", {}, "Valves"), ...placing),
      h(
        "div",
        { class: "route-set" },
        h("label", { for: "route-wire" }, this.#wire, " Lay control wire, too"),
        this.#wireWhy,
      ),
      h(
        "div",
        { class: "route-set" },
        h("label", { for: "route-keep" }, this.#keep, " Keep what is drawn"),
        h(
          "p",
          { class: "hint", id: "route-keep-what" },
          "Pipes, sleeves and wire stay as you drew or dragged them; only what is not joined yet is joined to them.",
        ),
      ),
      h(
        "details",
        {},
        h("summary", {}, "What digging costs"),
        h(
          "div",
          { class: "form" },
          this.#rates,
          h(
            "p",
            { class: "acts" },
            button("Put your own rates in…", "small", () => {
              void showFigures(this.d.board, ["digging"], () => void this.#options());
            }),
          ),
        ),
      ),
    );
  }

  open(): void {
    if (this.#r.phase !== "asking") this.#r.again();
    this.#render();
    this.#bench.open();
    this.#hadTrenches = this.d.board.layers.shows("trenches");
    this.#go.focus();
    void this.#options();
  }

  async #options(): Promise<void> {
    const answer = await get<RouteOptions>("GET", `${planURL(this.d.board.id)}/route/options`);
    if (!answer.ok) return;
    const { zones, figures, wire } = answer.value;
    this.#zones.replaceChildren(...(zones.length > 0 ? zones.map((z) => this.#zone(z)) : [noZones()]));
    this.#wire.disabled = wire !== "";
    setText(this.#wireWhy, wire);
    this.#wireWhy.hidden = wire === "";
    this.#rates.replaceChildren(
      ...figures.flatMap((f) => [h("dt", {}, f.words), h("dd", {}, f.edited ? `${f.value} (own)` : f.value)]),
    );
  }

  #zone(z: RouteOptions["zones"][number]): HTMLElement {
    const { wish } = this.#r;
    const box = h("input", {
      type: "checkbox",
      value: z.id,
      checked: z.can && (wish.zones.length === 0 || wish.zones.includes(z.id)),
      disabled: !z.can,
      onchange: () => this.#r.set({ zones: this.#ticked() }),
    });
    return h("label", {}, box, ` ${z.name}`, h("span", { class: "hint" }, ` ${z.says}`));
  }

  /** The zones that are ticked; none when all are. */
  #ticked(): string[] {
    const all = [...this.#zones.querySelectorAll<HTMLInputElement>("input:not(:disabled)")];
    const on = all.filter((i) => i.checked).map((i) => i.value);
    return on.length === all.length ? [] : on;
  }

  #noneTicked(): boolean {
    const all = [...this.#zones.querySelectorAll<HTMLInputElement>("input")];
    return all.length > 0 && all.every((i) => !i.checked);
  }

  async #seek(): Promise<void> {
    if (this.#noneTicked()) {
      this.#bench.tell("Tick the zones to be routed.");
      this.#zones.querySelector<HTMLInputElement>("input:not(:disabled)")?.focus();
      return;
    }
    this.#bench.holdBoard();
    this.d.board.layers.show("trenches", true); // what is offered is a dig
    const done = this.#r.seek();
    this.#stop.focus();
    await done;
    if (!this.#bench.isOpen) return;
    if (this.#r.phase !== "offered" || !this.#r.offer?.patch) this.#bench.release();
    if (!focusLost()) return;
    const to = [this.#apply, this.#again, this.#go].find((b) => !b.hidden);
    to?.focus();
  }

  async #take(): Promise<void> {
    this.#bench.release();
    if (await this.#r.take()) this.#size.focus();
    else this.#render();
  }

  /** What was shown of the trenches only for the offers is put away with them. */
  #left(): void {
    const taken = this.#r.phase === "taken";
    this.#r.leave();
    if (!this.#hadTrenches && !taken) this.d.board.layers.show("trenches", false);
  }

  #render(): void {
    const r = this.#r;
    const v = r.view;
    const offered = r.phase === "offered" && v !== null;
    if (r.stale) this.#bench.release();
    this.#asking.hidden = r.phase !== "asking";
    this.#seeking.show(r.search.told, r.phase === "seeking");
    this.#offer.hidden = !offered;
    if (offered) this.#show(v);
    // One offer has nothing in it to be reached by Tab: the keyboard scrolls it as a region.
    const { body } = this.#bench;
    setAttr(body, "tabindex", offered ? "0" : null);
    setAttr(body, "role", offered ? "region" : null);
    setAttr(body, "aria-label", offered ? "Routes offered" : null);
    this.#taken.hidden = r.phase !== "taken";
    this.#go.hidden = r.phase !== "asking";
    this.#stop.hidden = r.phase !== "seeking";
    this.#apply.hidden = !offered || !r.offer?.patch || r.stale;
    this.#size.hidden = r.phase !== "taken";
    this.#again.hidden = !offered;
    setText(this.#again, r.stale ? "Ask again…" : "Ask otherwise…");
    setAttr(this.#again, "class", r.stale ? "main" : null);
    setText(this.#leave, r.phase === "taken" ? "Close" : "Cancel");
    this.#bench.tell(this.#told(offered));
  }

  #told(offered: boolean): string {
    const r = this.#r;
    if (r.stale) return stale;
    if (!offered) return r.phase === "asking" ? r.trouble : "";
    if (!r.offer) return "Nothing can be offered until the way is free.";
    return r.offer.patch
      ? "The board shows these routes with their trenches. Lay them makes one step."
      : "The plan has these routes already.";
  }

  #show(v: RouteView): void {
    setText(this.#says, v.says);
    setText(this.#one, this.#r.offer?.says ?? "");
    this.#one.hidden = v.offers.length < 2;
    if (this.#tableOf !== v) {
      this.#tableOf = v;
      this.#showBlocked(v);
      this.#showTable(v);
    }
    for (const input of this.#table.querySelectorAll<HTMLInputElement>("input"))
      input.checked = Number(input.value) === this.#r.chosen;
    const notes = [...v.notes, ...(this.#r.offer?.notes ?? []), v.evaluations, v.caution];
    this.#notes.replaceChildren(...notes.filter(Boolean).map((n) => h("p", { class: "hint" }, n)));
  }

  #showBlocked(v: RouteView): void {
    this.#blocked.hidden = v.blocked.length === 0;
    const row = (b: RouteView["blocked"][number]): HTMLElement => {
      const show = button("Show", "link", () => {
        const about: Ref[] = [b.what];
        this.d.board.lookAt({ about, at: b.at, gentle: true });
        this.d.board.announce(`${b.name}: ${b.why}`);
      });
      show.setAttribute("aria-label", `Show ${b.name}`);
      return h("li", {}, h("strong", {}, b.name), `: ${b.why} `, show);
    };
    this.#blocked.replaceChildren(h("h3", {}, "No way leads to"), h("ul", {}, ...v.blocked.map(row)));
  }

  /** Offers side by side: a column each, its figures in rows. */
  #showTable(v: RouteView): void {
    this.#table.hidden = v.offers.length === 0;
    const several = v.offers.length > 1;
    const head = v.offers.map((o, i) =>
      h(
        "th",
        { scope: "col" },
        several
          ? h(
              "label",
              {},
              h("input", {
                type: "radio",
                name: "route-offer",
                value: String(i),
                checked: i === 0,
                onchange: () => this.#r.choose(i),
              }),
              ` ${o.name}`,
            )
          : o.name,
      ),
    );
    const cell = (o: RouteView["offers"][number], i: number): HTMLElement =>
      h(
        "td",
        { class: "figure" },
        o.least[i]
          ? h("strong", {}, o.figures[i], h("span", { class: "unseen" }, ", the least"))
          : (o.figures[i] ?? ""),
      );
    this.#table.replaceChildren(
      h("caption", { class: "unseen" }, "Routes as offered"),
      h(
        "thead",
        {},
        h("tr", {}, h("th", { scope: "col" }, h("span", { class: "unseen" }, "Measure")), ...head),
      ),
      h(
        "tbody",
        {},
        ...v.rows.map((t, i) =>
          h("tr", {}, h("th", { scope: "row" }, t), ...v.offers.map((o) => cell(o, i))),
        ),
      ),
    );
  }
}

const noZones = (): HTMLElement =>
  h("p", { class: "hint" }, "No zone yet. Group the heads into zones first.");

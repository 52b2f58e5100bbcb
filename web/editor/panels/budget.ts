// The pressure budget of each zone's worst head: from the street to the nozzle
// as a table that adds up, with a picture along the way. Every row opens to how
// it came about, to its rule and to the rule's source.

import type { BudgetStep, ZonePressure } from "../design";
import { atMostEvery, byID, h, type Row, Rows, setAttr, setText } from "../dom";
import type { Ref } from "../model";
import { count, nameOf as thingName } from "../names";
import { zoneChosen } from "../pipelook";
import type { Board } from "../state";
import { BudgetPicture } from "./budgetpicture";

/** Opens the table of pressures and goes there. */
export function showBudget(): void {
  const tab = byID("tab-pressure");
  if (tab.getAttribute("aria-selected") !== "true") tab.click();
  tab.focus();
}

const lawful =
  "What may stand before and after a backflow device, and what may be built at the meter, local code and a licensed tester decide.";

export class Budget {
  readonly #zone = h("select", { id: "budget-zone" });
  readonly #says = h("p", { class: "budget-says", role: "status" });
  readonly #figures = h("dl", { class: "facts" });
  readonly #go = h("button", { type: "button", class: "small" }, "Go to the worst head");
  readonly #trouble = h("button", { type: "button", class: "small" });
  readonly #rows: Rows<BudgetStep>;
  readonly #table: HTMLElement;
  readonly #picture = new BudgetPicture();
  readonly #body: HTMLElement;
  readonly #empty = h("p", { class: "hint" }, "No zone yet. Put heads into zones and draw pipe to them.");
  #chosen = "";
  #options = "";

  constructor(readonly board: Board) {
    const body = h("tbody");
    this.#rows = new Rows<BudgetStep>(
      body,
      (s, i) => `${i} ${s.code}`,
      () => this.#row(),
    );
    const head = ["Step", "Loses", "Left", "At"].map((t, i) =>
      h(
        "th",
        {
          scope: "col",
          class: i > 0 ? "figure" : null,
          title: t === "At" ? "Along the pipe from the street" : null,
        },
        t,
      ),
    );
    this.#table = h(
      "table",
      { class: "budget" },
      h("caption", { class: "unseen" }, "Pressure from the street to the worst head of the zone"),
      h("thead", {}, h("tr", {}, ...head)),
      body,
    );
    this.#zone.addEventListener("change", () => {
      this.#chosen = this.#zone.value;
      this.#render();
    });
    this.#go.addEventListener("click", () => this.#goTo(this.#now?.worst ? [this.#now.worst] : []));
    this.#trouble.addEventListener("click", () => this.#goTo(this.#now?.trouble ?? []));
    const bar = h(
      "p",
      { class: "acts" },
      h("span", { class: "labelled" }, h("label", { for: "budget-zone" }, "Zone"), this.#zone),
      this.#go,
      this.#trouble,
      h("button", { type: "button", class: "small", "data-runs": "pipe.size" }, "Size the pipes…"),
    );
    this.#body = h(
      "div",
      { class: "budget-body" },
      bar,
      this.#says,
      h("div", { class: "budget-both" }, this.#table, h("div", {}, this.#picture.el, this.#figures)),
      h("p", { class: "hint" }, lawful),
    );
    byID("pressure").append(h("h2", { class: "unseen" }, "Pressure"), this.#empty, this.#body);
    const soon = atMostEvery(150, () => this.#render());
    for (const topic of ["design", "away"] as const) board.subscribe(topic, soon);
    board.subscribe("selection", () => {
      const zone = zoneChosen(board.plan, board.selection);
      if (zone && zone !== this.#chosen && !this.#body.contains(document.activeElement)) {
        this.#chosen = zone;
        soon();
      }
    });
    this.#render();
  }

  get #all(): readonly ZonePressure[] {
    return this.board.away ? [] : (this.board.design?.pressures ?? []);
  }

  get #now(): ZonePressure | undefined {
    const all = this.#all;
    return (
      all.find((z) => z.zone === this.#chosen) ??
      all.find((z) => z.rank !== "good") ??
      all.find((z) => z.solved) ??
      all[0]
    );
  }

  #render(): void {
    const now = this.#now;
    this.#empty.hidden = now !== undefined;
    if (this.board.away) setText(this.#empty, "Not computed while the server is away.");
    else setText(this.#empty, "No zone yet. Put heads into zones and draw pipe to them.");
    this.#body.hidden = now === undefined;
    if (!now) return;
    this.#showZones(now);
    setText(this.#says, now.says);
    setAttr(this.#says, "data-rank", now.rank === "good" ? null : now.rank);
    this.#go.hidden = !now.worst;
    setText(this.#go, `Go to ${thingName(this.board.plan, `heads/${now.worst}`)}`);
    this.#trouble.hidden = now.trouble.length === 0;
    setText(this.#trouble, `Show ${count(now.trouble.length, "head")} in trouble`);
    this.#table.hidden = now.budget.length === 0;
    this.#rows.show(now.budget);
    this.#picture.show(now);
    this.#figures.replaceChildren(...figuresOf(now).flatMap(([t, d]) => [h("dt", {}, t), h("dd", {}, d)]));
  }

  #showZones(now: ZonePressure): void {
    const all = this.#all;
    const options = all.map((z) => `${z.zone} ${nameOf(z)}`).join("|");
    if (options !== this.#options) {
      this.#options = options;
      this.#zone.replaceChildren(...all.map((z) => h("option", { value: z.zone }, nameOf(z))));
    }
    if (this.#zone.value !== now.zone) this.#zone.value = now.zone;
  }

  #row(): Row<BudgetStep> {
    let now: BudgetStep | null = null;
    const name = h("summary");
    const says = h("p");
    const rule = h("p", { class: "hint" });
    const show = h(
      "button",
      { type: "button", class: "small", onclick: () => now && this.#show(now.about) },
      "Show on the board",
    );
    const step = h("th", { scope: "row" }, h("details", {}, name, says, rule, show));
    const [loss, left, along] = [h("td"), h("td"), h("td")];
    for (const cell of [loss, left, along]) cell.className = "figure";
    return {
      el: h("tr", {}, step, loss, left, along),
      update: (s) => {
        now = s;
        setText(name, s.unsure ? `${s.name} (default)` : s.name);
        setText(says, s.says);
        setText(rule, [s.rule, s.source && `Source: ${s.source}`].filter(Boolean).join(" "));
        show.hidden = s.about.length === 0;
        setText(loss, s.gains ? `gains ${s.loss}` : s.loss);
        setText(left, s.left);
        setText(along, s.along);
      },
    };
  }

  #show(about: Ref[]): void {
    this.board.select(about);
    this.board.lookAt({ about });
  }

  #goTo(heads: readonly string[]): void {
    const refs = heads.map((id): Ref => `heads/${id}`);
    this.board.select(refs);
    this.board.lookAt({ about: refs });
    this.board.announce(`${count(refs.length, "head")} selected.`);
  }
}

const nameOf = (z: ZonePressure): string =>
  `${z.station ? `${z.station}: ` : ""}${z.name}${z.rank === "good" ? "" : " (heads in trouble)"}${z.solved ? "" : " (not worked out)"}`;

function figuresOf(z: ZonePressure): [string, string][] {
  if (!z.solved) return [];
  const all: [string, string | undefined][] = [
    ["Flow with the zone running", z.flow],
    ["Lost from street to nozzle", z.lost],
    ["Left at the nozzle", z.worst_left],
    ["Its table begins at", z.need],
    ["Spread between the heads", z.spread],
  ];
  return all.filter((f): f is [string, string] => Boolean(f[1]));
}

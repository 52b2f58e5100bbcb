// The table of zones: what each valve runs, and whether its heads match.

import { BAR_A_PSI } from "../conversions";
import type { ZoneReading } from "../design";
import { atMostEvery, button, byID, h, type Row, Rows, setAttr, setText } from "../dom";
import { parseNumber, percentText, setAll, statuses } from "../fields";
import { auditedDU } from "../fields_fixtures";
import { type Read, read } from "../length";
import { find, type Plan, parts, type Ref } from "../model";
import { count, namesOf } from "../names";
import type { Board } from "../state";
import {
  addZone,
  headCounts,
  headsOf,
  putInZone,
  removeZone,
  renumber,
  setStation,
  zonesInOrder,
} from "../zoning";
import { Control } from "./control";
import { showGrouping } from "./grouping";
import { showWatering } from "./watering";

/** The columns, with what they mean where a word does not say it. */
const columns: readonly (readonly [title: string, says?: string])[] = [
  ["Station"],
  ["Name"],
  ["Pressure"],
  ["Heads"],
  ["Flow"],
  ["Matched", "How far the farthest nozzle is from the zone’s rate; heads turned down are judged apart"],
  ["Rate on the map", "The mean of the ground the zone waters: reckon run times by it"],
  ["by flow", "Rate, to check by: all the water of the zone over its ground"],
  ["by spacing", "Rate, to check by: a full circle’s flow over the spacing, fair only in even rows"],
  ["Plantings"],
  ["Audited", "Evenness found by an audit of the zone; the watering program goes by it before the estimate"],
  ["Status"],
];

export class Zones {
  readonly #body = h("tbody");
  readonly #rows: Rows<string>;
  readonly #fromSelected: HTMLButtonElement;
  readonly #takeOut: HTMLButtonElement;
  readonly #loose: HTMLButtonElement;
  readonly #group = button("Group the heads…", "small", () => {
    if (!this.board.shut()) showGrouping();
  });
  readonly #empty = h(
    "p",
    { class: "hint" },
    "No zone yet. Group the heads by what the water can feed, or select heads and press “New zone of selected”.",
  );
  readonly #guide = h(
    "p",
    { class: "hint" },
    "Reckon run times by the rate on the map, the mean of the ground; the others are to check it by. ",
    button("Watering program…", "link", () => {
      if (!this.board.shut()) showWatering();
    }),
  );
  readonly #table: HTMLElement;
  #counts: ReadonlyMap<string, number> = new Map();

  constructor(readonly board: Board) {
    this.#rows = new Rows(
      this.#body,
      (id) => id,
      (id) => this.#row(id),
    );
    this.#fromSelected = button("New zone of selected", "small", () => this.#newZone(this.#selected()));
    this.#takeOut = button("Take selected out", "small", () => this.#put(""));
    const bar = h(
      "p",
      { class: "acts" },
      this.#fromSelected,
      button("New empty zone", "small", () => this.#newZone([])),
    );
    this.#loose = button("", "small", () => {
      this.board.select(headsOf(this.board.plan, "").map(headRef));
      this.board.announce(`${count(this.board.selection.size, "head")} selected.`);
    });
    bar.append(this.#takeOut, this.#group, this.#loose);
    const titles = columns.map(([t, says]) => h("th", { scope: "col", title: says ?? null }, t));
    titles.push(h("th", { scope: "col" }, h("span", { class: "unseen" }, "What can be done")));
    const rates = h(
      "caption",
      { class: "unseen" },
      "Zones. On the map, by flow and by spacing are precipitation rates.",
    );
    this.#table = h("table", { class: "wide" }, rates, h("thead", {}, h("tr", {}, ...titles)), this.#body);
    byID("zones").append(
      h("h2", { class: "unseen" }, "Zones"),
      bar,
      this.#empty,
      h("div", { class: "scroll" }, this.#table),
      this.#guide,
    );
    const soon = atMostEvery(150, () => this.#render());
    for (const topic of ["plan", "design", "selection"] as const) board.subscribe(topic, soon);
    this.#render();
  }

  #selected(): string[] {
    return [...this.board.selection].map(parts).flatMap(([c, id]) => (c === "heads" ? [id] : []));
  }

  #render(): void {
    const zones = zonesInOrder(this.board.plan);
    const n = this.#selected().length;
    this.#fromSelected.disabled = n === 0;
    this.#takeOut.disabled = n === 0;
    this.#counts = headCounts(this.board.plan);
    this.#group.disabled = this.#counts.size === 0;
    const loose = this.#counts.get("") ?? 0;
    this.#loose.hidden = loose === 0;
    setText(this.#loose, `Select ${count(loose, "head")} without a zone`);
    this.#empty.hidden = zones.length > 0;
    this.#table.hidden = zones.length === 0;
    this.#guide.hidden = zones.length === 0;
    this.#rows.show(zones);
  }

  #newZone(ids: readonly string[]): void {
    const [withZone, id] = addZone(this.board.committed);
    const name = find(withZone, "zones", id)?.name ?? "";
    const label = ids.length > 0 ? `New zone of ${count(ids.length, "head")}` : "New zone";
    void this.board.commit(label, putInZone(withZone, ids, id));
    this.board.announce(`${name} made with ${count(ids.length, "head")}.`);
  }

  #put(zone: string): void {
    const ids = this.#selected();
    const p = this.board.committed;
    const where = zone ? `into ${find(p, "zones", zone)?.name}` : "out of its zone";
    void this.board.commit(`Put ${namesOf(p, ids.map(headRef))} ${where}`, putInZone(p, ids, zone));
    this.board.announce(`${count(ids.length, "head")} put ${where}.`);
  }

  #row(id: string): Row<string> {
    const station = this.#input(
      "Station",
      (typed, p) => {
        if (typed.trim() === "") return read(setStation(p, id, 0));
        const v = parseNumber(typed, "a station", 1, 999);
        return v.ok ? read(setStation(p, id, Math.round(v.value))) : v;
      },
      id,
    );
    const name = this.#input(
      "Name",
      (typed, p) => read(setAll(p, "zones", [id], "name", typed.trim() || "Zone")),
      id,
    );
    const pressure = this.#input("Pressure", (typed, p) => setPressure(p, id, typed), id, "best");
    const words: Record<number, string> = { 2: "words few", 6: "words" };
    const cells = Array.from({ length: 7 }, (_, i) => h("td", { class: words[i] ?? null }));
    const [putHere, acts] = this.#acts(id);
    const status = this.#status(id);
    const audit = this.#input(
      "Audited evenness",
      (typed, plan) => auditedDU.set({ plan, catalog: this.board.catalog }, [id], typed),
      id,
      "none",
    );
    const kept = h("td", { class: "in stands" }, status.el);
    const el = h("tr", {}, station.cell, name.cell, pressure.cell, ...cells, audit.cell, kept, acts);
    return {
      el,
      update: () => {
        const p = this.board.plan;
        const z = find(p, "zones", id);
        if (!z) return;
        station.control.show({ value: z.station ? String(z.station) : "", mixed: false, choices: [] });
        name.control.show({ value: z.name, mixed: false, choices: [] });
        pressure.control.show({ value: pressureText(z.pressure_psi, p), mixed: false, choices: [] });
        const found = percentText(z.audited_du);
        audit.control.show({ value: found && `${found} %`, mixed: false, choices: [] });
        const choices = statuses.map(([value, label]) => ({ value, label }));
        status.show({ value: z.status ?? "new", mixed: false, choices });
        putHere.disabled = this.#selected().length === 0;
        const r = this.board.design?.zones.find((r) => r.id === id);
        for (const [i, t] of figures(r, this.#counts.get(id) ?? 0).entries()) setText(cells[i] as Element, t);
        setAttr(cells[2] as Element, "data-rank", r?.matched_rank || null);
      },
    };
  }

  #input(
    label: string,
    set: (typed: string, p: Plan) => Read<Plan>,
    id: string,
    empty = "",
  ): { control: Control; cell: HTMLElement } {
    const take = (typed: string): string | null => {
      const next = set(typed, this.board.committed);
      if (!next.ok) return next.sentence;
      const name = find(this.board.committed, "zones", id)?.name ?? "";
      void this.board.commit(`Set ${label.toLowerCase()} of zone ${name}`, next.value);
      return null;
    };
    const control = new Control(label, "text", "", take, empty);
    return { control, cell: h("td", { class: `in ${label.split(" ")[0]?.toLowerCase()}` }, control.el) };
  }

  #status(id: string): Control {
    return new Control("Status", "choice", "", (typed) => {
      const p = this.board.committed;
      const name = find(p, "zones", id)?.name ?? "";
      void this.board.commit(`Set status of zone ${name}`, setAll(p, "zones", [id], "status", typed));
      return null;
    });
  }

  #acts(id: string): [HTMLButtonElement, HTMLElement] {
    const name = (): string => find(this.board.committed, "zones", id)?.name ?? "";
    const refs = (): Ref[] => headsOf(this.board.plan, id).map(headRef);
    const select = button("Select", "small", () => {
      this.board.select(refs());
      this.board.lookAt({ about: refs(), gentle: true });
    });
    const putHere = button("Put selected here", "small", () => this.#put(id));
    const tags = button("Renumber", "small", () => {
      void this.board.commit(`Renumber the heads of ${name()}`, renumber(this.board.committed, id));
    });
    const gone = button("Delete", "small", () => {
      void this.board.commit(`Delete zone ${name()}`, removeZone(this.board.committed, id));
      this.board.announce("Zone deleted; its heads stay. Undo brings it back.");
    });
    gone.classList.add("grave");
    return [putHere, h("td", { class: "row-acts" }, select, putHere, tags, gone)];
  }
}

const headRef = (id: string): Ref => `heads/${id}`;

function figures(r: ZoneReading | undefined, headCount: number): string[] {
  if (!r) return [String(headCount), "", "", "", "", "", ""];
  return [String(headCount), r.flow, r.matched, r.rate_grid, r.rate_flow, r.rate_spacing, r.plantings];
}

function pressureText(psi: number | undefined, p: Plan): string {
  if (!psi) return "";
  return p.show === "metric"
    ? `${Number((psi * BAR_A_PSI).toFixed(2))} bar`
    : `${Number(psi.toFixed(1))} psi`;
}

/** Sets the pressure planned at a zone's heads; empty means each nozzle's best. */
function setPressure(p: Plan, id: string, typed: string): Read<Plan> {
  const t = typed.trim().toLowerCase();
  if (t === "") return read(setAll(p, "zones", [id], "pressure_psi", undefined));
  const bar = t.endsWith("bar") || (p.show === "metric" && !t.endsWith("psi"));
  const v = parseNumber(t.replace(/(psi|bar)$/, ""), bar ? "bar" : "psi", bar ? 0.3 : 5, bar ? 10 : 150);
  return v.ok ? read(setAll(p, "zones", [id], "pressure_psi", bar ? v.value / BAR_A_PSI : v.value)) : v;
}

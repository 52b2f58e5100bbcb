// Where the need of plants is reckoned from: a zone of the public table, figures by
// month, a weather file, or nothing but the week at peak.

import { button, h, setText } from "../dom";
import type { Plan } from "../model";
import type { WaterClimate, WaterOptions } from "../watering";
import {
  type ClimateFrom,
  climateFrom,
  latitude,
  peak,
  wateringOf,
  withClimate,
  withoutClimate,
} from "../wateringfields";
import { askMonths, climateTable } from "./climatemonths";
import type { Control } from "./control";
import type { WaterControls } from "./wateringcontrols";
import { bringWeather } from "./weather";

const climates: readonly (readonly [ClimateFrom, string])[] = [
  ["none", "Not given: the week at peak"],
  ["zone", "A zone of the public table"],
  ["normals", "Reference ET by month"],
  ["temperatures", "Temperatures by month"],
  ["weather", "A weather file"],
];

/** The climate of a plan in a few words. */
export const climateText = (p: Plan): string => climates.find(([v]) => v === climateFrom(p))?.[1] ?? "";

export class ClimatePart {
  readonly #zone: Control;
  readonly #type = button("", "small", () => void this.#askMonths());
  readonly #bring = button("Read a weather file…", "small", () => void this.#bringFile());
  readonly #rain = button("Type rain by month…", "small", () => void askMonths(this.c.board, "rain"));
  readonly #used = h("p", {});
  readonly #months = h("div");
  readonly #monthsOf = h("details", {}, h("summary", {}, "Month by month"), this.#months);
  #monthsShown: readonly WaterClimate[] | null = null;
  /** As chosen, until the plan has figures of it. */
  #chosen: ClimateFrom | null = null;
  #options: WaterOptions | null = null;

  constructor(readonly c: WaterControls) {
    this.#zone = c.control("Zone", "choice", "", (typed) =>
      typed === ""
        ? null
        : c.commit("zone of the climate", withClimate(c.board.committed, { et_zone: Number(typed) })),
    );
  }

  /** What was chosen and led to nothing is forgotten. */
  afresh(): void {
    this.#chosen = null;
  }

  /** Makes its fields, in the plan's units. */
  build(): HTMLElement[] {
    const { board } = this.c;
    const from = this.c.control("Need is reckoned from", "choice", "", (typed) => {
      this.#chosen = typed as ClimateFrom;
      if (typed === "none") this.c.commit("no climate", withoutClimate(board.committed));
      this.c.show(board.plan);
      return null;
    });
    const [atPeak, where] = [this.c.field(peak), this.c.field(latitude)];
    this.c.whenShown((p) => {
      const is = climateFrom(p);
      if (this.#chosen === is) this.#chosen = null;
      const now = this.#chosen ?? is;
      const choices = climates.map(([value, label]) => ({ value, label }));
      from.show({ value: now, mixed: false, choices });
      atPeak.hidden = now !== "none";
      where.hidden = now !== "temperatures";
      this.#showWays(p, now);
    });
    return [
      h("div", { class: "pairs" }, from.el, this.#zone.el, atPeak, where),
      h("p", { class: "acts" }, this.#type, this.#bring, this.#rain),
      this.#used,
      this.#monthsOf,
    ];
  }

  /** What can be typed or read for the way that is chosen. */
  #showWays(p: Plan, now: ClimateFrom): void {
    this.#zone.el.hidden = now !== "zone";
    const value = String(wateringOf(p).et_zone ?? "");
    const zones = (this.#options?.zones ?? []).map((z) => ({ value: String(z.zone), label: z.name }));
    const none = value === "" ? [{ value: "", label: "Choose the zone" }] : [];
    this.#zone.show({ value, mixed: false, choices: [...none, ...zones] });
    const heat = now === "temperatures";
    this.#type.hidden = !heat && now !== "normals" && now !== "weather";
    setText(this.#type, heat ? "Type temperatures and rain by month…" : "Type ET and rain by month…");
    this.#bring.hidden = now !== "weather";
    this.#rain.hidden = now !== "zone";
    (this.#type.parentElement as HTMLElement).hidden = now === "none";
  }

  async #askMonths(): Promise<void> {
    const now = this.#chosen ?? climateFrom(this.c.board.committed);
    if (await askMonths(this.c.board, now === "temperatures" ? now : "normals")) this.#chosen = null;
  }

  async #bringFile(): Promise<void> {
    if (await bringWeather(this.c.board, this.#options?.columns ?? "")) this.#chosen = null;
  }

  /** What the server reckons with now. */
  tell(options: WaterOptions | null): void {
    this.#options = options;
    setText(this.#used, options?.climate ?? "");
    const months = options?.months ?? [];
    if (this.#monthsShown === months) return;
    this.#monthsShown = months;
    this.#monthsOf.hidden = months.length === 0;
    this.#months.replaceChildren(climateTable(months, "The climate by month"));
  }
}

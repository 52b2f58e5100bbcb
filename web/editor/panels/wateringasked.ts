// What the watering program is asked for: days and hours, climate, plants, and what the
// controller can hold. Every change is one step.

import { button, h, setText } from "../dom";
import type { Field } from "../fields";
import { holdsFields } from "../fields_wiring";
import type { Read } from "../length";
import type { Plan } from "../model";
import type { Board } from "../state";
import type { SupplyField } from "../supply";
import type { WaterClimate, WaterOptions } from "../watering";
import {
  allows,
  audited,
  type ClimateFrom,
  climateFrom,
  every,
  hourFields,
  peak,
  plantFields,
  target,
  targets,
  together,
  wateringOf,
  weekdays,
  withClimate,
  withDay,
  withoutClimate,
  withWatering,
} from "../wateringfields";
import { askMonths, climateTable } from "./climatemonths";
import { Control } from "./control";
import { showFigures } from "./figures";
import { bringWeather } from "./weather";

const climates: readonly (readonly [ClimateFrom, string])[] = [
  ["none", "Not given: the week at peak"],
  ["zone", "A zone of the public table"],
  ["normals", "Reference ET by month"],
  ["temperatures", "Temperatures by month"],
  ["weather", "A weather file"],
];

const dayWays = [
  { value: "week", label: "On days of the week" },
  { value: "every", label: "On one day in so many" },
];

interface Made {
  readonly control: Control;
  show(p: Plan): void;
}

export class WaterAsked {
  readonly el = h("div", { class: "form water-asked" });
  readonly #made: Made[] = [];
  readonly #says = new Map<string, HTMLElement>();
  readonly #days = h("div", { class: "water-days", role: "group", "aria-label": "Days water is allowed on" });
  readonly #dayError = h("p", { class: "error", hidden: true });
  readonly #dayBoxes: HTMLInputElement[] = [];
  readonly #zone: Control;
  readonly #type = button("", "small", () => void this.#askMonths());
  readonly #bring = button("Read a weather file…", "small", () => void this.#bringFile());
  readonly #rain = button("Type rain by month…", "small", () => void askMonths(this.board, "rain"));
  readonly #latitude = h("p", { class: "hint" });
  readonly #used = h("p", {});
  readonly #months = h("div");
  readonly #monthsOf = h("details", {}, h("summary", {}, "Month by month"), this.#months);
  #monthsShown: readonly WaterClimate[] | null = null;
  readonly #target = h("p", { class: "hint" });
  /** As chosen, until the plan has figures of it. */
  #climate: ClimateFrom | null = null;
  #ways: "week" | "every" | null = null;
  #units = "";
  #options: WaterOptions | null = null;

  constructor(readonly board: Board) {
    this.#zone = this.#control("Zone", "choice", "", (typed) =>
      typed === ""
        ? null
        : this.#commit("zone of the climate", withClimate(this.board.committed, { et_zone: Number(typed) })),
    );
    for (const [day, name] of weekdays) this.#days.append(this.#day(day, name));
  }

  /** The bench was opened or left: what was chosen and led to nothing is forgotten. */
  afresh(): void {
    this.#climate = null;
    this.#ways = null;
  }

  #commit(what: string, next: Plan): null {
    void this.board.commit(`Watering: ${what}`, next);
    return null;
  }

  #control(
    label: string,
    as: Control["as"],
    hint: string,
    take: (typed: string) => string | null,
    empty = "",
  ): Control {
    const c = new Control(label, as, hint, take, empty);
    if (as === "choice" || as === "yes") c.el.classList.add("whole");
    return c;
  }

  #field(f: SupplyField): HTMLElement {
    const { plan } = this.board;
    const control = this.#control(
      f.label,
      f.as,
      f.hint?.(plan) ?? "",
      (typed) => this.#took(f.label, f.set(this.board.committed, typed, this.board.catalog)),
      f.empty?.(plan) ?? "",
    );
    const show = (p: Plan): void =>
      control.show({ value: f.get(p), mixed: false, choices: f.choices?.(p, this.board.catalog) ?? [] });
    this.#made.push({ control, show });
    return control.el;
  }

  /** A field of the controller. */
  #holds(f: Field): HTMLElement {
    const cx = (plan: Plan) => ({ plan, catalog: this.board.catalog });
    const control = this.#control(
      f.label,
      f.as,
      f.hint?.(this.board.plan) ?? "",
      (typed) => {
        const next = f.set(cx(this.board.committed), ["at"], typed);
        if (!next.ok) return next.sentence;
        void this.board.commit(`Set ${f.label.toLowerCase()} of the controller`, next.value);
        return null;
      },
      f.empty,
    );
    const show = (p: Plan): void =>
      control.show({ value: f.get(cx(p), "at"), mixed: false, choices: f.choices?.(cx(p), ["at"]) ?? [] });
    this.#made.push({ control, show });
    return control.el;
  }

  #took(label: string, next: Read<Plan>): string | null {
    return next.ok ? this.#commit(label.toLowerCase(), next.value) : next.sentence;
  }

  #day(day: string, name: string): HTMLElement {
    const box = h("input", { type: "checkbox", "aria-label": name, value: day });
    box.addEventListener("change", () => {
      const next = withDay(this.board.committed, day, box.checked);
      this.#dayError.hidden = next.ok;
      setText(this.#dayError, next.ok ? "" : next.sentence);
      if (next.ok) this.#commit(`${box.checked ? "allow" : "forbid"} ${name}`, next.value);
      else box.checked = true;
    });
    this.#dayBoxes.push(box);
    return h("label", {}, box, h("span", { "aria-hidden": "true" }, name.slice(0, 3)));
  }

  /** Makes all fields, whose hints are in the plan's units. */
  #build(): void {
    this.#units = this.board.plan.show;
    this.#made.length = 0;
    this.el.replaceChildren(
      this.#fold("days", "Days and hours", true, this.#daysPart()),
      this.#fold("climate", "Climate", false, this.#climatePart()),
      this.#fold("plants", "Plants, soil and target", false, this.#plantsPart()),
      this.#fold("controller", "Controller", false, [
        h("div", { class: "pairs" }, ...holdsFields.map((f) => this.#holds(f))),
      ]),
    );
  }

  /** What belongs together, folded under its name and, in a few words, what it is now. */
  #fold(key: string, title: string, open: boolean, kids: readonly HTMLElement[]): HTMLElement {
    const says = h("span", { class: "hint water-now" });
    this.#says.set(key, says);
    return h(
      "details",
      { open, "data-part": key },
      h("summary", {}, title, says),
      h("div", { class: "form" }, ...kids),
    );
  }

  #daysPart(): HTMLElement[] {
    const ways = this.#control("Water is allowed", "choice", "", (typed) => {
      this.#ways = typed === "every" ? "every" : "week";
      if (typed === "week" && wateringOf(this.board.committed).every !== undefined)
        this.#commit("days of the week", withWatering(this.board.committed, { every: undefined }));
      this.show();
      return null;
    });
    const inMany = this.#field(every);
    this.#made.push({
      control: ways,
      show: (p) => {
        const way = this.#ways ?? (wateringOf(p).every ? "every" : "week");
        ways.show({ value: way, mixed: false, choices: dayWays });
        this.#days.hidden = way !== "week";
        if (way !== "week") this.#dayError.hidden = true;
        inMany.hidden = way !== "every";
        for (const box of this.#dayBoxes) box.checked = allows(p, box.value);
      },
    });
    return [
      h("div", { class: "pairs" }, ways.el, inMany),
      this.#days,
      this.#dayError,
      h("div", { class: "pairs" }, ...hourFields.map((f) => this.#field(f))),
      this.#field(together),
    ];
  }

  #climatePart(): HTMLElement[] {
    const from = this.#control("Need is reckoned from", "choice", "", (typed) => {
      this.#climate = typed as ClimateFrom;
      if (typed === "none") this.#commit("no climate", withoutClimate(this.board.committed));
      this.show();
      return null;
    });
    const atPeak = this.#field(peak);
    this.#made.push({
      control: from,
      show: (p) => {
        const is = climateFrom(p);
        if (this.#climate === is) this.#climate = null;
        const now = this.#climate ?? is;
        const listed = climates.map(([value, label]) => ({ value, label }));
        from.show({ value: now, mixed: false, choices: listed });
        this.#showZone(p, now);
        atPeak.hidden = now !== "none";
        this.#type.hidden = now !== "normals" && now !== "temperatures" && now !== "weather";
        setText(
          this.#type,
          now === "temperatures" ? "Type temperatures and rain by month…" : "Type ET and rain by month…",
        );
        this.#bring.hidden = now !== "weather" && now !== "none";
        this.#rain.hidden = now !== "zone";
        const lost = now === "temperatures" && p.site?.latitude_deg === undefined;
        setText(
          this.#latitude,
          lost
            ? "Temperatures need the latitude, too: it is in the plan’s settings, under Place on the map."
            : "",
        );
        this.#latitude.hidden = !lost;
      },
    });
    return [
      h("div", { class: "pairs" }, from.el, this.#zone.el, atPeak),
      h("p", { class: "acts" }, this.#type, this.#bring, this.#rain),
      this.#latitude,
      this.#used,
      this.#monthsOf,
    ];
  }

  #showZone(p: Plan, now: ClimateFrom): void {
    this.#zone.el.hidden = now !== "zone";
    const value = String(wateringOf(p).et_zone ?? "");
    const zones = (this.#options?.zones ?? []).map((z) => ({ value: String(z.zone), label: z.name }));
    const none = value === "" ? [{ value: "", label: "Choose the zone" }] : [];
    this.#zone.show({ value, mixed: false, choices: [...none, ...zones] });
  }

  #plantsPart(): HTMLElement[] {
    const how = this.#field(target);
    return [
      h("div", { class: "pairs" }, ...plantFields.map((f) => this.#field(f))),
      h(
        "p",
        { class: "acts" },
        button(
          "Figures of plants and soil…",
          "small",
          () => void showFigures(this.board, ["plants", "soil"]),
        ),
      ),
      h(
        "p",
        { class: "hint" },
        "What grows, soil, slope, sun and roots of one area stand under Selected, once the area is.",
      ),
      how,
      this.#target,
      h("div", { class: "pairs" }, this.#field(audited)),
    ];
  }

  async #askMonths(): Promise<void> {
    const of =
      (this.#climate ?? climateFrom(this.board.committed)) === "temperatures" ? "temperatures" : "normals";
    if (await askMonths(this.board, of)) this.#climate = null;
  }

  async #bringFile(): Promise<void> {
    if (await bringWeather(this.board, this.#options?.columns ?? "")) this.#climate = null;
  }

  /** Brings the fields in step with the plan. */
  show(options: WaterOptions | null = this.#options): void {
    this.#options = options;
    const { plan } = this.board;
    if (plan.show !== this.#units) this.#build();
    for (const m of this.#made) m.show(plan);
    const said = targets.find(([v]) => v === target.get(plan));
    setText(this.#target, said?.[2] ?? "");
    setText(this.#used, options?.climate ?? "");
    this.#showMonths(options?.months ?? []);
    this.#tell("days", daysText(plan));
    this.#tell("climate", climates.find(([v]) => v === climateFrom(plan))?.[1] ?? "");
    this.#tell("plants", said?.[1] ?? "");
    const n = plan.controller?.stations;
    this.#tell("controller", n ? `${n} stations` : "");
  }

  #tell(key: string, words: string): void {
    const el = this.#says.get(key);
    if (el) setText(el, words);
  }

  #showMonths(months: readonly WaterClimate[]): void {
    if (this.#monthsShown === months) return;
    this.#monthsShown = months;
    this.#monthsOf.hidden = months.length === 0;
    this.#months.replaceChildren(climateTable(months, "The climate by month"));
  }
}

/** The days in a few words: "Mon, Thu". */
function daysText(p: Plan): string {
  const { every: n, days } = wateringOf(p);
  if (n) return n === 1 ? "every day" : `one day in ${n}`;
  if (!days || days.length === 0 || days.length === weekdays.length) return "every day";
  return weekdays
    .filter(([d]) => days.includes(d))
    .map(([, name]) => name.slice(0, 3))
    .join(", ");
}

// What the watering program is asked for: days and hours, climate, plants, and what the
// controller can hold. Every change is one step.

import { button, h, setText } from "../dom";
import { holdsFields } from "../fields_wiring";
import type { Plan } from "../model";
import type { Board } from "../state";
import type { WaterOptions } from "../watering";
import {
  allows,
  audited,
  every,
  hourFields,
  plantFields,
  target,
  targets,
  together,
  wateringOf,
  weekdays,
  withDay,
  withWatering,
} from "../wateringfields";
import { showFigures } from "./figures";
import { ClimatePart, climateText } from "./wateringclimate";
import { WaterControls } from "./wateringcontrols";

const dayWays = [
  { value: "week", label: "On days of the week" },
  { value: "every", label: "On one day in so many" },
];

export class WaterAsked {
  readonly el = h("div", { class: "form water-asked" });
  readonly #c: WaterControls;
  readonly #climate: ClimatePart;
  readonly #says = new Map<string, HTMLElement>();
  readonly #days = h("div", { class: "water-days", role: "group", "aria-label": "Days water is allowed on" });
  readonly #dayError = h("p", { class: "error", role: "alert", hidden: true });
  readonly #boxes: readonly HTMLInputElement[];
  readonly #target = h("p", { class: "hint" });
  /** As chosen, until the plan has days of it. */
  #ways: "week" | "every" | null = null;
  #units = "";

  constructor(readonly board: Board) {
    this.#c = new WaterControls(board);
    this.#climate = new ClimatePart(this.#c);
    this.#boxes = weekdays.map(([day, name]) => this.#day(day, name));
    this.#days.append(
      ...this.#boxes.map((box, i) =>
        h("label", {}, box, h("span", { "aria-hidden": "true" }, weekdays[i]?.[1].slice(0, 3) ?? "")),
      ),
    );
  }

  /** The bench was opened: what was chosen before and led to nothing is forgotten. */
  afresh(): void {
    this.#climate.afresh();
    this.#ways = null;
  }

  #day(day: string, name: string): HTMLInputElement {
    const box = h("input", { type: "checkbox", "aria-label": name, value: day });
    box.addEventListener("change", () => {
      const next = withDay(this.board.committed, day, box.checked);
      this.#dayError.hidden = next.ok;
      setText(this.#dayError, next.ok ? "" : next.sentence);
      if (next.ok) this.#c.commit(`${box.checked ? "allow" : "forbid"} ${name}`, next.value);
      else box.checked = true;
    });
    return box;
  }

  /** Makes all fields, whose hints are in the plan's units. */
  #build(): void {
    this.#units = this.board.plan.show;
    this.#c.clear();
    this.el.replaceChildren(
      this.#fold("days", "Days and hours", true, this.#daysPart()),
      this.#fold("climate", "Climate", false, this.#climate.build()),
      this.#fold("plants", "Plants and target", false, this.#plantsPart()),
      this.#fold("controller", "Controller", false, [
        h("div", { class: "pairs" }, ...holdsFields.map((f) => this.#c.holds(f))),
      ]),
    );
  }

  /** What belongs together, folded under its name and, in a few words, what it is now. */
  #fold(key: string, title: string, open: boolean, kids: readonly HTMLElement[]): HTMLElement {
    const says = h("span", { class: "hint water-now" });
    this.#says.set(key, says);
    const head = h("summary", {}, title, says);
    return h("details", { open, "data-part": key }, head, h("div", { class: "form" }, ...kids));
  }

  #daysPart(): HTMLElement[] {
    const { board } = this;
    const ways = this.#c.control("Water is allowed", "choice", "", (typed) => {
      this.#ways = typed === "every" ? "every" : "week";
      if (typed === "week" && wateringOf(board.committed).every !== undefined)
        this.#c.commit("days of the week", withWatering(board.committed, { every: undefined }));
      this.#c.show(board.plan);
      return null;
    });
    const inMany = this.#c.field(every);
    this.#c.whenShown((p) => {
      const is = wateringOf(p).every ? "every" : "week";
      if (this.#ways === is) this.#ways = null;
      const way = this.#ways ?? is;
      ways.show({ value: way, mixed: false, choices: dayWays });
      this.#days.hidden = way !== "week";
      if (way !== "week") this.#dayError.hidden = true;
      inMany.hidden = way !== "every";
      for (const box of this.#boxes) box.checked = allows(p, box.value);
    });
    return [
      h("div", { class: "pairs" }, ways.el, inMany),
      this.#days,
      this.#dayError,
      h("div", { class: "pairs" }, ...hourFields.map((f) => this.#c.field(f))),
      this.#c.field(together),
    ];
  }

  #plantsPart(): HTMLElement[] {
    const { board } = this;
    return [
      h("div", { class: "pairs" }, ...plantFields.map((f) => this.#c.field(f))),
      h(
        "p",
        { class: "acts" },
        button("Figures of plants and soil…", "small", () => void showFigures(board, ["plants", "soil"])),
      ),
      h(
        "p",
        { class: "hint" },
        "What grows in an area, its soil, slope, sun and roots stand with the area, below.",
      ),
      this.#c.field(target),
      this.#target,
      h("div", { class: "pairs" }, this.#c.field(audited)),
    ];
  }

  /** Brings the fields in step with the plan, and says what the server reckons with. */
  show(options: WaterOptions | null): void {
    const { plan } = this.board;
    if (plan.show !== this.#units) this.#build();
    this.#climate.tell(options);
    this.#c.show(plan, options?.usual);
    const said = targets.find(([v]) => v === target.get(plan));
    setText(this.#target, said?.[2] ?? "");
    this.#tell("days", daysText(plan));
    this.#tell("climate", climateText(plan));
    this.#tell("plants", said?.[1] ?? "");
    const n = plan.controller?.stations;
    this.#tell("controller", n ? `${n} stations` : "");
  }

  #tell(key: string, words: string): void {
    const el = this.#says.get(key);
    if (el) setText(el, words);
  }
}

/** The days in a few words: "Mon, Thu". */
function daysText(p: Plan): string {
  const { every: n } = wateringOf(p);
  if (n) return n === 1 ? "every day" : `one day in ${n}`;
  const named = weekdays.filter(([d]) => allows(p, d));
  return named.length === weekdays.length ? "every day" : named.map(([, t]) => t.slice(0, 3)).join(", ");
}

// One area in the watering program: what it needs and gets, whether water that other
// zones throw over it counts, and the other cures.

import { button, h, setAttr, setText } from "../dom";
import type { Field } from "../fields";
import { areaFields } from "../fields_areas";
import { find } from "../model";
import type { Board } from "../state";
import type { WaterArea, WaterFact, WaterNeed } from "../watering";
import { Control } from "./control";
import { usually } from "./wateringcontrols";

const heightField = areaFields.find((f) => f.key === "plant_height_in");
const ownField = areaFields.find((f) => f.key === "own_zones_only");
/** What its need and its soil follow from; the rest stands under Selected. */
const groundKeys: ReadonlySet<string> = new Set([
  "planting",
  "exposure",
  "soil",
  "slope",
  "plant_factor",
  "density_factor",
  "microclimate",
  "roots_in",
  "depletion",
]);
const groundFields = areaFields.filter((f) => groundKeys.has(f.key));

const none: readonly WaterFact[] = [];

let made = 0;

export class WateringArea {
  readonly el: HTMLElement;
  readonly #name: HTMLButtonElement;
  readonly #figures = h("dl", { class: "facts" });
  readonly #beside = h("p", { class: "hint" });
  readonly #counts = h("input", { type: "checkbox", id: `water-counts-${++made}` });
  readonly #cures: HTMLElement;
  readonly #height: Control;
  readonly #turn: HTMLButtonElement;
  readonly #chain = h("dl", { class: "water-chain" });
  readonly #chainOf: HTMLElement;
  readonly #ground: HTMLDetailsElement;
  #fields: { field: Field; control: Control }[] = [];
  #area: WaterArea | null = null;
  #facts: readonly WaterFact[] | null = null;
  #taken: Readonly<Record<string, string>> = {};

  constructor(
    readonly board: Board,
    readonly does: { show(a: WaterArea): void; turn(a: WaterArea): void },
  ) {
    this.#name = button("", "plain", () => this.#area && does.show(this.#area));
    this.#turn = button("Turn arcs off…", "small", () => this.#area && does.turn(this.#area));
    this.#counts.addEventListener("change", () => this.#count());
    this.#height = new Control(
      "Height of plants",
      "text",
      heightField?.hint?.(board.plan) ?? "",
      (typed) => (heightField ? this.#set(heightField, typed) : null),
      heightField?.empty,
    );
    const cures = h(
      "div",
      { class: "form" },
      h(
        "div",
        { class: "tick" },
        this.#counts,
        h("label", { for: this.#counts.id }, "Count what other zones throw over it"),
      ),
      this.#height.el,
      h("p", { class: "hint" }, "Leaves catch what falls at their height: higher plants get less of it."),
      h("p", { class: "acts" }, this.#turn),
    );
    this.#cures = h("details", {}, h("summary", {}, "Water of other zones"), cures);
    this.#ground = h("details", {}, h("summary", {}, "Its plants and soil"));
    this.#ground.addEventListener("toggle", () => this.#showGround());
    this.#chainOf = h("details", {}, h("summary", {}, "What its need is reckoned from"), this.#chain);
    this.el = h(
      "li",
      { class: "water-area" },
      h("h4", {}, this.#name),
      this.#figures,
      this.#beside,
      this.#cures,
      this.#ground,
      this.#chainOf,
    );
  }

  update(a: WaterArea, need: WaterNeed | undefined): void {
    this.#area = a;
    this.#taken = need?.taken ?? {};
    setText(this.#name, a.name);
    setAttr(this.#name, "aria-label", `Show ${a.name}`);
    fill(this.#figures, [
      ["Needs a week", a.need],
      ["Its dry part gets", a.gets],
      ["Its soil lasts", a.lasts],
    ]);
    setText(this.#beside, a.beside);
    this.#beside.hidden = a.beside === "";
    const { plan, catalog } = this.board;
    const thing = find(plan, "areas", a.id);
    const own = thing?.own_zones_only === true;
    this.#cures.hidden = !thing || (a.beside === "" && !own && !a.turn);
    this.#counts.checked = !own;
    const value = heightField?.get({ plan, catalog }, a.id) ?? "";
    this.#height.show({ value, mixed: false, choices: [] });
    this.#height.el.hidden = own;
    (this.#height.el.nextElementSibling as HTMLElement).hidden = own;
    (this.#turn.parentElement as HTMLElement).hidden = !a.turn;
    setAttr(this.#turn, "aria-label", `Turn arcs off… ${a.name}`);
    this.#ground.hidden = !thing;
    this.#showGround();
    this.#showChain(need?.facts ?? none);
  }

  #count(): void {
    const a = this.#area;
    const cx = { plan: this.board.committed, catalog: this.board.catalog };
    const next = a && ownField?.set(cx, [a.id], this.#counts.checked ? "" : "yes");
    if (!a || !next?.ok) return;
    const label = this.#counts.checked
      ? `Count what other zones throw over ${a.name}`
      : `Leave out what other zones throw over ${a.name}`;
    void this.board.commit(label, next.value);
  }

  #set(field: Field, typed: string): string | null {
    const a = this.#area;
    if (!a) return null;
    const cx = { plan: this.board.committed, catalog: this.board.catalog };
    const next = field.set(cx, [a.id], typed);
    if (!next.ok) return next.sentence;
    void this.board.commit(`Set ${field.label.toLowerCase()} of ${a.name}`, next.value);
    return null;
  }

  /** Its plants and soil, whose fields are made once they are looked at. */
  #showGround(): void {
    const a = this.#area;
    if (!a || !this.#ground.open) return;
    const { plan, catalog } = this.board;
    if (this.#fields.length === 0) {
      this.#fields = groundFields.map((field) => ({
        field,
        control: new Control(
          field.label,
          field.as,
          field.hint?.(plan) ?? "",
          (typed) => this.#set(field, typed),
          field.empty,
        ),
      }));
      this.#ground.append(h("div", { class: "fields" }, ...this.#fields.map((f) => f.control.el)));
    }
    const cx = { plan, catalog };
    for (const { field, control } of this.#fields) {
      control.empty = usually(this.#taken[field.key]) ?? control.empty;
      control.show({
        value: field.get(cx, a.id),
        mixed: false,
        choices: field.choices?.(cx, [a.id]) ?? [],
      });
    }
  }

  #showChain(facts: readonly WaterFact[]): void {
    if (facts === this.#facts) return;
    this.#facts = facts;
    this.#chainOf.hidden = facts.length === 0;
    this.#chain.replaceChildren(
      ...facts.flatMap((f) => [
        h("dt", {}, f.what),
        h("dd", {}, h("strong", {}, f.value), f.source ? h("span", { class: "hint" }, f.source) : null),
      ]),
    );
  }
}

function fill(list: HTMLElement, facts: readonly (readonly [string, string])[]): void {
  const told = facts.filter(([, v]) => v !== "");
  if (list.textContent === told.flat().join("")) return;
  list.replaceChildren(...told.flatMap(([t, v]) => [h("dt", {}, t), h("dd", {}, v)]));
}

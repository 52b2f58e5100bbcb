// The form of the Supply page: its fields in the order of the water's way, each
// group with what to measure and how, and what to take care of.

import type { SupplyReading } from "../design";
import { h, setText } from "../dom";
import type { Board } from "../state";
import {
  backflowFields,
  containerFields,
  deviceFields,
  flowFields,
  freezeFields,
  hasPump,
  planFields,
  pumpFields,
  regulatorFields,
  type SupplyField,
  serviceFields,
  sourceFields,
} from "../supply";
import { BackflowPart } from "./backflow";
import { Control } from "./control";
import { LossCurves, pumpList, staticList } from "./supplylists";
import { aboutContainer, aboutMeasuring, cautionOnMains } from "./supplywords";

interface Made {
  readonly field: SupplyField;
  readonly control: Control;
}

interface Group {
  readonly el: HTMLElement;
  readonly made: readonly Made[];
  shown(): boolean;
}

export class SupplyForm {
  readonly el = h("form", {
    class: "supply-form",
    novalidate: true,
    "aria-label": "What is known of the water",
  });
  readonly #backflow = new BackflowPart();
  readonly #freeze = h("div", { class: "freeze" });
  readonly #statics: ReturnType<typeof staticList>;
  readonly #pump: ReturnType<typeof pumpList>;
  readonly #curves: LossCurves;
  #groups: readonly Group[] = [];
  #units = "";

  constructor(
    readonly board: Board,
    readonly take: (f: SupplyField, typed: string) => string | null,
  ) {
    this.el.addEventListener("submit", (e) => e.preventDefault());
    this.#statics = staticList(board);
    this.#pump = pumpList(board);
    this.#curves = new LossCurves(board);
  }

  /** The input of the field of that label, if it can be seen. */
  input(label: string): HTMLElement | null {
    const found = this.#groups.flatMap((g) => g.made).find((m) => m.field.label === label);
    return found && !found.control.el.hidden ? found.control.input : null;
  }

  show(): void {
    const { plan, catalog } = this.board;
    if (plan.show !== this.#units) this.#build();
    for (const g of this.#groups) {
      g.el.hidden = !g.shown();
      for (const { field, control } of g.made) {
        control.el.hidden = !(field.shown?.(plan) ?? true);
        control.show({
          value: field.get(plan),
          mixed: false,
          choices: field.choices?.(plan, catalog) ?? [],
        });
      }
    }
    this.#statics.show();
    this.#pump.show();
    this.#curves.show();
  }

  /** What the server says of backflow, freezing and the devices. */
  tell(r: SupplyReading): void {
    this.#backflow.show(r.backflow, this.board.catalog.backflow ?? []);
    this.#curves.tell(r.devices);
    const [says, parts] = [r.freeze.says, r.freeze.parts];
    this.#freeze.replaceChildren(
      h("p", {}, says),
      ...(parts.length > 0
        ? [h("p", {}, "It takes:"), h("ul", { class: "dots" }, ...parts.map((p) => h("li", {}, p)))]
        : []),
    );
  }

  /** Makes all fields, whose hints are in the plan's units. */
  #build(): void {
    this.#units = this.board.plan.show;
    this.#statics.build();
    this.#pump.build();
    const always = (): boolean => true;
    this.#groups = [
      this.#group("Where the water comes from", sourceFields, always),
      this.#group("Pressure and flow", flowFields, always, {
        before: [aboutMeasuring(this.board.plan.supply?.measured !== true)],
        after: [
          h("h3", {}, "Static pressure at other hours"),
          h(
            "p",
            { class: "hint" },
            "Pressure is lowest when all water: early evening in the hottest weeks. The lowest reading counts.",
          ),
          this.#statics.el,
        ],
      }),
      this.#group("A container, filled and timed", containerFields, always, { before: [aboutContainer()] }),
      this.#group("Meter and service line", serviceFields, always, { before: [cautionOnMains()] }),
      this.#group("Regulator", regulatorFields, always),
      this.#group("Pump", pumpFields, () => hasPump(this.board.plan), {
        after: [
          h(
            "p",
            { class: "hint" },
            "Its curve at the point of connection, from the maker’s sheet less the lift.",
          ),
          this.#pump.el,
        ],
      }),
      this.#group("Backflow", backflowFields, always, { after: [this.#backflow.el] }),
      this.#group("Freezing", freezeFields, always, { after: [this.#freeze] }),
      this.#group("Valves, filter and joints", deviceFields, always),
      this.#group("What the devices take", [], always, { after: [this.#curves.el] }),
      this.#group("Another flow to plan on", planFields, always, {
        before: [
          h(
            "p",
            { class: "hint" },
            "Left empty, the least of the limits counts. A flow of your own is kept with its reason and printed with it.",
          ),
        ],
      }),
    ];
    this.el.replaceChildren(...this.#groups.map((g) => g.el));
  }

  #group(
    title: string,
    fields: readonly SupplyField[],
    shown: () => boolean,
    around: { before?: readonly HTMLElement[]; after?: readonly HTMLElement[] } = {},
  ): Group {
    const made = fields.map((field): Made => {
      const control = new Control(
        field.label,
        field.as,
        field.hint?.(this.board.plan) ?? "",
        (typed) => this.take(field, typed),
        field.empty?.(this.board.plan) ?? "",
      );
      if (field.whole || field.as === "yes") control.el.classList.add("whole");
      return { field, control };
    });
    const legend = h("legend", {});
    setText(legend, title);
    const pairs = made.length > 0 ? [h("div", { class: "pairs" }, ...made.map((m) => m.control.el))] : [];
    return {
      el: h("fieldset", {}, legend, ...(around.before ?? []), ...pairs, ...(around.after ?? [])),
      made,
      shown,
    };
  }
}

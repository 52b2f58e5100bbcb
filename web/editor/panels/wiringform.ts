// The small form over the table of wire: which cable, and how thick its wires.

import { h } from "../dom";
import type { Choice } from "../fields";
import type { Wiring } from "../model";
import type { Board } from "../state";
import { byDrop, cables, wiringChosen, withWiring } from "../wiringchoice";
import { Control } from "./control";

const members: readonly { key: keyof Wiring; label: string; step: string }[] = [
  { key: "cable", label: "Cable", step: "Choose the cable" },
  { key: "hot_awg", label: "Wire to each valve", step: "Choose the wire to each valve" },
  { key: "common_awg", label: "Common wire", step: "Choose the common wire" },
];

export class WiringForm {
  readonly el: HTMLElement;
  readonly #controls: ReadonlyMap<keyof Wiring, Control>;
  #gauges: readonly Choice[] = [];

  constructor(readonly board: Board) {
    this.#controls = new Map(
      members.map(({ key, label, step }) => [
        key,
        new Control(label, "choice", "", (chosen) => this.#take(key, step, chosen)),
      ]),
    );
    const fields = Array.from(this.#controls.values(), (c) => c.el);
    this.el = h(
      "div",
      { class: "wiring-form", role: "group", "aria-label": "How valves are wired" },
      ...fields,
    );
    board.subscribe("plan", () => this.#render());
  }

  /** The sizes wire is made in, as they are called. */
  show(gauges: readonly Choice[]): void {
    this.#gauges = gauges;
    this.#render();
  }

  #render(): void {
    for (const [key, control] of this.#controls) {
      const choices = key === "cable" ? cables : [byDrop, ...this.#gauges];
      control.show({ value: wiringChosen(this.board.plan, key), mixed: false, choices });
    }
  }

  #take(key: keyof Wiring, step: string, chosen: string): string | null {
    if (this.board.shut()) {
      queueMicrotask(() => this.#render());
      return null;
    }
    const v = withWiring(this.board.plan, key, chosen);
    if (!v.ok) return v.sentence;
    void this.board.commit(step, v.value);
    return null;
  }
}

// What the colours of the map mean, in words and in percent of the mean.

import { byID, h, setAttr } from "../dom";
import type { Heat } from "../heat";
import { colourOf, type RGB, strayColour, type Theme } from "../palette";

const steps: readonly [share: number, words: string][] = [
  [0.2, "dry, under half"],
  [0.65, "thin, to 80 %"],
  [1, "on target"],
  [1.35, "ample, over 120 %"],
  [1.8, "wet, over 150 %"],
];

const css = ([r, g, b]: RGB): string => `rgb(${r}, ${g}, ${b})`;

/** The legend, with the switch of the map. */
export class Legend {
  readonly #swatches: HTMLElement[] = [];
  readonly #stray = h("span", { class: "swatch stray", "aria-hidden": "true" });

  constructor(heat: Heat, theme: Theme) {
    const button = h(
      "button",
      { type: "button", class: "small", id: "map-toggle", "aria-pressed": "true" },
      "Map",
    );
    const list = h("ul");
    for (const [, words] of steps) {
      const swatch = h("span", { class: "swatch", "aria-hidden": "true" });
      this.#swatches.push(swatch);
      list.append(h("li", {}, swatch, words));
    }
    list.append(h("li", {}, this.#stray, "off its target"));
    button.addEventListener("click", () => {
      heat.toggle();
      setAttr(button, "aria-pressed", String(heat.on));
      list.hidden = !heat.on;
      note.hidden = !heat.on;
    });
    const note = h("span", { class: "hint" }, "water, in % of the area’s mean");
    const el = byID("legend");
    el.append(h("div", { class: "legend-head" }, button, note), list);
    el.addEventListener("pointerdown", (e) => e.stopPropagation());
    this.paint(theme);
  }

  paint(theme: Theme): void {
    this.#swatches.forEach((el, i) => {
      el.style.backgroundColor = css(colourOf(steps[i]?.[0] ?? 1, theme));
    });
    const c = css(strayColour(theme));
    this.#stray.style.backgroundImage = `repeating-linear-gradient(135deg, ${c} 0 3px, transparent 3px 6px)`;
  }
}

// What the colours of the map mean, in words and in percent of the mean.

import { byID, h, setAttr, setText } from "../dom";
import type { Heat } from "../heat";
import { colourOf, type RGB, strayColour, type Theme } from "../palette";

const css = ([r, g, b]: RGB): string => `rgb(${r}, ${g}, ${b})`;

/** The legend, with the switch of the map. */
export class Legend {
  readonly #scale = h("span", { class: "scale", "aria-hidden": "true" });
  readonly #stray = h("span", { class: "swatch", "aria-hidden": "true" });

  readonly #lip = h("span", { class: "hint lip-key" });

  readonly #parts: { readonly button: HTMLElement; readonly shown: readonly HTMLElement[] };

  /** flip is asked to show or hide the map. */
  constructor(
    readonly heat: Heat,
    theme: Theme,
    flip: () => void,
  ) {
    const key = h(
      "div",
      { class: "map-key" },
      h("span", {}, "dry 0 %"),
      this.#scale,
      h("span", {}, "200 % wet"),
      h("span", { class: "hint" }, "pale: at the mean"),
      this.#lip, // the strip along edges, of which the readings say more
    );
    const stray = h("div", { class: "off-key" }, this.#stray, "off target");
    const button = h(
      "button",
      { type: "button", class: "small", id: "map-toggle", "aria-pressed": "true" },
      "Map",
    );
    button.addEventListener("click", flip);
    this.#parts = { button, shown: [key, stray] };
    const el = byID("legend");
    el.append(button, key, stray);
    this.paint(theme);
  }

  /** Follows the map's being shown or hidden. */
  follow(): void {
    setAttr(this.#parts.button, "aria-pressed", String(this.heat.on));
    for (const part of this.#parts.shown) part.hidden = !this.heat.on;
  }

  /** Says what the figures leave out of the map. */
  leavesOut(words: string): void {
    setText(this.#lip, words);
  }

  paint(theme: Theme): void {
    const stops = Array.from({ length: 21 }, (_, i) => css(colourOf(i / 10, theme)));
    this.#scale.style.backgroundImage = `linear-gradient(90deg, ${stops.join(", ")})`;
    const c = css(strayColour(theme));
    this.#stray.style.backgroundImage = `repeating-linear-gradient(135deg, ${c} 0 3px, transparent 3px 6px)`;
  }
}

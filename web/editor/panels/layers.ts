// The layers with an eye, a lock and a strength, and a chip in the status bar
// that says when something is hidden. The eye of the grid is the drawing aid.

import { byID, h, type Row, Rows, setAttr, setText } from "../dom";
import type { Drawing } from "../drawing";
import { FAINTEST, grown, grownLocked, type Layer, type LayerName, layerNamed, layers } from "../layers";
import type { Plan } from "../model";
import { count } from "../names";
import type { Board } from "../state";
import { icon } from "./icons";

/** Shows the tab of the layers and goes there. */
export function showLayers(): void {
  const tab = byID("tab-layers");
  tab.click();
  tab.focus();
}

export class LayersPanel {
  readonly #rows: Rows<Layer>;
  readonly #all = h(
    "button",
    { type: "button", class: "small", onclick: () => this.#showAll() },
    "Show all layers",
  );
  readonly #chip = h("button", { type: "button", id: "layers-chip", class: "chip-button", hidden: true });
  #plan: Plan;
  /** Locked layers that were said to have got something new. */
  readonly #told = new Set<LayerName>();

  constructor(
    readonly board: Board,
    readonly drawing: Drawing,
  ) {
    this.#plan = board.committed;
    const list = h("ul", { class: "layers" });
    this.#rows = new Rows<Layer>(
      list,
      (l) => l.name,
      (l) => this.#row(l),
    );
    byID("layers").prepend(
      h("h2", { class: "unseen" }, "Layers"),
      list,
      this.#all,
      h(
        "p",
        { class: "hint" },
        "Only how the board looks here, kept in this browser: lists, counts and every export hold the whole plan, shown or not.",
      ),
    );
    this.#chip.addEventListener("click", showLayers);
    byID("aids").after(this.#chip);
    for (const topic of ["layers", "view"] as const) board.subscribe(topic, () => this.#show());
    board.subscribe("plan", () => this.#grown());
    this.#show();
  }

  #show(): void {
    this.#rows.show(layers);
    const { hidden } = this.board.layers;
    this.#all.hidden = hidden.length === 0 && this.#all !== document.activeElement;
    this.#chip.hidden = hidden.length === 0;
    setText(this.#chip, `${count(hidden.length, "layer")} hidden`);
    const names = hidden.map((n) => layerNamed(n).title).join(", ");
    setAttr(this.#chip, "title", `Hidden: ${names}. Opens Layers.`);
    const el = this.drawing.dom.board;
    const unseen = layers.filter((l) => !this.board.layers.shows(l.name)).map((l) => l.name);
    setAttr(el, "data-hide", unseen.join(" ") || null);
    for (const { name, fades } of layers) {
      if (fades) el.style.setProperty(`--strength-${name}`, String(this.board.layers.strength(name)));
    }
  }

  #showAll(): void {
    this.board.layers.showAll();
    this.board.announce("All layers are shown.");
  }

  #shows(l: Layer): boolean {
    return l.name === "grid" ? this.drawing.aids.grid : this.board.layers.shows(l.name);
  }

  #turn(l: Layer): void {
    const on = !this.#shows(l);
    if (l.name === "grid") this.drawing.setAids({ grid: on });
    else this.board.layers.show(l.name, on);
    this.board.announce(`${l.title} ${on ? "shown" : "hidden"}.`);
  }

  #lock(l: Layer): void {
    const on = !this.board.layers.isLocked(l.name);
    this.board.layers.lock(l.name, on);
    this.board.announce(`${l.title} ${on ? "locked" : "unlocked"}.`);
  }

  #row(layer: Layer): Row<Layer> {
    const eye = toggle(`Show ${layer.title}`, "layer.eye", "layer.shut", () => this.#turn(layer));
    const lock = layer.lockable
      ? toggle(`Lock ${layer.title}`, "layer.locked", "layer.free", () => this.#lock(layer))
      : null;
    const state = h("span", { class: "layer-state" });
    const name = h(
      "span",
      { class: "layer-name" },
      h("b", {}, layer.title, " "),
      state,
      h("span", { class: "hint" }, layer.says),
    );
    const strength = layer.fades ? this.#strength(layer) : null;
    const el = h("li", { "data-layer": layer.name }, name, lock?.el, eye.el, strength?.el);
    return {
      el,
      update: (l) => {
        const shown = this.#shows(l);
        const locked = this.board.layers.isLocked(l.name);
        eye.show(shown);
        lock?.show(locked);
        strength?.show();
        setText(state, [shown ? "" : "hidden", locked ? "locked" : ""].filter(Boolean).join(", "));
      },
    };
  }

  #strength(layer: Layer) {
    const input = h("input", {
      type: "range",
      min: String(FAINTEST * 100),
      max: "100",
      step: "5",
      "aria-label": `Strength of ${layer.title}`,
    });
    const figure = h("span", { class: "hint" });
    input.addEventListener("input", () => this.board.layers.fade(layer.name, Number(input.value) / 100));
    const show = (): void => {
      const percent = `${Math.round(this.board.layers.strength(layer.name) * 100)} %`;
      input.value = percent.replace(" %", "");
      setAttr(input, "aria-valuetext", percent);
      setText(figure, percent);
    };
    return { el: h("span", { class: "layer-strength" }, "Strength ", input, figure), show };
  }

  /** What was made is seen: a hidden layer that got something new is shown again. */
  #grown(): void {
    if (this.board.drafting) return;
    const before = this.#plan;
    this.#plan = this.board.committed;
    if (before === this.#plan) return;
    this.#sayLocked(before);
    if (this.board.layers.hidden.length === 0) return;
    const again = grown(before, this.#plan, this.board.layers);
    if (again.length === 0) return;
    for (const name of again) this.board.layers.show(name, true);
    const names = again.map((n) => layerNamed(n).title).join(" and ");
    this.board.show({ kind: "hint", sentence: `${names}: shown again, since something new lies there.` });
  }

  /** What is drawn onto a locked layer stays, and cannot be moved: said once for each layer. */
  #sayLocked(before: Plan): void {
    const { layers: sight } = this.board;
    for (const name of this.#told) if (!sight.isLocked(name)) this.#told.delete(name);
    const into = grownLocked(before, this.#plan, sight).filter((n) => !this.#told.has(n));
    if (into.length === 0) return;
    for (const name of into) this.#told.add(name);
    const names = into.map((n) => layerNamed(n).title).join(" and ");
    const sentence = `${names}: locked. What you drew is there, and cannot be moved until you unlock it under Layers.`;
    this.board.show({ kind: "hint", sentence });
  }
}

/** A button that is on or off, with a drawing for each. */
function toggle(label: string, on: string, off: string, run: () => void) {
  const el = h("button", { type: "button", class: "sign", "aria-label": label, onclick: run });
  let now: boolean | null = null;
  const show = (pressed: boolean): void => {
    if (pressed === now) return;
    now = pressed;
    setAttr(el, "aria-pressed", String(pressed));
    setAttr(el, "title", label);
    const sign = icon(pressed ? on : off);
    if (sign) el.replaceChildren(sign);
  };
  return { el, show };
}

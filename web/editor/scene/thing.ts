// What every drawn thing of the scene has in common: its ref, its name for
// screen readers, whether it is selected, and whether Tab stops at it.

import type { Design } from "../design";
import type { Plan, Ref } from "../model";
import { attr } from "./svg";

/** What the scene is drawn from. */
export interface Shown {
  readonly plan: Plan;
  readonly design: Design | null;
  readonly selection: ReadonlySet<Ref>;
  readonly hover: Ref | null;
  /** The one thing that can be reached by Tab. */
  readonly stop: Ref | null;
}

/** Brings the common attributes up to date; the name is only made again when something changed. */
export function thing(el: SVGGElement, r: Ref, shown: Shown, name: () => string, changed: boolean): void {
  const selected = shown.selection.has(r);
  if (changed || !el.dataset.ref) {
    el.dataset.ref = r;
    attr(el, { "aria-label": name() });
    el.classList.add("thing");
  }
  attr(el, { "aria-pressed": selected ? "true" : "false", tabindex: shown.stop === r ? 0 : -1 });
  el.classList.toggle("selected", selected);
  el.classList.toggle("hovered", shown.hover === r);
}

// What every drawn thing of the scene has in common: its ref, its name for
// screen readers, whether it is selected, and whether Tab stops at it.

import type { Design } from "../design";
import type { Plan, Ref } from "../model";
import { statusOf } from "../statuses";
import { attr, s } from "./svg";

/** What the scene is drawn from. */
export interface Shown {
  readonly plan: Plan;
  readonly design: Design | null;
  readonly selection: ReadonlySet<Ref>;
  readonly hover: Ref | null;
  /** The one thing that can be reached by Tab. */
  readonly stop: Ref | null;
}

/** A cross over the mark of what is to be removed; heads and areas have their own sign. */
function cross(el: SVGGElement, on: boolean): void {
  const known = el.querySelector(".cross-out");
  if (!on) known?.remove();
  else if (!known) {
    el.querySelector(".fixed")?.append(s("path", { class: "cross-out", d: "M-9 -9L9 9M9 -9L-9 9" }));
  }
}

/** Brings the common attributes up to date; the name is only made again when something changed. */
export function thing(el: SVGGElement, r: Ref, shown: Shown, name: () => string, changed: boolean): void {
  const selected = shown.selection.has(r);
  if (changed || !el.dataset.ref) {
    el.dataset.ref = r;
    attr(el, { "aria-label": name() });
    el.dataset.status = statusOf(shown.plan, r) ?? "new";
    cross(el, el.dataset.status === "remove");
    el.classList.add("thing");
  }
  attr(el, { "aria-pressed": selected ? "true" : "false", tabindex: shown.stop === r ? 0 : -1 });
  el.classList.toggle("selected", selected);
  el.classList.toggle("hovered", shown.hover === r);
}

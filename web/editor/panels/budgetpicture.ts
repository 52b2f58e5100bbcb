// The pressure from the street to a zone's worst head along the way of the pipe.
// Every figure is the server's; here they are only put in their places.

import type { BudgetStep, ZonePressure } from "../design";
import { h } from "../dom";
import { s } from "../scene/svg";

const wide = 336;
const high = 170;
const frame = { left: 46, right: 14, top: 14, bottom: 26 };

/** Where the steps stand: along the way from left to right, pressure upward. Pixels, y down. */
export function placed(
  steps: readonly BudgetStep[],
  need: number,
): { points: [number, number][]; needY: number | null; floor: number } {
  const far = Math.max(...steps.map((s) => s.along_ft), 1);
  const most = Math.max(...steps.map((s) => s.left_psi), need, 1);
  const floor = high - frame.bottom;
  const x = (ft: number): number => frame.left + (ft / far) * (wide - frame.left - frame.right);
  const y = (psi: number): number => floor - (Math.max(psi, 0) / most) * (floor - frame.top);
  return {
    points: steps.map((s) => [x(s.along_ft), y(s.left_psi)]),
    needY: need > 0 ? y(need) : null,
    floor,
  };
}

export class BudgetPicture {
  readonly #svg = s("svg", {
    class: "budget-picture",
    viewBox: `0 0 ${wide} ${high}`,
    width: wide,
    height: high,
    role: "img",
  });
  readonly el = h("div", {
    class: "scroll",
    tabindex: 0,
    role: "group",
    "aria-label": "Pressure along the way",
  });
  #told = "";

  constructor() {
    this.el.append(this.#svg);
  }

  show(z: ZonePressure): void {
    this.el.hidden = z.budget.length < 2;
    const now = JSON.stringify([z.budget.map((b) => [b.along_ft, b.left_psi, b.left, b.along]), z.need]);
    if (this.el.hidden || now === this.#told) return;
    this.#told = now;
    this.#draw(z);
  }

  #draw(z: ZonePressure): void {
    const steps = z.budget;
    const { points, needY, floor } = placed(steps, z.need_psi ?? 0);
    const [first, last] = [steps[0] as BudgetStep, steps.at(-1) as BudgetStep];
    const [a, b] = [points[0] as [number, number], points.at(-1) as [number, number]];
    const words = `Pressure along the way: ${first.left} at the street, ${last.left} at ${z.worst_name ?? "the worst head"}, ${last.along} on.`;
    const line = points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L");
    const need =
      needY === null
        ? []
        : [
            s("path", { class: "budget-need", d: `M${frame.left} ${needY}H${wide - frame.right}` }),
            s("text", { x: frame.left + 4, y: needY + 13 }, `the nozzle’s table begins at ${z.need ?? ""}`),
          ];
    this.#svg.replaceChildren(
      s("title", {}, words),
      s("path", { class: "budget-axes", d: `M${frame.left} ${frame.top}V${floor}H${wide - frame.right}` }),
      s("path", { class: "budget-area", d: `M${a[0]} ${floor}L${line}L${b[0]} ${floor}Z` }),
      ...need,
      s("path", { class: "budget-line", d: `M${line}` }),
      ...points.map(([cx, cy], i) =>
        s(
          "circle",
          { class: "budget-dot", cx, cy, r: 3 },
          s("title", {}, `${steps[i]?.name}: ${steps[i]?.left} left`),
        ),
      ),
      s("text", { x: frame.left - 6, y: a[1] + 4, "text-anchor": "end" }, first.left),
      s("text", { x: b[0], y: b[1] - 8, "text-anchor": "end", class: "budget-end" }, last.left),
      s("text", { x: frame.left, y: high - 8 }, "street"),
      s(
        "text",
        { x: b[0], y: high - 8, "text-anchor": "end" },
        `${z.worst_name ?? "head"}, ${last.along} on`,
      ),
    );
  }
}

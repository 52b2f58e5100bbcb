// The water in the pipes: by colour and width the velocity in them or the
// pressure left in them, with arrows the way it goes and the figure along it.

import type { Design } from "../design";
import { type Row, Rows, setText } from "../dom";
import { distance, type Point } from "../geometry";
import { ids, type Pipe, type Plan } from "../model";
import { figureOf, type PipesBy, runOf, stepOf } from "../pipelook";
import { place } from "../shape";
import { pipeLine } from "../things";
import { attr, outlinePath, s, translate } from "./svg";

/** How the pipes are to be shown. */
export interface FlowLook {
  readonly by: PipesBy;
  /** The zone the main is told for; "" for the thirstiest. */
  readonly zone: string;
}

interface Item {
  readonly id: string;
  readonly line: ReturnType<typeof pipeLine>;
  readonly step: number;
  readonly forward: boolean;
  readonly fast: boolean;
  readonly figure: string;
  readonly by: PipesBy;
  readonly scale: number;
}

/** A stretch shorter than this on the screen, in pixels, carries no arrow and no figure. */
const ARROW_PX = 26;
const FIGURE_PX = 62;

const arrow = "M-4.5 -4.5L4.5 0L-4.5 4.5Z";

export class Flows {
  readonly el = s("g", { class: "flows", "aria-hidden": "true" }); // the table and the names say it too
  readonly #rows = new Rows<Item>(this.el, (i) => i.id, flowRow);

  show(plan: Plan, design: Design | null, look: FlowLook, scale: number): void {
    attr(this.el, { "data-by": look.by });
    this.#rows.show(look.by === "plain" || !design ? [] : itemsOf(plan, design, look, scale));
  }
}

function itemsOf(plan: Plan, design: Design, look: FlowLook, scale: number): Item[] {
  return ids(plan, "pipes").flatMap((id): Item[] => {
    const run = runOf(design.pipes?.[id], look.zone);
    const line = pipeLine(plan, (plan.pipes as Record<string, Pipe>)[id] as Pipe);
    if (!run || line.length < 2) return [];
    const { forward, rank } = run;
    return [
      {
        id,
        line,
        step: stepOf(run, look.by),
        forward,
        fast: rank === "mend",
        figure: figureOf(run, look.by),
        by: look.by,
        scale,
      },
    ];
  });
}

function flowRow(): Row<Item> {
  const casing = s("path", { class: "flow-casing" });
  const line = s("path", { class: "flow-line" });
  const head = s("path", { class: "flow-arrow", d: arrow });
  const arrowAt = s("g", {}, s("g", { class: "fixed" }, head));
  const text = s("text", { class: "flow-figure", "text-anchor": "middle" });
  const textAt = s("g", {}, s("g", { class: "fixed" }, text));
  const el = s("g", { class: "flow" }, casing, line, arrowAt, textAt);
  let told = "";
  return {
    el,
    update(i) {
      const d = outlinePath(i.line, false);
      const now = `${d} ${i.step} ${i.forward} ${i.fast} ${i.figure} ${i.by} ${i.scale}`;
      if (now === told) return;
      told = now;
      attr(casing, { d });
      attr(line, { d });
      attr(el, { "data-step": String(i.step + 1) });
      el.classList.toggle("too-fast", i.fast && i.by === "velocity");
      const { from, to } = longest(i.line.map(place));
      const px = distance(from, to) * i.scale;
      const [a, b] = i.forward ? [from, to] : [to, from];
      const deg = (-Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI; // the screen's y goes down
      const figured = px >= FIGURE_PX;
      const along: Point = figured ? between(a, b, 0.75) : between(a, b, 0.5);
      attr(arrowAt, { transform: translate(along) });
      attr(head, { transform: `rotate(${Math.round(deg)})` });
      arrowAt.style.display = px >= ARROW_PX ? "" : "none";
      attr(textAt, { transform: translate(between(a, b, figured ? 0.4 : 0.5)) });
      textAt.style.display = figured ? "" : "none";
      attr(text, besides(deg));
      setText(text, i.fast && i.by === "velocity" ? `${i.figure} too fast` : i.figure);
    },
  };
}

const between = (a: Point, b: Point, t: number): Point => [
  a[0] + (b[0] - a[0]) * t,
  a[1] + (b[1] - a[1]) * t,
];

/** Writing goes along the pipe where that can be read, below it: its size stands above. */
function besides(deg: number): { transform: string; y: string } {
  const turn = deg > 90 ? deg - 180 : deg < -90 ? deg + 180 : deg;
  return { transform: `rotate(${Math.round(turn)})`, y: "15" };
}

/** The longest stretch of a way; arcs count as their chords. */
export function longest(way: readonly Point[]): { from: Point; to: Point } {
  let best = { from: way[0] as Point, to: way[1] as Point };
  for (let i = 1; i + 1 < way.length; i++) {
    const next = { from: way[i] as Point, to: way[i + 1] as Point };
    if (distance(next.from, next.to) > distance(best.from, best.to)) best = next;
  }
  return best;
}

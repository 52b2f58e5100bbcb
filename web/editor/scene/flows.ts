// The water in the pipes: by colour and width the velocity in them or the
// pressure left in them, with arrows the way it goes and the figure along it, where
// pipewords.ts finds room.

import type { Design } from "../design";
import { type Row, Rows, setText } from "../dom";
import { distance } from "../geometry";
import { ids, type Pipe, type Plan } from "../model";
import { figureOf, type PipesBy, runOf, stepOf } from "../pipelook";
import { place } from "../shape";
import { pipeLine } from "../things";
import { at, type Beside, type Figure, fitsAlong, longestOf, turnOf } from "./pipewords";
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
  /** Where its figure is written; undefined where there is no room. */
  readonly beside?: Beside;
}

/** A stretch shorter than this on the screen, in pixels, carries no arrow. */
const ARROW_PX = 26;
/** On a longer one the arrow stands off the middle, towards where the water goes. */
const LONG_PX = 62;

const arrow = "M-4.5 -4.5L4.5 0L-4.5 4.5Z";

export class Flows {
  readonly el = s("g", { class: "flows", "aria-hidden": "true" }); // the table and the names say it too
  readonly #rows = new Rows<Item>(this.el, (i) => i.id, flowRow);
  #items: readonly Item[] = [];
  #beside: ReadonlyMap<string, Beside> = new Map();

  show(plan: Plan, design: Design | null, look: FlowLook, scale: number): void {
    attr(this.el, { "data-by": look.by });
    this.#items = look.by === "plain" || !design ? [] : itemsOf(plan, design, look, scale);
    this.#draw();
  }

  /** What is to be written along the pipes, by pipe. */
  figures(): ReadonlyMap<string, Figure> {
    return new Map(this.#items.map((i) => [i.id, { text: written(i), urgent: i.fast }]));
  }

  /** Writes the figures where there is room for them. */
  place(beside: ReadonlyMap<string, Beside>): void {
    this.#beside = beside;
    this.#draw();
  }

  #draw(): void {
    this.#rows.show(this.#items.map((i) => ({ ...i, beside: this.#beside.get(i.id) })));
  }
}

/** The words stand behind the figure where the pipe is long enough: its dashes say the same. */
function written(i: Item): string {
  const words = `${i.figure} too fast`;
  const stretch = longestOf(i.line.map(place));
  const whole = i.fast && i.by === "velocity" && stretch && fitsAlong(words, stretch, i.scale);
  return whole ? words : i.figure;
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
      const now = `${d} ${i.step} ${i.forward} ${i.fast} ${i.figure} ${i.by} ${i.scale} ${i.beside?.along} ${i.beside?.far}`;
      if (now === told) return;
      told = now;
      attr(casing, { d });
      attr(line, { d });
      attr(el, { "data-step": String(i.step + 1) });
      el.classList.toggle("too-fast", i.fast && i.by === "velocity");
      const stretch = longestOf(i.line.map(place));
      if (!stretch) return;
      const [a, b] = i.forward ? stretch : ([stretch[1], stretch[0]] as const);
      const px = distance(a, b) * i.scale;
      attr(arrowAt, { transform: translate(at([a, b], px >= LONG_PX ? 0.75 : 0.5)) });
      const deg = (-Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI; // the screen's y goes down
      attr(head, { transform: `rotate(${Math.round(deg)})` });
      arrowAt.style.display = px >= ARROW_PX ? "" : "none";
      setText(text, i.beside ? written(i) : "");
      if (!i.beside) return;
      attr(textAt, { transform: translate(at(stretch, i.beside.along)) });
      attr(text, { transform: `rotate(${Math.round(turnOf(stretch))})`, y: i.beside.far ? -7 : 15 });
    },
  };
}

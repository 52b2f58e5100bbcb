// What is dug, under the pipes: a band for each stretch, broad with the main in it
// and narrow with wire alone, rungs across it that tell the ground; crossings of
// paving between two bars, boxes as frames. The table of trenches says it all in words.

import type { XY } from "../design";
import { between, type Crossing, type Digs, type DugBox, type Stretch } from "../digs";
import { type Row, Rows, setText } from "../dom";
import { attr, s, translate } from "./svg";

/** How a stretch looks: what is in it, and the ground. */
interface Look {
  readonly broad: "main" | "pipe" | "wire";
  readonly ground: string;
  readonly dug: boolean;
  readonly d: string;
}

export class Trenches {
  readonly el = s("g", { class: "trenches", "aria-hidden": "true" });
  readonly #bands: Rows<Look>;
  readonly #crossings: Rows<Crossing>;
  readonly #boxes: Rows<DugBox>;
  #shown: Digs | null = null;

  constructor() {
    const [bands, crossings, boxes] = [s("g"), s("g"), s("g")];
    this.el.append(bands, crossings, boxes);
    this.#bands = new Rows<Look>(bands, (l) => `${l.broad} ${l.ground} ${l.dug}`, bandRow);
    this.#crossings = new Rows<Crossing>(crossings, (_, i) => String(i), crossingRow);
    this.#boxes = new Rows<DugBox>(boxes, (_, i) => String(i), boxRow);
  }

  show(digs: Digs | null): void {
    if (digs === this.#shown) return;
    this.#shown = digs;
    this.#bands.show(digs ? looksOf(Object.values(digs.stretches)) : []);
    this.#crossings.show(digs?.crossings ?? []);
    this.#boxes.show(digs?.boxes ?? []);
  }
}

const broadOf = (t: Stretch): Look["broad"] =>
  t.main ? "main" : t.about.some((r) => r.startsWith("pipes/")) ? "pipe" : "wire";

/** One path for all stretches of a look: a yard has hundreds of stretches. */
export function looksOf(all: readonly Stretch[]): Look[] {
  const out = new Map<string, Look>();
  for (const t of all) {
    const look = { broad: broadOf(t), ground: t.ground, dug: t.dug };
    const key = `${look.broad} ${look.ground} ${look.dug}`;
    const [[ax, ay], [bx, by]] = t.line;
    out.set(key, { ...look, d: `${out.get(key)?.d ?? ""}M${ax} ${ay}L${bx} ${by}` });
  }
  return [...out.values()];
}

function bandRow({ broad, ground, dug }: Look): Row<Look> {
  const [band, rungs] = [s("path", { class: "trench-band" }), s("path", { class: "trench-rungs" })];
  const el = s("g", { class: `trench ${broad}${dug ? " dug" : ""}` }, rungs, band);
  el.dataset.ground = ground;
  return {
    el,
    update({ d }) {
      for (const path of [band, rungs]) attr(path, { d });
    },
  };
}

/** Bars across the ends of a crossing, in pixels, turned with it. */
const BAR = "M0 -11V11";

function crossingRow(): Row<Crossing> {
  const line = s("path", { class: "crossing-line" });
  const bars = [0, 1].map(() => s("path", { class: "crossing-bar", d: BAR }));
  const ends = bars.map((bar) => s("g", {}, s("g", { class: "fixed" }, bar)));
  const text = s("text", { class: "wiring-text", y: -14 });
  const at = s("g", {}, s("g", { class: "fixed" }, text));
  const el = s("g", { class: "crossing" }, line, ...ends, at);
  return {
    el,
    update(c) {
      const [a, b] = c.ends;
      attr(line, { d: `M${a[0]} ${a[1]}L${b[0]} ${b[1]}` });
      const turn = (-180 / Math.PI) * Math.atan2(b[1] - a[1], b[0] - a[0]);
      for (const [i, end] of [a, b].entries()) {
        attr(ends[i] as SVGGElement, { transform: translate(end as XY) });
        attr(bars[i] as SVGPathElement, { transform: `rotate(${turn})` });
      }
      attr(at, { transform: translate(between(c.ends)) });
      setText(text, c.longest ? `longest bore ${c.length}` : c.new ? `bore ${c.length}` : "");
      el.classList.toggle("longest", c.longest);
      el.classList.toggle(
        "lacks",
        c.needs.some((n) => n.sleeve === ""),
      );
    },
  };
}

function boxRow(): Row<DugBox> {
  const mark = s("path", { class: "dug-box", d: BOX_MARK });
  const el = s("g", {}, s("g", { class: "fixed" }, mark));
  return { el, update: (b) => attr(el, { transform: translate(b.at), class: b.new ? null : "standing" }) };
}

/** The frame of a box, in pixels. */
export const BOX_MARK = "M-15 -11H15V11H-15ZM-15 -7H15";

// Pipes and their joints. A main is a thick line set with beads, a lateral a thin
// plain one: told apart without colour. A pipe's size stands at its longest stretch,
// where pipewords.ts finds room.

import { type Row, Rows, setText } from "../dom";
import { find, ids, type Pipe, type PipeNode, type Plan, parts, type Ref, ref } from "../model";
import { standsApart } from "../pipenet";
import { place } from "../shape";
import { ringsOf } from "../things";
import { zonesInOrder } from "../zoning";
import { ZONE_COLOURS } from "./marks";
import { at as along, type Beside, isSteep, longestOf, sizeText } from "./pipewords";
import { speechOf } from "./speech";
import { attr, outlinePath, s, translate } from "./svg";
import { type Shown, thing } from "./thing";

/** The marks of joints by kind, in pixels. */
export const jointMarks: Readonly<Record<string, string>> = {
  joint: "M3.5 0A3.5 3.5 0 1 1 -3.5 0A3.5 3.5 0 1 1 3.5 0Z",
  drain: "M-5 -4H5L0 6Z",
  valve: "M-6 -4L6 4V-4L-6 4Z",
};

/** What of the plan is drawn here. */
export const pipeKeys = ["pipes", "nodes", "heads", "zones", "supply"] as const;

interface Item {
  readonly r: Ref;
  readonly shown: Shown;
  /** 1 to the number of colours; 0 for the main. */
  readonly colour: number;
  /** Where its size is written; undefined where there is no room. */
  readonly size?: Beside;
}

export class Pipes {
  readonly el = s("g", { class: "pipes" });
  readonly #pipes: Rows<Item>;
  readonly #joints: Rows<Item>;
  #sizes: ReadonlyMap<string, Beside> = new Map();

  constructor() {
    const [lines, joints] = [s("g"), s("g")];
    this.el.append(lines, joints);
    this.#pipes = new Rows<Item>(lines, (i) => i.r, pipeRow);
    this.#joints = new Rows<Item>(joints, (i) => i.r, jointRow);
  }

  /** Writes the sizes where there is room for them. */
  place(sizes: ReadonlyMap<string, Beside>, shown: Shown): void {
    this.#sizes = sizes;
    this.show(shown);
  }

  show(shown: Shown): void {
    const { plan } = shown;
    const colours = coloursOf(plan);
    const pipes = ids(plan, "pipes").map((id): Item => {
      const zone = find(plan, "pipes", id)?.zone ?? "";
      return { r: ref("pipes", id), shown, colour: colours.get(zone) ?? 0, size: this.#sizes.get(id) };
    });
    const joints = ids(plan, "nodes").filter((id) => standsApart(plan, id));
    this.#pipes.show(pipes);
    this.#joints.show(joints.map((id) => ({ r: ref("nodes", id), shown, colour: 0 })));
  }
}

function coloursOf(p: Plan): ReadonlyMap<string, number> {
  const out = new Map<string, number>();
  for (const [i, zone] of zonesInOrder(p).entries()) out.set(zone, (i % ZONE_COLOURS) + 1);
  return out;
}

function pipeRow({ r }: Item): Row<Item> {
  const back = s("path", { class: "grasp" });
  const line = s("path", { class: "pipe-line" });
  const beads = s("path", { class: "pipe-beads" });
  const text = s("text", { class: "pipe-size", "aria-hidden": "true", y: -5 });
  const at = s("g", {}, s("g", { class: "fixed" }, text));
  const el = s("g", { role: "button", tabindex: -1, class: "pipe" }, back, line, beads, at);
  let before: readonly unknown[] = [];
  let state = "";
  return {
    el,
    update({ shown, colour, size }) {
      const q = find(shown.plan, "pipes", parts(r)[1]);
      const from = [...madeFrom(shown.plan, q), size];
      const changed = from.some((x, i) => x !== before[i]) || before.length === 0;
      const now = `${shown.selection.has(r)} ${shown.hover === r} ${shown.stop === r} ${colour}`;
      if (!changed && now === state) return;
      [before, state] = [from, now];
      thing(el, r, shown, () => speechOf(shown.plan, r, shown.design), changed);
      el.dataset.zone = colour > 0 ? String(colour) : "";
      if (!changed || !q) return;
      const corners = ringsOf(shown.plan, r)[0] ?? [];
      const d = outlinePath(corners, false);
      for (const path of [back, line, beads]) attr(path, { d });
      el.classList.toggle("main", !q.zone);
      el.classList.toggle("locked", q.locked ?? false);
      const longest = longestOf(corners.map(place));
      setText(text, size && longest ? sizeText(q, shown.plan.show) : "");
      if (!size || !longest) return;
      attr(at, { transform: translate(along(longest, size.along)) });
      const steep = isSteep(longest);
      attr(text, steep ? { x: size.far ? -7 : 7, y: 4 } : { x: 0, y: size.far ? 14 : -6 });
      text.classList.toggle("steep", steep);
      text.classList.toggle("far", size.far);
    },
  };
}

/** What the looks and the name of a pipe are made from: thousands are asked with every move of a drag. */
function madeFrom(p: Plan, q: Pipe | undefined): readonly unknown[] {
  const [a, b] = [p.nodes?.[q?.from ?? ""], p.nodes?.[q?.to ?? ""]];
  const head = (n: PipeNode | undefined): unknown => p.heads?.[n?.head ?? ""]?.tag;
  return [q, a, b, head(a), head(b), p.zones, p.pipe_classes, p.show];
}

function jointRow({ r }: Item): Row<Item> {
  const mark = s("path", { class: "joint-mark" });
  const el = s("g", { role: "button", tabindex: -1, class: "joint" }, s("g", { class: "fixed" }, mark));
  let before: PipeNode | undefined;
  let pipes: Plan["pipes"];
  return {
    el,
    update({ shown }) {
      const n = find(shown.plan, "nodes", parts(r)[1]);
      const changed = before !== n || pipes !== shown.plan.pipes;
      thing(el, r, shown, () => speechOf(shown.plan, r, shown.design), changed);
      if (!changed || !n) return;
      [before, pipes] = [n, shown.plan.pipes];
      attr(el, { transform: translate([n.x_ft, n.y_ft]) });
      attr(mark, { d: jointMarks[n.kind] ?? jointMarks.joint });
      el.classList.toggle("locked", n.locked ?? false);
    },
  };
}

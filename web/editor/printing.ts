// What the page does before it goes to paper and after: the whole plan is drawn
// to the width of a sheet, in the colours for light, with nothing selected, with
// tags, scale bar and north, and a head says what plan it is. Under the picture
// comes the table of heads. How the rest is laid out on paper is in css/print.css.

import { byID, h, setText } from "./dom";
import type { Drawing } from "./drawing";
import { layerNamed } from "./layers";
import { count } from "./names";
import { headTable } from "./panels/paperheads";
import { drawBar, drawNorth, drawOrigin } from "./paperscale";
import { drawTags, placeTags } from "./scene/papertags";
import type { Board } from "./state";
import { fit } from "./view";

/** The picture on paper, in CSS pixels: what Letter and A4 both hold between 12 mm margins. */
const WIDTH = 680;
const LEAST_HEIGHT = 320;
const MOST_HEIGHT = 620;

const day = new Intl.DateTimeFormat("en-GB", { dateStyle: "long" });

/** The height of the picture for a plan of this shape. */
export function paperHeight(width: number, height: number): number {
  const wanted = width > 0 ? (WIDTH * height) / width : WIDTH;
  return Math.round(Math.min(MOST_HEIGHT, Math.max(LEAST_HEIGHT, wanted)));
}

/** Makes the page ready for paper whenever it is printed, however that was asked for. */
export function followPrinting(board: Board, drawing: Drawing, now: () => Date = () => new Date()): void {
  const name = h("h1");
  const says = h("p");
  const under = h("div", { class: "paper-under" });
  const heads = h("section", { class: "paper-heads" });
  document.body.prepend(h("div", { class: "paper-head" }, name, says));
  byID("board").after(under);
  byID("legend").after(heads);
  let back: (() => void)[] = [];
  window.addEventListener("beforeprint", () => {
    for (const undo of back.splice(0)) undo();
    setText(name, board.plan.name);
    setText(says, sayings(board, now()).join(" "));
    back = [
      onPaper(drawing),
      withTags(board, drawing, under, heads),
      opened("#findings details, #legend details, .parts-zone, .parts-what"),
    ];
  });
  window.addEventListener("afterprint", () => {
    for (const undo of back.splice(0)) undo();
  });
}

/** What the head of the paper says under the name. */
export function sayings(board: Pick<Board, "layers"> & Partial<Pick<Board, "design">>, now: Date): string[] {
  const hidden = board.layers.hidden.map((n) => layerNamed(n).title);
  const supply = board.design?.supply?.print;
  return [
    `Printed ${day.format(now)} from Evenfall.`,
    ...(supply ? [supply] : []),
    "Not to scale: measure from the table of heads, not from the paper.",
    ...(hidden.length > 0 ? [`Hidden in the picture: ${hidden.join(", ")}.`] : []),
  ];
}

function onPaper(drawing: Drawing): () => void {
  const b = drawing.content();
  const height = b ? paperHeight(b.maxX - b.minX, b.maxY - b.minY) : LEAST_HEIGHT;
  const { style } = drawing.dom.board;
  style.setProperty("--paper-width", `${WIDTH}px`);
  style.setProperty("--paper-height", `${height}px`);
  const size = { ...drawing.view, width: WIDTH, height };
  const undo = drawing.drawForPaper(b ? fit(size, b) : size);
  return () => {
    style.removeProperty("--paper-width");
    style.removeProperty("--paper-height");
    undo();
  };
}

/** Tags and 0, 0 in the picture, bar and north under it, and the table of heads. */
function withTags(board: Board, drawing: Drawing, under: HTMLElement, heads: HTMLElement): () => void {
  const { view } = drawing;
  const plan = drawing.shownPlan;
  const { placed, left } = placeTags(plan, view.scale);
  const origin = drawOrigin(view);
  const drawn = [drawTags(placed, view), ...(origin ? [origin] : [])];
  drawing.dom.svg.append(...drawn);
  const without = left > 0 ? `${count(left, "tag")} found no room in the picture; the table has all.` : "";
  under.append(drawBar(view, plan.show), drawNorth(plan.site?.north_deg), h("p", {}, without));
  heads.append(...headTable(plan, board.design, origin !== null));
  return () => {
    for (const el of drawn) el.remove();
    under.replaceChildren();
    heads.replaceChildren();
  };
}

/** Opens what is folded away; the returned function folds it again. */
function opened(selector: string): () => void {
  const shut = [...document.querySelectorAll<HTMLDetailsElement>(selector)].filter((d) => !d.open);
  for (const d of shut) {
    d.open = true;
    d.dispatchEvent(new Event("toggle")); // the browser's own comes too late for the paper
  }
  return () => {
    for (const d of shut) d.open = false;
  };
}

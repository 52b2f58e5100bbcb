// What the page does before it goes to paper and after: the whole plan is drawn
// to the width of a sheet, in the colours for light, with nothing selected, and
// a head says what plan it is and that it is not to scale. How the rest of the
// page is laid out on paper is in css/print.css.

import { h, setText } from "./dom";
import type { Drawing } from "./drawing";
import { layerNamed } from "./layers";
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
  document.body.prepend(h("div", { class: "paper-head" }, name, says));
  let back: (() => void)[] = [];
  window.addEventListener("beforeprint", () => {
    for (const undo of back.splice(0)) undo();
    setText(name, board.plan.name);
    setText(says, sayings(board, now()).join(" "));
    back = [onPaper(drawing), opened("#findings details, #legend details")];
  });
  window.addEventListener("afterprint", () => {
    for (const undo of back.splice(0)) undo();
  });
}

/** What the head of the paper says under the name. */
export function sayings(board: Pick<Board, "layers">, now: Date): string[] {
  const hidden = board.layers.hidden.map((n) => layerNamed(n).title);
  return [
    `Printed ${day.format(now)} from Evenfall.`,
    "Not to scale: take no measure from this picture; the figures beside it hold.",
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

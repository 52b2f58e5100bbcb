// A page of the field book typed in one go: a table of stations along a line, or
// a run of sides and turns.

import { ask, h } from "../dom";
import type { Drawing } from "../drawing";
import { parseRun, parseStations } from "../fieldbook";
import type { Board } from "../state";
import { Control } from "./control";
import { cancel } from "./findings";

/** Asks for a page until it can be read, and gives it to By tape. */
export async function askFieldBook(board: Board, drawing: Drawing): Promise<void> {
  const run = drawing.kit.tapeWay === "sides";
  const [first] = drawing.tool.fields(drawing.around);
  if (first !== "along" && first !== "run") {
    const what = run ? "Set where the run starts" : "Choose the line the stations are on";
    board.show({ kind: "hint", sentence: `${what}, then open the field book.` });
    return;
  }
  const show = board.plan.show;
  const read = (t: string) => (run ? parseRun(t, show) : parseStations(t, show));
  const metric = show === "metric";
  const hint = run
    ? `sides and turns: ${metric ? "7.2, L, 3.2, R, 2.4" : `24', left, 10' 6", right, 8'`}; “close” at the end comes back to the start`
    : `one station to a line: along, off and its side: ${metric ? "3.8, 0.9 L" : `12' 6", 3' L`}`;
  const page = new Control(run ? "Sides and turns" : "Stations", "long", hint, () => null);
  const form = h("form", { method: "dialog", class: "form", novalidate: true });
  form.append(
    h("h2", { id: "book-title" }, "Field book"),
    page.el,
    h("p", { class: "acts" }, h("button", { value: "done", class: "main" }, "Find the places"), cancel()),
  );
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") === "") return;
    const v = read(page.text);
    page.complain(v.ok ? null : v.sentence);
    if (v.ok) return;
    e.preventDefault();
    page.input.focus();
  });
  const answer = await ask(h("dialog", { "aria-labelledby": "book-title" }, form));
  const v = read(page.text);
  if (answer === "done" && v.ok) drawing.tell({ type: "book", rows: v.value });
  drawing.focus();
}

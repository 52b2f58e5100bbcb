// What a plan without a shape shows: three ways to begin. And the note the
// demo opens with.

import { byID, h } from "../dom";
import { ids } from "../model";
import type { Board } from "../state";

/** Shows the three ways to begin until there is a first shape. */
export function showEmpty(board: Board, draw: () => void): void {
  const el = byID("empty");
  const block = h(
    "section",
    { "aria-labelledby": "empty-title", class: "empty-card" },
    h("h2", { id: "empty-title" }, "An empty plan"),
    h("p", {}, "Begin with the ground: the lawn, the house, the paving."),
    h(
      "div",
      { class: "acts" },
      h("button", { type: "button", class: "main", id: "empty-draw", onclick: draw }, "Draw the lot"),
      h("a", { class: "button", href: "/#import-outlines" }, "Bring in outlines"),
      h("a", { class: "button", href: "/#plans" }, "Open the demo"),
    ),
  );
  block.addEventListener("pointerdown", (e) => e.stopPropagation());
  const show = (): void => {
    const p = board.plan;
    const bare = (["areas", "heads", "barriers", "trees"] as const).every((c) => ids(p, c).length === 0);
    const drawing = board.tool !== "select" && board.tool !== "tool.select";
    const want = bare && !drawing;
    if (want === !el.hidden) return;
    el.hidden = !want;
    if (want) el.replaceChildren(block);
    else el.replaceChildren();
  };
  board.subscribe("plan", show);
  board.subscribe("tool", show);
  show();
}

const seen = (id: string): string => `evenfall-demo-note ${id}`;

/** What the demo says when it opens, until it is dismissed. */
export function showDemoNote(board: Board): void {
  if (document.body.dataset.demo === undefined || localStorage.getItem(seen(board.id))) return;
  const note = h("aside", { class: "note", "aria-label": "About the demo" });
  const close = (): void => {
    localStorage.setItem(seen(board.id), "yes");
    note.remove();
  };
  const go = (id: string): void => {
    board.select([`heads/${id}`]);
    board.lookAt({ about: [`heads/${id}`] });
  };
  const tagged = (tag: string): string | undefined =>
    ids(board.plan, "heads").find((id) => board.plan.heads?.[id]?.tag === tag);
  const show = (tag: string): HTMLElement =>
    h(
      "button",
      { type: "button", class: "small", onclick: () => ((id) => id && go(id))(tagged(tag)) },
      `Show ${tag}`,
    );
  note.append(
    h("h2", {}, "Two honest mistakes"),
    h(
      "p",
      {},
      "Head 2-8 stands at 56, 24: the tape was read from the wrong corner. Drag it 12 ft west, back to 44, 24, and watch the dry patch close. The finding, which goes by the heads beside it, says about 14 ft; anywhere from 11 to 14 ft closes it. ",
      show("2-8"),
    ),
    h(
      "p",
      {},
      "Heads 2-3 and 2-4 are sprays left over from another job, on a valve of streams. Give both a stream nozzle under Selected. ",
      show("2-3"),
    ),
    h("p", { class: "acts" }, h("button", { type: "button", onclick: close }, "Understood")),
  );
  byID("findings").prepend(note);
}

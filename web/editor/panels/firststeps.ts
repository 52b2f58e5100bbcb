// The first steps of a new plan, above the findings until they are done or put
// away on that plan; a reload brings back what is not done.

import { atMostEvery, byID, h, type Row, Rows, setAttr, setText } from "../dom";
import type { Drawing } from "../drawing";
import { type FirstStep, firstSteps, howFar, type Kept, opensWith } from "../firststeps";
import type { Board } from "../state";

const keptAt = (plan: string): string => `evenfall-first-steps ${plan}`;

/**
 * Shows the steps on a plan that was begun empty, and brings them back from the
 * Plan menu. Closed to one line once the first is done, or findings stand below
 * them. Tell the returned function that a table was opened.
 */
export function showFirstSteps(board: Board, drawing: Drawing, supply: () => void): () => void {
  const demo = document.body.dataset.demo !== undefined;
  const key = keptAt(board.id);
  const kept = localStorage.getItem(key) as Kept | null;
  let open: boolean | null = demo ? false : null; // null: not known yet
  let listed = kept === "listed";
  const keep = (what: Kept): void => localStorage.setItem(key, what);

  const rows = h("ol", { class: "first-steps" });
  const list = new Rows<FirstStep>(
    rows,
    (s) => s.title,
    () => stepRow((to) => go(to)),
  );
  const summary = h("p", { role: "status" });
  let unfolded: boolean | null = null; // as the user wants it; null: as it comes
  const next = h("button", { type: "button", class: "small" });
  const fold = h("button", { type: "button", class: "link", "aria-controls": "first-steps-all" });
  const all = h("div", { id: "first-steps-all", class: "first-steps-all" }, rows);
  const skip = h("button", { type: "button", class: "link", onclick: () => close() });
  const note = h(
    "aside",
    { class: "note", id: "first-steps", "aria-labelledby": "first-steps-title" },
    h("h2", { id: "first-steps-title", class: "note-title" }, "From yard to parts list"),
    all,
    summary,
    h("p", { class: "acts" }, next, fold, skip),
  );
  next.addEventListener("click", () => {
    const [first] = firstSteps(board.plan, board.design, listed).filter((s) => !s.done);
    if (first) go(first.go);
  });
  fold.addEventListener("click", () => {
    unfolded = all.hidden === true;
    show();
  });

  const close = (): void => {
    keep("away");
    open = false;
    show();
    board.announce("First steps put away. The Plan menu brings them back.");
  };
  const go = (to: FirstStep["go"]): void => {
    if (to === "supply") supply();
    else if (to.startsWith("tab-")) byID(to).click();
    else drawing.commands.run(to as Parameters<typeof drawing.commands.run>[0], (why) => board.announce(why));
  };
  const show = (): void => {
    if (open === null) {
      open = opensWith(kept, board.plan, board.design);
      if (open && kept === null) keep("begun");
    }
    if (!open) {
      note.remove();
      return;
    }
    if (!note.isConnected) byID("findings").prepend(note);
    const steps = firstSteps(board.plan, board.design, listed);
    list.show(steps);
    const [first] = steps.filter((s) => !s.done);
    const found = (board.design?.findings ?? []).length > 0;
    const shown = unfolded ?? !(found || steps.some((s) => s.done));
    all.hidden = !shown;
    setAttr(note, "data-folded", !shown);
    setText(summary, howFar(steps));
    next.hidden = shown || !first;
    setText(next, first?.button ?? "");
    setText(fold, shown ? "Fewer" : "All steps");
    setAttr(fold, "aria-expanded", String(shown));
    setText(skip, first ? "Skip these" : "Put these away");
  };

  byID("first-steps-again").addEventListener("click", () => {
    keep(listed ? "listed" : "begun");
    open = true;
    unfolded = true;
    show();
    byID("tab-findings").click();
    note.scrollIntoView({ block: "nearest" });
  });
  const soon = atMostEvery(200, show);
  for (const topic of ["plan", "design"] as const) board.subscribe(topic, soon);
  show();
  return () => {
    if (!listed && !byID("parts").hidden) {
      listed = true;
      if (open) keep("listed");
    }
    show();
  };
}

function stepRow(go: (to: FirstStep["go"]) => void): Row<FirstStep> {
  let now: FirstStep | null = null;
  const tick = h("span", { class: "tick-mark", "aria-hidden": "true" });
  const title = h("strong");
  const state = h("span", { class: "unseen" });
  const says = h("span", { class: "says" });
  const button = h("button", { type: "button", class: "small", onclick: () => now && go(now.go) });
  const other = h("button", { type: "button", class: "small", onclick: () => now?.also && go(now.also.go) });
  const ways = h("span", { class: "ways" }, button, other);
  const el = h("li", {}, h("p", {}, tick, " ", title, state, h("br"), says), ways);
  return {
    el,
    update: (s) => {
      now = s;
      setAttr(el, "data-done", s.done);
      setText(tick, s.done ? "✓" : "○");
      setText(title, s.title);
      setText(state, s.done ? " (done)" : "");
      setText(says, s.says);
      setText(button, s.button);
      setText(other, s.also?.button ?? "");
      ways.hidden = s.done;
      other.hidden = s.also === undefined;
    },
  };
}

// Sentences the user should read: refusals, and what to do when two tabs
// changed the same plan.

import { type HistoryStep, server } from "../api";
import { ask, byID, h } from "../dom";
import { count } from "../names";
import type { Board } from "../state";
import { takesRoom } from "./toproom";

/** Shows the board's notice over the board until it is dismissed. */
export function showNotices(board: Board): void {
  const el = byID("notice");
  takesRoom(el, "--notice-room");
  board.subscribe("notice", () => {
    const n = board.notice;
    el.hidden = n === null;
    if (!n) {
      el.replaceChildren();
      return;
    }
    const more = (n.more ?? []).map((s) => h("li", {}, s));
    const close = h("button", { type: "button", class: "small", onclick: () => board.show(null) }, "Dismiss");
    el.dataset.kind = n.kind;
    const error = n.kind === "problem" ? h("span", { class: "unseen" }, "Error: ") : null;
    el.replaceChildren(
      h("div", {}, error, h("p", {}, n.sentence), more.length > 0 ? h("ul", {}, ...more) : null),
      close,
    );
  });
}

/** Asks what to do when the plan on disk moved on without this tab. */
export function settleConflicts(board: Board): void {
  let asking = false;
  board.subscribe("conflict", async () => {
    if (!board.conflict || asking) return;
    asking = true;
    const gone = board.conflict.status === 404;
    const answer = await ask(gone ? goneDialog(board) : changedDialog(board));
    asking = false;
    if (answer === "mine") {
      const id = await board.keepMine();
      if (id) location.assign(`/plans/${encodeURIComponent(id)}`);
    } else if (answer === "theirs") await board.takeTheirs();
    else if (answer === "leave") location.assign("/");
    if (board.conflict) showAgain(board);
  });
}

function showAgain(board: Board): void {
  const open = h(
    "button",
    { type: "button", class: "small", onclick: () => board.emit("conflict") },
    "Choose…",
  );
  const el = byID("notice");
  el.hidden = false;
  el.dataset.kind = "problem";
  el.replaceChildren(
    h("p", {}, "This plan was changed elsewhere. Your changes wait here until you choose."),
    open,
  );
}

function changedDialog(board: Board): HTMLDialogElement {
  const mine = count(board.saved.state === "yes" ? 0 : board.saved.count, "change");
  const theirs = h("span", { role: "status" }, "Theirs: being looked up.");
  void server.history(board.id).then((answer) => {
    theirs.textContent = answer.ok
      ? theirWords(answer.value.steps ?? [], board.rev)
      : "Theirs: not known now.";
  });
  return h(
    "dialog",
    { "aria-labelledby": "conflict-title", role: "alertdialog", "aria-describedby": "conflict-what" },
    h(
      "form",
      { method: "dialog", class: "form" },
      h("h2", { id: "conflict-title" }, "Someone else changed this plan"),
      h(
        "p",
        { id: "conflict-what" },
        `It was changed in another tab or window while you worked here. Nothing is lost: the plan on disk is as they left it, and your ${mine} are still here.`,
      ),
      h("ul", {}, h("li", {}, `Yours: ${mine} not stored yet.`), h("li", {}, theirs)),
      h(
        "p",
        { class: "acts" },
        choice("mine", "Keep mine as a copy", true),
        choice("theirs", "Take theirs, drop mine"),
      ),
      h("p", { class: "hint" }, "A copy becomes a plan of its own beside this one."),
    ),
  );
}

/** What was done elsewhere since a revision. Undoing and redoing make a revision but no step. */
export function theirWords(steps: readonly HistoryStep[], rev: number): string {
  const since = steps.filter((s) => s.rev > rev);
  const last = since.at(-1);
  if (!last) return `Theirs: steps taken back or made again since revision ${rev}.`;
  const which = since.length === 1 ? `“${last.label}”` : `the last “${last.label}”`;
  return `Theirs: ${count(since.length, "step")} since revision ${rev}, ${which}.`;
}

function goneDialog(board: Board): HTMLDialogElement {
  return h(
    "dialog",
    { "aria-labelledby": "conflict-title", role: "alertdialog", "aria-describedby": "conflict-what" },
    h(
      "form",
      { method: "dialog", class: "form" },
      h("h2", { id: "conflict-title" }, "This plan was deleted"),
      h(
        "p",
        { id: "conflict-what" },
        `“${board.plan.name}” was deleted in another tab. What you see is still here and can be kept.`,
      ),
      h(
        "p",
        { class: "acts" },
        choice("mine", "Keep it as a copy", true),
        choice("leave", "Go to the plans"),
      ),
    ),
  );
}

const choice = (value: string, label: string, main = false): HTMLElement =>
  h("button", { value, class: main ? "main" : null }, label);

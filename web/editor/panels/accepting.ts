// Accepting findings: the one dialog that asks for the reason, and for a name if
// one is to be kept.

import type { Finding } from "../design";
import { ask, h } from "../dom";
import { accept, civilDate, lastBy } from "../findings";
import { count } from "../names";
import type { Board } from "../state";
import { Control } from "./control";
import { cancel } from "./findings";

/** How many sentences the dialog repeats: its buttons stay in sight. */
const TOLD = 1;

/** Asks for the reason and accepts the findings in one step. */
export async function acceptWithReason(board: Board, list: readonly Finding[]): Promise<void> {
  const [first] = list;
  if (!first) return;
  const many = list.length > 1;
  const reason = new Control("Why it is fine here", "long", "printed with the plan", () => null);
  reason.input.setAttribute("rows", "3");
  const by = new Control("Your name", "text", "if it is to be kept", () => null);
  by.show({ value: lastBy(board.committed), mixed: false, choices: [] });
  const form = h("form", { method: "dialog", class: "form" });
  const dialog = h("dialog", { "aria-labelledby": "accept-title" }, form);
  const left = list.length - TOLD;
  form.append(
    h("h2", { id: "accept-title" }, many ? `Accept ${list.length} findings` : "Accept this finding"),
    many ? h("p", {}, h("strong", {}, first.title)) : "",
    h("ul", { class: "cases" }, ...list.slice(0, TOLD).map((f) => h("li", {}, f.sentence))),
    left > 0 ? h("p", { class: "hint" }, `and ${count(left, "more case", "more cases")} of the same.`) : "",
    reason.el,
    by.el,
    h(
      "p",
      { class: "hint" },
      "It stays accepted while its things move or change a little. It comes back when more things join it, or when it gets worse in rank.",
    ),
    h("p", { class: "acts" }, h("button", { value: "accept", class: "main" }, "Accept"), cancel()),
  );
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") !== "accept") return;
    if (reason.text.trim() !== "") return;
    e.preventDefault();
    reason.complain("The reason is empty. Type why this is fine on this plan, in a few words.");
    reason.input.focus();
  });
  if ((await ask(dialog)) !== "accept") return;
  const name = by.text.trim().slice(0, 200);
  const next = accept(board.committed, list, reason.text.trim().slice(0, 2000), civilDate(new Date()), name);
  void board.commit(many ? `Accept ${list.length} findings: ${first.title}` : `Accept: ${first.title}`, next);
  board.announce(`${many ? `${list.length} findings` : "Finding"} accepted: ${first.title}.`);
}

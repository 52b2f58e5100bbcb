// Steps a closed or crashed tab could not store: made again if the plan is as
// it was, else offered as a copy.

import { ask, h } from "../dom";
import type { Kept, TabJournal } from "../journal";
import { count } from "../names";
import type { Board } from "../state";

/** again: makes the steps where the plan has moved on since, if that can be done; null when it cannot. */
export async function bringBack(
  board: Board,
  journal: TabJournal,
  again: (kept: Kept) => number | null = () => null,
): Promise<void> {
  for (const { kept, forget } of await journal.left()) {
    const changes = count(kept.steps.length, "change");
    const back = board.resume(kept) ?? again(kept);
    if (back !== null) {
      const sentence = `${count(back, "change")} from last time had not been stored. They are back.`;
      if (back > 0) board.show({ kind: "hint", sentence });
      await forget(); // they are in this tab's own journal by now
      continue;
    }
    const answer = await ask(dialog(changes));
    if (answer === "drop") await forget();
    if (answer !== "copy") continue; // left for the next time
    const name = `${kept.doc.name} (kept)`;
    const made = await board.api.create(name, kept.doc.show, { ...kept.doc, name });
    if (made.ok) await forget();
    const sentence = made.ok ? `Kept as a plan of its own: ${name}.` : made.error;
    board.show({ kind: made.ok ? "hint" : "problem", sentence });
  }
}

function dialog(changes: string): HTMLDialogElement {
  return h(
    "dialog",
    { "aria-labelledby": "left-title" },
    h(
      "form",
      { method: "dialog", class: "form" },
      h("h2", { id: "left-title" }, `${changes} from last time`),
      h(
        "p",
        {},
        "They were kept in this browser because they could not be stored, and the plan was changed since. They can become a plan of their own.",
      ),
      h(
        "p",
        { class: "acts" },
        h("button", { value: "copy", class: "main" }, "Keep as a copy"),
        h("button", { value: "drop" }, "Drop them"),
      ),
    ),
  );
}

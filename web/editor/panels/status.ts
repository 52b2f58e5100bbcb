// The place of the pointer and the water there.

import { server } from "../api";
import { atMostEvery, byID, setText } from "../dom";
import type { Drawing } from "../drawing";
import type { Heat } from "../heat";
import type { Board } from "../state";

/** Shows where the pointer is and, by asking the server about ten times a second, what falls there. */
export function showPointer(board: Board, drawing: Drawing, heat: Heat): void {
  const where = byID("where");
  const under = byID("under");
  let underway = false;
  const ask = async (): Promise<void> => {
    const at = drawing.pointer?.at;
    const stored = board.saved.state === "yes" && !board.drafting;
    if (!at || !heat.on || !stored || board.away || underway) {
      if (!at || !heat.on || board.away) setText(under, "");
      return;
    }
    underway = true;
    const as = board.whatIf?.as ?? "";
    const answer = await server.rate(board.id, at[0], at[1], as);
    underway = false;
    const same = as === (board.whatIf?.as ?? ""); // the map shows what was asked about
    setText(under, answer.ok && same && !board.away ? answer.value.text : "");
    if (drawing.pointer && drawing.pointer.at !== at) soon();
  };
  const soon = atMostEvery(100, () => void ask());
  board.subscribe("hover", () => {
    setText(where, drawing.pointer?.text ?? "");
    soon();
  });
  for (const topic of ["design", "whatif", "away"] as const) board.subscribe(topic, soon);
}

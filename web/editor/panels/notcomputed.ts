// Beside figures that are not of what is drawn any more: that the server is away
// and these are from before.

import { stopped } from "../api";
import { byID, h } from "../dom";
import type { Board } from "../state";

/** Says so in the side and under the board, where tables keep their last figures. */
export function sayNotComputed(board: Board): void {
  const notes = ["side", "drawer"].map((id) => {
    const p = h("p", { class: "away", hidden: true }, `${stopped}. What stands here is from before.`);
    byID(id).querySelector(".tabs")?.after(p);
    return p;
  });
  const show = (): void => {
    for (const p of notes) p.hidden = !board.away;
  };
  board.subscribe("away", show);
  show();
}

// Deleting from a panel: what stays is said to.

import { deletion } from "../deleting";
import type { Ref } from "../model";
import type { Board } from "../state";

export function removeThings(board: Board, refs: readonly Ref[]): void {
  const d = deletion(board.committed, refs, board.layers);
  if ("why" in d) {
    board.show({ kind: "hint", sentence: d.why });
    return;
  }
  void board.commit(d.label, d.plan);
  board.announce(d.says);
}

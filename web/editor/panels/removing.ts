// Deleting from a panel: what is locked stays, and is said to.

import { deleteThings } from "../edit";
import { isFree } from "../layers";
import { whyLocked } from "../lockwords";
import type { Ref } from "../model";
import { capital, count, namesOf } from "../names";
import type { Board } from "../state";

export function removeThings(board: Board, refs: readonly Ref[]): void {
  const base = board.committed;
  const free = refs.filter((r) => isFree(base, r, board.layers));
  const locked = refs.length - free.length;
  if (free.length === 0) {
    board.show({ kind: "hint", sentence: whyLocked(base, refs, board.layers) });
    return;
  }
  const names = namesOf(base, free);
  void board.commit(`Delete ${names}`, deleteThings(base, free));
  const left = locked > 0 ? ` ${count(locked, "locked thing")} left alone.` : "";
  board.announce(`${capital(names)} deleted. Undo brings it back.${left}`);
}

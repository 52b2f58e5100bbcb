// Sizes for the pipes, sought by the server and offered: what changes, what it
// costs and what a solution with them shows. Nothing is changed until the offer is
// taken, and then by one step.

import { planURL } from "./api";
import { type AskLong, type Ground, notStored, takeStep, whenStored } from "./asking";
import { askLong } from "./longwork";
import { apply, type Patch } from "./model";
import { count } from "./names";

/** What the server answers; the Go type is web.SizesView. */
export interface Sizes {
  rev: number;
  /** False: there are none, and says tells why. */
  offered: boolean;
  says: string;
  patch?: Patch;
  label: string;
  groups: SizeGroup[];
  changes: { name: string; from: string; to: string }[];
  before: string;
  after: string;
  holds: boolean;
  checks: { says: string; good: boolean }[];
  notes: string[];
  caution: string;
}

export interface SizeGroup {
  where: string;
  from: string;
  to: string;
  pipes: number;
  length: string;
  flow: string;
  velocity: string;
}

/** Asks for sizes of the plan as it is stored, once all that was done is; null when there is nothing to show. */
export async function askSizes(board: Ground, ask: AskLong<Sizes> = askLong): Promise<Sizes | null> {
  if (!(await whenStored(board))) {
    board.show({
      kind: "hint",
      sentence: notStored(board, "Sizes are sought"),
    });
    return null;
  }
  board.announce("Seeking pipe sizes.");
  const answer = await board.longWork.run<Sizes>("Seeking pipe sizes", (off, tell) =>
    ask(`${planURL(board.id)}/sizes?rev=${board.rev}`, off, tell),
  );
  if (answer?.ok) return answer.value;
  board.show({
    kind: "hint",
    sentence: answer ? answer.error : "Seeking sizes was called off. Nothing is changed.",
  });
  return null;
}

/** Takes an offer as one step; not when the plan has changed since. */
export async function takeSizes(board: Ground, s: Sizes): Promise<boolean> {
  if (!s.patch) return false;
  const says = `${count(s.changes.length, "pipe")} sized. Undo takes it back.`;
  return takeStep(board, s.rev, { label: s.label, plan: apply(board.committed, s.patch), says });
}

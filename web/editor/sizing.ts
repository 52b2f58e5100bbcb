// Sizes for the pipes, sought by the server and offered: what changes, what it
// costs and what a solution with them shows. Nothing is changed until the offer is
// taken, and then by one step.

import { type Outcome, planURL } from "./api";
import type { Notice } from "./desk";
import { askLong, type LongWork, type Told } from "./longwork";
import { apply, type Patch, type Plan } from "./model";
import { count } from "./names";
import type { Saved } from "./state";

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

/** What is used of the board. */
export interface Ground {
  readonly id: string;
  readonly rev: number;
  readonly away: boolean;
  readonly saved: Saved;
  readonly committed: Plan;
  readonly longWork: LongWork;
  flush(): void;
  subscribe(topic: "saved", fn: () => void): () => void;
  show(notice: Notice | null): void;
  announce(text: string): void;
  commit(label: string, next: Plan): Promise<unknown>;
}

type Ask = (url: string, off: AbortSignal, tell: (t: Told) => void) => Promise<Outcome<Sizes> | null>;

/** Asks for sizes of the plan as it is stored, once all that was done is; null when there is nothing to show. */
export async function askSizes(board: Ground, ask: Ask = askLong): Promise<Sizes | null> {
  if (!(await stored(board))) {
    board.show({
      kind: "hint",
      sentence: "Sizes are sought for the plan as it is stored. Ask again when it says Saved.",
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

/** Waits while steps are on their way; false when they are not stored. */
function stored(board: Ground): Promise<boolean> {
  board.flush();
  const settled = (): boolean | null => {
    const { state } = board.saved;
    if (board.away || state === "no" || state === "conflict") return false;
    return state === "yes" ? true : null;
  };
  const now = settled();
  if (now !== null) return Promise.resolve(now);
  return new Promise((done) => {
    const off = board.subscribe("saved", () => {
      const then = settled();
      if (then === null) return;
      off();
      done(then);
    });
  });
}

/** Takes an offer as one step; not when the plan has changed since. */
export async function takeSizes(board: Ground, s: Sizes): Promise<boolean> {
  if (!s.patch) return false;
  if (s.rev !== board.rev || board.saved.state !== "yes") {
    board.show({
      kind: "hint",
      sentence: "The plan has changed since these sizes were sought. Ask for sizes again.",
    });
    return false;
  }
  const made = board.commit(s.label, apply(board.committed, s.patch));
  board.announce(`${count(s.changes.length, "pipe")} sized. Undo takes it back.`);
  await made;
  return true;
}

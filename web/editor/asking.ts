// What every search that is asked of the server needs of the board: the plan
// stored as it is drawn, and one step made of what was found.

import { type Outcome, stopped } from "./api";
import type { Notice } from "./desk";
import type { LongWork, Told } from "./longwork";
import type { Plan } from "./model";
import type { Saved } from "./state";

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

/** The same, with what an offer is shown by. */
export interface Stage extends Ground {
  readonly plan: Plan;
  preview(next: Plan): void;
  cancel(): void;
}

/** Asks an address for a work told in lines; null when it was called off. */
export type AskLong<T> = (
  url: string,
  off: AbortSignal,
  tell: (t: Told) => void,
) => Promise<Outcome<T> | null>;

/** Waits while steps are on their way; false when they are not stored. */
export function whenStored(board: Ground): Promise<boolean> {
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

/** What is said when the plan is not stored, so that nothing can be sought: "Heads are arranged" and so on. */
export const notStored = (board: Pick<Ground, "away">, work: string): string =>
  board.away
    ? `${stopped}, then ask again.`
    : `${work} on the plan as it is stored. Ask again when it says Saved.`;

/** Whether what was found for a revision is of what is drawn now. */
export const isOf = (rev: number, board: Pick<Ground, "rev" | "saved">): boolean =>
  rev === board.rev && board.saved.state === "yes";

// What every search that is asked of the server has in common: the plan stored as
// it is drawn, its course from the asking to the answer, and one step made of what
// was found.

import { type Outcome, planURL, stopped } from "./api";
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

/** Why what was found is neither shown nor taken. */
export const stale = "The plan has changed since this was found. Ask again.";

/** Takes what was found for a revision as one step, and says so; false, with a hint, when the plan has changed since. */
export async function takeStep(
  board: Ground,
  rev: number,
  step: { label: string; plan: Plan; says: string },
): Promise<boolean> {
  if (!isOf(rev, board)) {
    board.show({ kind: "hint", sentence: stale });
    return false;
  }
  const made = board.commit(step.label, step.plan);
  board.announce(step.says);
  await made;
  return true;
}

/** How a search came to its end. */
export interface End<V> {
  /** The answer; of a search that did not come to its end the best so far, if it told any. */
  readonly view: V | null;
  /** Why it did not come to its end; "" when it did. */
  readonly why: string;
  /** It was stopped, by the user or because the plan was changed. */
  readonly stopped: boolean;
}

/**
 * A question that takes long, asked again and again by one panel: one search at a
 * time, of the plan as it is stored. It ends by itself, is stopped, or is dropped;
 * where it tells the best answer so far, that is what a stopped one leaves.
 */
export class Search<V> {
  /** How far it is. */
  told = { step: "", share: 0 };
  #off: AbortController | null = null;
  #rev: number | null = null; // what it seeks for; null: not asked yet
  #overtaken = false;

  /**
   * of: the last part of its address; title: as its bar is headed, "Seeking mends";
   * work: the beginning of what is said when nothing can be sought, "Mends are sought".
   */
  constructor(
    readonly board: Ground,
    readonly words: { readonly of: string; readonly title: string; readonly work: string },
    readonly changed: () => void,
    readonly ask: AskLong<V>,
  ) {}

  get title(): string {
    return this.words.title;
  }

  get underway(): boolean {
    return this.#off !== null;
  }

  /** Seeks; null when it was dropped or another began meanwhile: then what it found is nobody's. */
  async seek(question: string, better: (best: V) => void = () => {}): Promise<End<V> | null> {
    this.drop();
    const off = new AbortController();
    this.#off = off;
    this.told = { step: "", share: 0 };
    this.changed();
    const { board, words } = this;
    const stored = await whenStored(board);
    if (this.#off !== off) return null;
    let best: V | null = null;
    let answer: Outcome<V> | null = null;
    if (stored && !off.signal.aborted) {
      this.#rev = board.rev;
      const url = `${planURL(board.id)}/${words.of}?rev=${board.rev}${question && `&${question}`}`;
      answer = await board.longWork.run<V>(
        words.title,
        (stop, tell) =>
          this.ask(url, stop, (t) => {
            if (this.#off !== off) return;
            tell(t);
            this.told = { step: t.step, share: t.share };
            if (t.best === undefined) return this.changed();
            best = t.best as V;
            better(best);
          }),
        off.signal,
        true,
      );
      if (this.#off !== off) return null;
    }
    const overtaken = this.#overtaken;
    this.#forget();
    if (answer?.ok) return { view: answer.value, why: "", stopped: false };
    const why = !stored
      ? notStored(board, words.work)
      : (answer?.error ??
        (overtaken
          ? `${words.title} was stopped: the plan was changed. Ask again.`
          : `${words.title} was stopped. Nothing is changed.`));
    return { view: best, why, stopped: stored && answer === null };
  }

  /** Ends it, with the best so far. */
  stop(): void {
    this.#off?.abort();
  }

  /** Ends it, with nothing. */
  drop(): void {
    const off = this.#off;
    this.#forget();
    off?.abort();
  }

  /** To be called when the plan was changed or stored: a search for what it was is stopped. */
  look(): void {
    if (this.#rev === null || isOf(this.#rev, this.board)) return;
    this.#overtaken = true;
    this.stop();
  }

  #forget(): void {
    this.#off = null;
    this.#rev = null;
    this.#overtaken = false;
  }
}
